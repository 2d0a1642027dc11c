"""What the page may send. Unknown keys are refused, and every text has a longest length."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

Id = Annotated[str, Field(max_length=400)]
Cell = Annotated[str, Field(max_length=2_000)]
Revision = Annotated[int, Field(ge=0, le=2**53)]
SetField = Literal[
    "exercise",
    "start",
    "end",
    "round",
    "side",
    "reps",
    "work_s",
    "load",
    "finisher",
    "rest_after_s",
    "tempo",
    "effort",
]


class Body(BaseModel):
    model_config = ConfigDict(extra="forbid")


class SetValue(Body):
    """A cell of a set."""

    kind: Literal["set_value"]
    set: Id
    field: SetField
    text: Cell


class GroupValue(Body):
    """A cell of a group."""

    kind: Literal["group_value"]
    group: Id
    field: Literal["arrangement", "rounds", "rest_s"]
    text: Cell


class SectionValue(Body):
    """A cell of a section."""

    kind: Literal["section_value"]
    section: Id
    field: Literal["kind", "start", "end"]
    text: Cell


class AddSet(Body):
    """A set that was not there. Times as they are typed: ``1:35`` or ``95.5``."""

    kind: Literal["add_set"]
    group: Id = ""
    exercise: Cell
    start: Cell
    end: Cell


class DeleteSet(Body):
    """A set that was not done."""

    kind: Literal["delete_set"]
    set: Id


class SplitSet(Body):
    """One set that was two: the second begins at ``at``."""

    kind: Literal["split_set"]
    set: Id
    at: Cell


class JoinSets(Body):
    """Two sets of a group that were one."""

    kind: Literal["join_sets"]
    first: Id
    second: Id


class MoveSet(Body):
    """A set to a ``group`` (its id, or ``new``) or a ``section`` (its kind), or past the set before or after it."""

    kind: Literal["move_set"]
    set: Id
    to: Literal["group", "section", "earlier", "later"]
    where: Id = ""


class AnswerQuery(Body):
    """The answer to a query: the value of its field, as it is typed."""

    kind: Literal["answer_query"]
    query: Id
    answer: Cell


class DismissQuery(Body):
    """Leave what the query is about as it is."""

    kind: Literal["dismiss_query"]
    query: Id


class ReopenQuery(Body):
    """Ask the query again."""

    kind: Literal["reopen_query"]
    query: Id


Edit = Annotated[
    SetValue
    | GroupValue
    | SectionValue
    | AddSet
    | DeleteSet
    | SplitSet
    | JoinSets
    | MoveSet
    | AnswerQuery
    | DismissQuery
    | ReopenQuery,
    Field(discriminator="kind"),
]


class OnRevision(Body):
    """Everything that changes something says which revision it saw."""

    revision: Revision


class EditBody(OnRevision):
    edit: Edit


class SignoffBody(OnRevision):
    by: Annotated[str, Field(max_length=200)]


class KeptBody(OnRevision):
    """Whether to take up the edits of an earlier run that were never saved, or to set them aside."""

    take: bool


class CompareBody(Body):
    """What to compare with: a version that Setdown knows, or the text of another routine file."""

    against: Literal["extraction", "saved"] | None = None
    routine: Annotated[str, Field(max_length=40_000_000)] | None = None
    name: Annotated[str, Field(max_length=400)] = "the other routine"


class Refusal(Body):
    """Why nothing was done. ``file`` is true when the file changed on disk, not in another window."""

    message: str
    file: bool = False
    revision: int | None = None
