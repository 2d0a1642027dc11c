"""What a quantity mention holds: one frozen value per kind of quantity.

Counts are plain integers, durations integer seconds, loads decimals in the unit that was said (``None`` when it was
not said). Several values carry ``alternatives``: other roles the same number may have, each with its own score, for
a later stage that knows more (the movement, the time, what was declared).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal

LoadUnit = Literal["lb", "kg", "pct1rm"]
LoadBasis = Literal["per_hand", "total"]
LoadChange = Literal["lighter", "heavier"]
Phase = Literal["all", "lower", "lift", "hold"]


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another role the words may have: its ``kind``, the value it would carry, and how likely it is (0..1)."""

    kind: str
    value: Any
    score: float


@dataclass(frozen=True, slots=True)
class RepTarget:
    """Kind ``reps``. ``lo == hi`` for one number; both ``None`` with ``to_failure`` for as many as possible."""

    lo: int | None
    hi: int | None
    to_failure: bool = False
    each_side: bool = False
    alternatives: tuple[Alternative, ...] = ()


@dataclass(frozen=True, slots=True)
class RepScheme:
    """Kind ``scheme``: the reps of successive sets, said once ('twelve, ten, eight')."""

    reps: tuple[int, ...]
    each_side: bool = False
    alternatives: tuple[Alternative, ...] = ()


@dataclass(frozen=True, slots=True)
class SetCount:
    """Kind ``sets``: how many sets, rounds or times through; ``more`` when they come on top of what was done."""

    lo: int
    hi: int
    unit: Literal["set", "round"]
    more: bool = False
    alternatives: tuple[Alternative, ...] = ()


@dataclass(frozen=True, slots=True)
class RoundMark:
    """Kind ``round``: which round or set begins, goes on or has ended. ``number`` is ``None`` for 'the last round'.

    ``done`` is set when the words close it ('that's round one', 'one round down'), not when they open it.
    """

    number: int | None
    last: bool = False
    unit: Literal["set", "round", "minute"] = "round"
    done: bool = False
    alternatives: tuple[Alternative, ...] = ()


@dataclass(frozen=True, slots=True)
class Seconds:
    """Kinds ``work_s``, ``rest_s`` and ``time_left``: a duration in seconds; ``high`` only for a range."""

    work: int
    each_side: bool = False
    high: int | None = None
    alternatives: tuple[Alternative, ...] = ()


@dataclass(frozen=True, slots=True)
class IntervalPlan:
    """Kind ``interval``: seconds of work and of rest, repeated ``rounds`` times when that was said with it."""

    work: int
    rest: int
    rounds: int | None = None
    alternatives: tuple[Alternative, ...] = ()


@dataclass(frozen=True, slots=True)
class EmomPlan:
    """Kind ``emom``: a start every ``every_s`` seconds, for ``minutes`` minutes, ``count`` starts, when said."""

    every_s: int = 60
    minutes: int | None = None
    count: int | None = None


@dataclass(frozen=True, slots=True)
class LoadSaid:
    """Kind ``load``: what is held or put on, as it was said.

    ``same`` means the weight stays ('same weight'); ``none`` means nothing is held. ``per_side_plates`` means that
    ``value`` goes on each end of a bar and the bar itself comes on top.
    ``offered`` marks a load offered to the viewer, held by somebody else or left ('if you only have tens', 'not the
    ten').
    """

    value: Decimal | None = None
    unit: LoadUnit | None = None
    basis: LoadBasis | None = None
    rel: LoadChange | None = None
    implements: int | None = None
    per_side_plates: bool = False
    same: bool = False
    none: bool = False
    offered: bool = False
    alternatives: tuple[Alternative, ...] = ()


@dataclass(frozen=True, slots=True)
class BarSaid:
    """Kind ``bar``: what the empty bar weighs."""

    value: Decimal
    unit: Literal["lb", "kg"] | None = None


@dataclass(frozen=True, slots=True)
class UnitSaid:
    """Kind ``unit``: the unit of every load in the class ('everything is in kilos')."""

    unit: Literal["lb", "kg"]


@dataclass(frozen=True, slots=True)
class Count:
    """Kind ``count``: repetitions counted aloud; ``n`` is the last one reached by these words."""

    n: int
    first: int
    alternatives: tuple[Alternative, ...] = ()


@dataclass(frozen=True, slots=True)
class Remaining:
    """Kind ``remaining``: repetitions still to come, the one that is starting included ('last one' is 1)."""

    n: int
    high: int | None = None
    alternatives: tuple[Alternative, ...] = ()


@dataclass(frozen=True, slots=True)
class Countdown:
    """Kind ``countdown``: numbers called downwards, from ``first`` to ``last``."""

    first: int
    last: int
    alternatives: tuple[Alternative, ...] = ()


@dataclass(frozen=True, slots=True)
class Tempo:
    """Kind ``tempo``: seconds or counts of a phase; ``phase`` ``all`` lists lowering, pause, lifting (and pause).

    The order of the digits is the common one: the eccentric phase comes first, also in a pull.
    """

    seconds: tuple[int, ...]
    phase: Phase


@dataclass(frozen=True, slots=True)
class Effort:
    """Kind ``effort``: ``rpe`` (how hard, of ten) or ``rir`` (repetitions in reserve)."""

    scale: Literal["rpe", "rir"]
    lo: int
    hi: int


@dataclass(frozen=True, slots=True)
class Breaths:
    """Kind ``breaths``: a hold measured in breaths."""

    lo: int
    hi: int
    each_side: bool = False


@dataclass(frozen=True, slots=True)
class Moves:
    """Kind ``moves``: how many exercises a block or the class has."""

    n: int


@dataclass(frozen=True, slots=True)
class OrdinalRef:
    """Kind ``ordinal``: a thing of a list by its place ('the second one', 'move three'); ``n`` is -1 for the last."""

    n: int
    alternatives: tuple[Alternative, ...] = ()


@dataclass(frozen=True, slots=True)
class Other:
    """Kind ``other``: a number that is none of the class's business; ``what`` says which (age, clock, price, ...)."""

    what: str
    value: Decimal | None = None
    alternatives: tuple[Alternative, ...] = ()


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """Kind ``withdrawn``: said and taken back. ``kind`` and ``value`` are what it would have been."""

    kind: str
    value: Any
