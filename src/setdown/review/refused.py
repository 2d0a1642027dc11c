"""Why an edit cannot be: with the field and the value, so that a page or a sheet can show it where it was typed."""

from __future__ import annotations

from setdown.errors import SetdownError


class EditRefusedError(SetdownError):
    """An edit that would not make sense, or would leave a routine that is not valid.

    Attributes:
        field: the field of the set (a column of the sheet) or the thing that the edit is about.
        value: what was given, as it was typed.
        set: id of the set, empty when it is about none.
    """

    def __init__(
        self, problem: str, *, field: str = "", value: str = "", set: str = "", expected: str = "", hint: str = ""
    ) -> None:
        super().__init__(problem, expected=expected, hint=hint)
        self.field = field
        self.value = value
        self.set = set


class RevisionConflictError(SetdownError):
    """Somebody else saved in between: nothing was written.

    Attributes:
        ours: the revision that the change was made on.
        theirs: the revision that the file holds now.
        by: who saved it, empty when it was not saved by Setdown.
    """

    def __init__(self, problem: str, *, ours: int, theirs: int, by: str, source: str = "", hint: str = "") -> None:
        super().__init__(problem, source=source, hint=hint)
        self.ours = ours
        self.theirs = theirs
        self.by = by
