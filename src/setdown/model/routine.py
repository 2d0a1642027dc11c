"""The routine: what was done in a class, set by set, each value with its evidence.

This model is the published format (``setdown schema`` prints its JSON Schema 2020-12). Times are seconds from the
start of the recording, with three decimals at most.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Any, ClassVar, Literal

from pydantic import (
    BaseModel,
    ConfigDict,
    Field,
    PlainSerializer,
    SerializerFunctionWrapHandler,
    model_serializer,
    model_validator,
)

SCHEMA_VERSION: Literal["1.0"] = "1.0"
SCHEMA_ID = "urn:setdown:schema:routine:1.0"

Seconds = Annotated[float, Field(ge=0)]
Confidence = Annotated[float, Field(ge=0, le=1)]
Text = Annotated[str, Field(max_length=20_000)]
Amount = Annotated[Decimal, PlainSerializer(float, return_type=float, when_used="json"), Field(ge=0, lt=10_000)]

SectionKind = Literal["intro", "warm_up", "main", "cool_down", "outro"]
Arrangement = Literal["straight", "superset", "circuit", "interval", "flow"]
Side = Literal["left", "right", "each"]
Origin = Literal["said", "carried", "declared", "inferred", "edited"]
Unit = Literal["lb", "kg", "pct1rm"]
Basis = Literal["per_hand", "total"]
Severity = Literal["must", "should", "note"]
Status = Literal["draft", "reviewed", "published"]


class Part(BaseModel):
    """Base of every part: unknown keys are refused, so that a typo in an edited file is found."""

    model_config = ConfigDict(extra="forbid", validate_assignment=False)


class Mark(Part):
    """Who decided something, and when (UTC, ISO 8601 to the second: ``2025-03-02T14:05:09Z``)."""

    by: str = Field(min_length=1, max_length=200)
    at: str = Field(pattern=r"^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}Z$")


class Signature(Mark):
    """Who let the routine go from one status to the next."""

    status: Literal["reviewed", "published"]


class Reviewed(Part):
    """A part that a reviewer leaves marks in; marks that are not there are not written."""

    marks: ClassVar[tuple[str, ...]] = ("edited",)

    @model_serializer(mode="wrap")
    def _leave_out_no_marks(self, write: SerializerFunctionWrapHandler) -> dict[str, Any]:
        written: dict[str, Any] = write(self)
        for key in self.marks:
            if not written.get(key):
                written.pop(key, None)
        return written


class Evidence(Part):
    """Words of the transcript that a value rests on: ``cues[cue].text[char_start:char_end] == quote``."""

    cue: int = Field(ge=0)
    char_start: int = Field(ge=0)
    char_end: int = Field(ge=0)
    quote: Text
    at: Seconds
    rule: str = ""


class Exercise(Part):
    """``id`` is the lexicon's, empty for a movement the lexicon does not know; ``said`` is what the caption holds."""

    id: str
    name: str = Field(min_length=1, max_length=200)
    said: Text = ""


class Reps(Part):
    """A number of repetitions: ``lo == hi`` for one number, ``to_failure`` for as many as possible."""

    lo: int | None = Field(default=None, ge=1, le=1000)
    hi: int | None = Field(default=None, ge=1, le=1000)
    to_failure: bool = False

    @model_validator(mode="after")
    def _one_or_the_other(self) -> Reps:
        if self.to_failure == (self.lo is not None or self.hi is not None):
            raise ValueError("reps are either a number (lo and hi) or to_failure")
        if not self.to_failure and (self.lo is None or self.hi is None or self.lo > self.hi):
            raise ValueError("reps need lo and hi, lo not above hi")
        return self

    def __str__(self) -> str:
        if self.to_failure:
            return "max"
        return str(self.lo) if self.lo == self.hi else f"{self.lo}-{self.hi}"


class Load(Part):
    """What the instructor used, never a prescription. ``rel`` is set when only 'lighter' or 'heavier' was said."""

    value: Amount | None = None
    unit: Unit | None = None
    basis: Basis | None = None
    rel: Literal["lighter", "heavier"] | None = None


class Finisher(Part):
    kind: Literal["pulses", "hold", "drop", "partials"]
    start: Seconds | None = None
    end: Seconds | None = None


class Coaching(Part):
    """A cue, caution or option said in or for a set."""

    kind: Literal["form", "breath", "target", "caution", "easier", "harder"]
    evidence: Evidence


