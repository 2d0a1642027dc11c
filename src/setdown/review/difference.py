"""What differs between two routines, as data. Published as JSON (``setdown schema --diff``)."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from setdown.model.routine import Part, Seconds

DIFF_SCHEMA_ID = "urn:setdown:schema:diff:1.0"

SetFate = Literal["changed", "added", "removed"]
Number = Annotated[int, Field(ge=1)]


class FieldChange(Part):
    """A value before and after, as a cell of the set sheet shows it; empty when there is none."""

    field: str
    before: str
    after: str


class SetDifference(Part):
    """One set. ``number`` counts sets through the class, ``at`` is its start; of the new routine where it is in it."""

    fate: SetFate
    exercise: str
    round: int
    rounds: int
    side: str
    old_number: Number | None = None
    new_number: Number | None = None
    old_id: str = ""
    new_id: str = ""
    at: Seconds
    after_s: Seconds | None = None  # end of the set before it, None for the first one of the class
    changes: list[FieldChange] = Field(default_factory=list)


class GroupDifference(Part):
    """One group, by its number in the class; of the old routine only when it is gone."""

    old_number: Number | None = None
    new_number: Number | None = None
    changes: list[FieldChange]


class QueryDifference(Part):
    """A query that is new, gone, answered, dismissed or asked again."""

    code: str
    field: str
    set_number: Number | None = None  # in the new routine, or in the old one when the query is gone
    exercise: str = ""
    before: str  # "" when it is new, else its state
    after: str  # "" when it is gone, else its state
    answer: str = ""


class RoutineDifference(Part):
    """Everything that differs. ``noise`` is only looked for when it is asked for."""

    schema_version: Literal["1.0"] = "1.0"
    old_title: str
    new_title: str
    old_status: str
    new_status: str
    same: bool
    about: list[FieldChange] = Field(default_factory=list)  # title, status, instructor, kit ...
    sets: list[SetDifference] = Field(default_factory=list)  # in order of time
    groups: list[GroupDifference] = Field(default_factory=list)
    queries: list[QueryDifference] = Field(default_factory=list)
    noise: list[FieldChange] = Field(default_factory=list)  # field is a path into the new routine
