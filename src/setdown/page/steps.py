"""What was done to a routine, step by step, there and back."""

from __future__ import annotations

from dataclasses import dataclass

from pydantic import TypeAdapter

from setdown.errors import SetdownError
from setdown.model.routine import Mark, Routine
from setdown.page import bodies
from setdown.page.journal import Line
from setdown.page.perform import Hand, perform_edit

EDIT: TypeAdapter[bodies.Edit] = TypeAdapter(bodies.Edit)


@dataclass(frozen=True, slots=True)
class Step:
    """One change that can be undone."""

    before: Routine
    after: Routine
    what: str


class Steps:
    """A routine and the way to it. ``what_since`` says what was done since the last save, for the edit log."""

    def __init__(self, routine: Routine) -> None:
        self.routine = routine
        self.done: list[Step] = []
        self.undone: list[Step] = []
        self.what_since: list[str] = []

    def add(self, after: Routine, what: str) -> None:
        """Go on to another state of the routine."""
        self.done.append(Step(self.routine, after, what))
        self.undone = []
        self.what_since.append(what)
        self.routine = after

    def find_undo(self) -> Step:
        """The step that ``undo`` would take back. Raises ``SetdownError`` at the first."""
        if not self.done:
            raise SetdownError("there is nothing to undo")
        return self.done[-1]

    def find_redo(self) -> Step:
        """The step that ``redo`` would do again. Raises ``SetdownError`` at the last."""
        if not self.undone:
            raise SetdownError("there is nothing to do again")
        return self.undone[-1]

    def undo(self) -> None:
        """Go back one step. Raises like ``find_undo``."""
        step = self.find_undo()
        self.undone.append(self.done.pop())
        self._note(step.what, f"undone: {step.what}")
        self.routine = step.before

    def redo(self) -> None:
        """Go on one step that was undone. Raises like ``find_redo``."""
        step = self.find_redo()
        self.done.append(self.undone.pop())
        self._note(f"undone: {step.what}", step.what)
        self.routine = step.after

    def replay(self, lines: list[Line], lexicon: Hand) -> list[str]:
        """Do the lines of a journal again; the reasons of those that no longer fit."""
        refused = []
        for line in lines:
            try:
                self._replay_line(line, lexicon)
            except SetdownError as error:
                refused.append(error.problem)
            except ValueError:
                refused.append("a line that cannot be read")
        return refused

    def _replay_line(self, line: Line, lexicon: Hand) -> None:
        if "edit" in line:
            mark = Mark.model_validate({"by": line.get("by"), "at": line.get("at")})
            done = perform_edit(self.routine, EDIT.validate_python(line["edit"]), mark, lexicon)
            if done.routine is not self.routine:
                self.add(done.routine, done.what)
        elif "undo" in line:
            self.undo()
        elif "redo" in line:
            self.redo()
        elif "state" in line:
            self.add(Routine.model_validate(line["state"]), str(line.get("what") or "taken up again"))

    def _note(self, takes_back: str, what: str) -> None:
        if self.what_since and self.what_since[-1] == takes_back:
            self.what_since.pop()
        else:
            self.what_since.append(what)
