"""Open and save a routine's file with its edit log: whole or not at all, and never over somebody else's edit.

    opened = open_routine(path)
    routine = set_field(opened.routine, ...)
    opened = save_routine(opened, routine, mark, ["set 7: load 16 -> 14 kg"])

The log's line is written first, then the file. A process that is stopped in between leaves the old file; the next one
to save notes in the log that the revision had not reached it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from setdown.check import parse_routine
from setdown.document import format_routine
from setdown.files import read_text, write_file
from setdown.model.routine import Mark, Routine
from setdown.review.history import (
    OUTSIDE,
    LogFile,
    Revision,
    fingerprint,
    log_path,
    open_log,
    read_history,
    read_last_revision,
    rebuild_revision,
)
from setdown.review.refused import RevisionConflictError


@dataclass(frozen=True, slots=True)
class OpenRoutine:
    """A routine as it was read: ``revision`` counts its saved edits, ``fingerprint`` says exactly which state it is.

    ``written`` is the digest of the file, so that one that nobody touched need not be checked again.
    """

    path: Path
    routine: Routine
    revision: int
    fingerprint: str
    written: str


def open_routine(path: Path) -> OpenRoutine:
    """Read a routine's file and the number of its revision (0 when it was never edited).

    Raises:
        SetdownError: the file does not hold a routine (with the line), or its log is broken.
        OSError: the file or its log cannot be read.
    """
    text = read_text(path)
    routine = parse_routine(text, str(path))
    mine = fingerprint(routine)
    return OpenRoutine(path, routine, _count_revisions(read_last_revision(path), mine), mine, _digest(text))


def save_routine(
    opened: OpenRoutine, routine: Routine, mark: Mark, what: Sequence[str], *, undoes: int | None = None
) -> OpenRoutine:
    """Save a routine that was made from an opened one; a routine that is the same is not saved.

    Raises:
        RevisionConflictError: the file is not what was opened; nothing was written.
        SetdownError: the file holds no routine any more, or the log is broken.
        OSError: the file or the log cannot be written.
    """
    with open_log(opened.path) as log:
        text = read_text(opened.path)
        same = _digest(text) == opened.written
        now = opened.routine if same else parse_routine(text, str(opened.path))
        last = _catch_up(log, opened.path, now, opened.fingerprint if same else fingerprint(now), mark)
        if last.after != opened.fingerprint:
            raise _refuse(opened, last)
        if fingerprint(routine) == last.after:
            return OpenRoutine(opened.path, now, last.number, last.after, _digest(text))
        made = log.add(last, now, routine, mark, what, undoes=undoes)
        text = format_routine(routine)
        write_file(opened.path, text.encode(), replace=True)
    return OpenRoutine(opened.path, routine, made.number, made.after, _digest(text))


def read_revision(path: Path, number: int) -> Routine:
    """The routine as it was after a revision; 0 is the routine before the first edit.

    Raises:
        SetdownError: there is no such revision, or the log is broken.
    """
    return rebuild_revision(read_history(path), number, str(log_path(path)))


def _count_revisions(last: Revision | None, mine: str) -> int:
    if last is None or last.after == mine:
        return last.number if last else 0
    return last.number + (-1 if last.before == mine else 1)  # did not reach the file, or was changed outside


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def _catch_up(log: LogFile, path: Path, now: Routine, mine: str, mark: Mark) -> Revision:
    """The log's last revision, after the log was brought up to what the file holds."""
    last = log.last()
    if last is None:
        return log.start(now, mark)
    if last.after == mine:
        return last
    what = f"revision {last.number} did not reach the file" if last.before == mine else OUTSIDE
    return log.add(last, read_revision(path, last.number), now, mark, [what], outside=True)


def _refuse(opened: OpenRoutine, last: Revision) -> RevisionConflictError:
    who = f"by {last.by}" if last.by else "outside Setdown"
    problem = f"the routine was changed {who} since it was opened (revision {opened.revision}, now {last.number})"
    hint = "Open it again, or merge the two"
    return RevisionConflictError(
        problem, ours=opened.revision, theirs=last.number, by=last.by, source=str(opened.path), hint=hint
    )
