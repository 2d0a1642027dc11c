"""Take back one revision and keep what came after it."""

from __future__ import annotations

from setdown.errors import SetdownError
from setdown.model.routine import Routine
from setdown.review.history import log_path, read_history, rebuild_revision
from setdown.review.merge import merge_routines
from setdown.review.settle import make_draft
from setdown.review.store import OpenRoutine


def undo_revision(opened: OpenRoutine, number: int) -> Routine:
    """The opened routine without what a revision changed. What was changed since then stays.

    Raises:
        SetdownError: there is no such revision, or what it changed was changed again since.
    """
    revisions = read_history(opened.path)
    source = str(log_path(opened.path))
    if not 1 <= number < len(revisions):
        expected = f"a revision from 1 to {len(revisions) - 1}" if len(revisions) > 1 else "a routine that was edited"
        raise SetdownError(f"there is no revision {number} to undo", source=str(opened.path), expected=expected)
    before = rebuild_revision(revisions, number - 1, source)
    after = rebuild_revision(revisions, number, source)
    merged = merge_routines(after, opened.routine, before)
    if merged.clashes:
        first = merged.clashes[0]
        problem = f"revision {number} cannot be undone alone: {first.message}"
        raise SetdownError(problem, source=str(opened.path), hint="Undo the later revision first")
    return make_draft(merged.routine)