class Set(Reviewed):
    """What was performed on the recording, once.

    ``edited`` says of each field with origin ``edited`` who decided it and when; the key ``set`` is for a set that a
    person added, ``section`` and ``group`` for one that a person put there.
    """

    id: str
    exercise: Exercise
    round: int = Field(default=1, ge=1, le=200)
    side: Side | None = None
    reps: Reps | None = None
    counted: int | None = Field(default=None, ge=0, le=1000)
    work_s: float | None = Field(default=None, gt=0, le=36_000)
    load: Load | None = None
    tempo: str | None = None
    effort: str | None = None
    finisher: Finisher | None = None
    rest_after_s: Seconds | None = None
    start: Seconds
    end: Seconds
    margin_s: Seconds = 0
    coaching: list[Coaching] = Field(default_factory=list)
    evidence: dict[str, list[Evidence]] = Field(default_factory=dict)
    origin: dict[str, Origin] = Field(default_factory=dict)
    confidence: dict[str, Confidence] = Field(default_factory=dict)
    edited: dict[str, Mark] = Field(default_factory=dict)

    @model_validator(mode="after")
    def _ends_after_start(self) -> Set:
        if self.end < self.start:
            raise ValueError(f"set {self.id} ends before it starts")
        return self


class Group(Reviewed):
    """What is alternated. ``edited`` is about ``arrangement``, ``rounds`` and ``rest_s``."""

    id: str
    arrangement: Arrangement
    rounds: int = Field(default=1, ge=1, le=200)
    rest_s: Seconds | None = None
    sets: list[Set] = Field(default_factory=list)
    edited: dict[str, Mark] = Field(default_factory=dict)


class Section(Part):
    id: str
    kind: SectionKind
    start: Seconds
    end: Seconds
    groups: list[Group] = Field(default_factory=list)


class Query(Reviewed):
    """A question for the reviewer. ``set`` is a set's id, empty when it is about the class.

    ``answer`` is what was decided, as it was written; ``settled`` by whom and when.
    """

    marks: ClassVar[tuple[str, ...]] = ("answer", "settled")

    id: str
    code: str
    severity: Severity
    set: str = ""
    field: str = ""
    message: Text
    suggestions: list[str] = Field(default_factory=list)
    state: Literal["open", "accepted", "dismissed"] = "open"
    evidence: list[Evidence] = Field(default_factory=list)
    answer: Text = ""
    settled: Mark | None = None


class Declared(Part):
    """What the instructor announced, e.g. scope 'class', field 'reps', value '10'."""

    scope: Literal["class", "section", "group", "set"]
    field: str
    value: str
    start: Seconds
    evidence: list[Evidence] = Field(default_factory=list)


class Equipment(Part):
    id: str
    name: str
    count: int | None = None
    loads: list[Load] = Field(default_factory=list)
    evidence: list[Evidence] = Field(default_factory=list)


class Source(Part):
    name: str
    format: str
    sha256: str
    duration_s: Seconds
    cue_count: int = Field(ge=0)
    timing: Literal["word", "cue"]
    resolution_s: Seconds
    instructor: str = ""
    date: str = ""
    media: str = ""
    tags: list[str] = Field(default_factory=list)


class MadeBy(Part):
    tool: str = "setdown"
    version: str
    lexicon: str = ""  # fingerprint of the lexicon used


class Routine(Reviewed):
    """``signatures`` lead up to the status; any change makes the routine a draft without signatures again."""

    marks: ClassVar[tuple[str, ...]] = ("signatures",)

    schema_version: Literal["1.0"] = SCHEMA_VERSION
    id: str
    title: str
    language: str = "en"
    status: Status = "draft"
    source: Source
    made_by: MadeBy
    notices: list[str] = Field(default_factory=list)
    declared: list[Declared] = Field(default_factory=list)
    equipment: list[Equipment] = Field(default_factory=list)
    sections: list[Section] = Field(default_factory=list)
    queries: list[Query] = Field(default_factory=list)
    signatures: list[Signature] = Field(default_factory=list)

    def iter_sets(self) -> list[tuple[Section, Group, Set]]:
        """Every set with its section and group, in time order of the document."""
        return [(s, g, x) for s in self.sections for g in s.groups for x in g.sets]
