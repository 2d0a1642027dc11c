"""The routine that lies open: every change on a known revision, on disk before it is answered, undone step by step.

Two windows look at one desk. Each change names the revision that its window saw; when another window was first, nothing
is done and ``StaleRevisionError`` says what happened in between. Saving goes through the routine's edit log, which
guards against a file that was changed outside.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from functools import cached_property
from pathlib import Path
from threading import RLock

from setdown.errors import SetdownError
from setdown.lexicon import Lexicon, load_lexicon
from setdown.model.routine import Mark, Routine
from setdown.model.transcript import Transcript
from setdown.page import bodies
from setdown.page.compare import describe_comparison, read_other
from setdown.page.find import MovementNames
from setdown.page.head import describe_head, describe_kept
from setdown.page.journal import Journal, name_journal
from setdown.page.perform import perform_edit
from setdown.page.steps import Steps
from setdown.page.view import View, describe_difference, describe_routine
from setdown.review.history import fingerprint
from setdown.review.merge import merge_routines
from setdown.review.refused import RevisionConflictError
from setdown.review.signing import sign_off
from setdown.review.store import open_routine, read_revision, save_routine


class StaleRevisionError(Exception):
    """A change was asked for on a revision that is no longer the newest, or (``file``) the file was changed outside."""

    def __init__(self, message: str, revision: int, *, file: bool = False) -> None:
        super().__init__(message)
        self.revision = revision
        self.file = file


def read_clock() -> str:
    """The time of day in UTC, to the second, as marks hold it."""
    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


class Desk:
    """One routine under review, by one person, in any number of windows.

    Raises, when made:
        SetdownError: not a routine, or it is being reviewed in another run.
        OSError: the file cannot be read, or its folder not written.
    """

    def __init__(
        self,
        path: Path,
        *,
        by: str,
        find_transcript: Callable[[Routine], Transcript | None] = lambda routine: None,
        lexicon_files: tuple[Path, ...] = (),
        clock: Callable[[], str] = read_clock,
    ) -> None:
        self.by = by
        self.revision = 1
        self._clock = clock
        self._lexicon_files = lexicon_files
        self._lock = RLock()
        self._opened = open_routine(path)
        self._steps = Steps(self._opened.routine)
        self.transcript = find_transcript(self.routine)
        self._journal = Journal(name_journal(path), self._opened.fingerprint)
        self._undoable = self._redoable = 0  # steps that the journal can go by itself

    @property
    def routine(self) -> Routine:
        """The routine as it is now, saved or not."""
        return self._steps.routine

    @cached_property
    def lexicon(self) -> Lexicon:
        """Loaded when first needed; the command does so in the background."""
        return load_lexicon(self._lexicon_files)

    @cached_property
    def _movement_names(self) -> MovementNames:
        return MovementNames(self.lexicon)

    def warm_up(self) -> None:
        """Load what the first edit will need; for a thread in the background."""
        self.find_movements("squat")
        self.lexicon.look_up("squat")

    def find_movements(self, text: str) -> list[str]:
        """Names of movements to choose from, the likeliest first."""
        return self._movement_names.find(text)

    def describe(self) -> View:
        """Everything that the page shows."""
        with self._lock:
            kept = describe_kept(self._journal.kept, self._journal.fits)
            return {**self._head(), **describe_routine(self.routine), "kept": kept}

    def compare(self, body: bodies.CompareBody) -> View:
        """What differs from the extraction, the last save, or the text of another routine file.

        Raises:
            SetdownError: the text is not a routine.
        """
        with self._lock:
            now, saved = self.routine, self._opened
        if body.routine is not None:
            return describe_comparison(read_other(body.routine, body.name), now, body.name)
        if body.against == "saved":
            return describe_comparison(saved.routine, now, "the last save")
        first = read_revision(saved.path, 0) if saved.revision else saved.routine
        return describe_comparison(first, now, "the extraction")

    def edit(self, edit: bodies.Edit, revision: int) -> View:
        """Do one edit. Raises ``StaleRevisionError``, or ``SetdownError`` for an edit that cannot be."""
        with self._lock:
            self._expect(revision)
            mark = self._mark()
            before = self.routine
            done = perform_edit(before, edit, mark, lambda: self.lexicon)
            if done.routine is before:
                return {**self._head(), "message": "Nothing changed."}
            self._journal.write({"edit": edit.model_dump(mode="json"), "by": mark.by, "at": mark.at})
            self._undoable, self._redoable = self._undoable + 1, 0
            self._steps.add(done.routine, done.what)
            return {**self._show(before, done.what + "."), "select": done.set}

    def undo(self, revision: int) -> View:
        """Take back the last change. Raises ``StaleRevisionError``; ``SetdownError`` when there is none."""
        with self._lock:
            self._expect(revision)
            step = self._steps.find_undo()
            self._write_step("undo", step.before, self._undoable > 0)
            self._steps.undo()
            return self._show(step.after, f"undone: {step.what}.")

    def redo(self, revision: int) -> View:
        """Do again what was undone last. Raises like ``undo``."""
        with self._lock:
            self._expect(revision)
            step = self._steps.find_redo()
            self._write_step("redo", step.after, self._redoable > 0)
            self._steps.redo()
            return self._show(step.before, f"done again: {step.what}.")

    def save(self, revision: int) -> View:
        """Write the routine and its log. Raises ``StaleRevisionError`` when the file was changed outside."""
        with self._lock:
            self._expect(revision)
            self._save()
            return {**self._head(), "message": f"Saved, revision {self._opened.revision} of the file."}

    def sign_off(self, by: str, revision: int) -> View:
        """Sign the routine as reviewed, and save it. Raises like ``save``, and while a query must be answered."""
        with self._lock:
            self._expect(revision)
            mark = Mark(by=by.strip() or self.by, at=self._clock())
            before = self.routine
            signed = sign_off(before, "reviewed", mark)
            if signed is not before:
                self._go_to(signed, f"signed off by {mark.by}")
            try:
                self._save()
            except (SetdownError, StaleRevisionError, OSError):
                self._go_to(before, "sign-off taken back")
                raise
            return self._show(before, f"Signed off by {mark.by}, and saved.")

    def rejoin(self, revision: int) -> View:
        """Bring the edits here together with a file that was changed outside; the outcome is not saved yet."""
        with self._lock:
            self._expect(revision)
            before = self.routine
            theirs = open_routine(self._opened.path)
            together = merge_routines(self._opened.routine, before, theirs.routine)
            merged = together.routine
            self._opened = theirs
            self._journal.write({"file": theirs.fingerprint, "state": merged.model_dump(mode="json")})
            self._undoable = self._redoable = 0
            self._steps.add(merged, "brought together with the file")
            clashes = len(together.clashes)
            asked = (
                f"{clashes} {'query asks' if clashes == 1 else 'queries ask'} which is right" if clashes else "no clash"
            )
            return self._show(before, f"Both are together now, {asked}. Not saved yet.")

    def take_kept(self, take: bool, revision: int) -> View:
        """Take up what an earlier run left unsaved, or set it aside in a file of its own."""
        with self._lock:
            self._expect(revision, kept=True)
            if not self._journal.kept:
                raise SetdownError("there are no unsaved edits of an earlier run")
            before = self.routine
            if not take:
                aside = self._journal.set_aside()
                self._journal.restart(self._opened.fingerprint)
                return {**self._head(), "message": f"Set aside in {aside.name}."}
            refused = self._steps.replay(self._journal.kept, lambda: self.lexicon)
            message = "Taken up again; not saved yet."
            if refused:
                aside = self._journal.set_aside()
                message = f"{len(refused)} of them no longer fit ({refused[0]}); all are kept in {aside.name}."
            self._journal.write({"file": self._opened.fingerprint, "state": self.routine.model_dump(mode="json")})
            self._journal.kept = []
            return self._show(before, message)

    def close(self) -> None:
        """Let go of the routine; edits that are not saved stay in the journal."""
        with self._lock:
            self._journal.close()

    def _mark(self) -> Mark:
        return Mark(by=self.by, at=self._clock())

    def _expect(self, revision: int, *, kept: bool = False) -> None:
        if revision != self.revision:
            last = f" ({self._steps.done[-1].what})" if self._steps.done else ""
            message = f"The class was changed in another window in the meantime{last}. Your change was not made."
            raise StaleRevisionError(message, self.revision)
        if self._journal.kept and not kept:
            raise SetdownError("first take up the edits that were never saved, or set them aside")

    def _go_to(self, routine: Routine, what: str) -> None:
        self._journal.write({"state": routine.model_dump(mode="json"), "what": what})
        self._undoable = self._redoable = 0
        self._steps.add(routine, what)

    def _write_step(self, word: str, goal: Routine, alone: bool) -> None:
        if not alone:
            self._journal.write({"state": goal.model_dump(mode="json")})
            self._undoable = self._redoable = 0
            return
        self._journal.write({word: True})
        by = 1 if word == "redo" else -1
        self._undoable, self._redoable = self._undoable + by, self._redoable - by

    def _save(self) -> None:
        what = self._steps.what_since or ["saved"]
        self._journal.write({"saving": fingerprint(self.routine)})
        try:
            self._opened = save_routine(self._opened, self.routine, self._mark(), what)
        except RevisionConflictError as error:
            message = f"{error.problem[:1].upper()}{error.problem[1:]}. Nothing was written; your edits are kept."
            raise StaleRevisionError(message, self.revision, file=True) from error
        self._journal.restart(self._opened.fingerprint)
        self._undoable = self._redoable = 0
        self._steps.what_since = []

    def _show(self, before: Routine, message: str) -> View:
        self.revision += 1
        return {
            **self._head(),
            **describe_difference(before, self.routine),
            "message": message[:1].upper() + message[1:],
        }

    def _head(self) -> View:
        unsaved = 0 if self.routine == self._opened.routine else max(1, len(self._steps.what_since))
        return {"revision": self.revision, "head": describe_head(self._steps, unsaved, self.by)}
