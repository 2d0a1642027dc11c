"""The one error the project raises for input it cannot use.

It carries data rather than a sentence, so that a command, a batch or a test can show what it needs.
"""

from __future__ import annotations


class SetdownError(Exception):
    """Something given to Setdown could not be used.

    Attributes:
        problem: what is wrong, in one short sentence without a full stop.
        source: the file (or ``<stdin>``) it is about, empty when there is none.
        line: 1-based line in that file, ``None`` when no single line is to blame.
        expected: what would have been right, empty when that is plain from the problem.
        hint: what the user can do next, empty when there is nothing useful to say.
    """

    def __init__(
        self, problem: str, *, source: str = "", line: int | None = None, expected: str = "", hint: str = ""
    ) -> None:
        super().__init__(problem)
        self.problem = problem
        self.source = source
        self.line = line
        self.expected = expected
        self.hint = hint

    def __str__(self) -> str:
        where = self.source + (f":{self.line}" if self.line is not None else "")
        text = f"{where}: {self.problem}" if where else self.problem
        if self.expected:
            text += f"; expected {self.expected}"
        if self.hint:
            text += f". {self.hint}"
        return text
