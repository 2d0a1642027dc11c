"""What the catalogue holds of one class, as plain values that travel between processes and machines."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from setdown.errors import SetdownError


class MovementRow(NamedTuple):
    """One movement as the lexicon defined it; ``key`` is its id, or its name in lower case when it is not ``known``.

    ``muscles`` are (muscle, whether rolled up into its group, whether it works first or helps).
    """

    key: str
    name: str
    family: str
    pattern: str
    known: bool
    muscles: tuple[tuple[str, bool, bool], ...]


class SetRow(NamedTuple):
    """One set; ``movement`` is the place of its movement in ``ClassEntry.movements``, times are milliseconds.

    ``load`` is the number that was said, in ``unit``; ``load_kg`` the same in kilograms, None for a share of a maximum.
    """

    movement: int
    section: str
    arrangement: str
    group_number: int
    round: int
    side: str
    reps_lo: int | None
    reps_hi: int | None
    to_failure: bool
    work_s: float | None
    load: float | None
    unit: str
    basis: str
    rel: str
    load_kg: float | None
    finisher: str
    start_ms: int
    end_ms: int
    confidence: float | None


class Tally(NamedTuple):
    """How often a class has a movement: all sets, and the half sets that count for patterns and muscles."""

    movement: int
    sets: int
    counted_halves: int


@dataclass(frozen=True, slots=True)
class ClassEntry:
    """One class. ``captions`` is compressed JSON of ``[[start_ms, text], ...]``, ``document`` the compressed routine.

    ``kit_need`` is JSON: ``said``, the kit that the class names, and ``needed``, for each movement that needs kit of
    which none was named, what it may be done with. ``profile`` is (dimension, sets) with muscle groups and patterns.
    """

    location: str
    transcript: str
    routine: str
    fingerprint: str
    lexicon: str
    version: str
    status: str
    title: str
    instructor: str
    date: str
    media: str
    language: str
    duration_ms: int
    warm_up: bool
    cool_down: bool
    queries: int
    kit_need: str
    movements: tuple[MovementRow, ...]
    sets: tuple[SetRow, ...]
    tallies: tuple[Tally, ...]
    profile: tuple[tuple[str, float], ...]
    captions: bytes
    document: bytes
    notices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Indexed:
    """What became of one class: an ``entry``, an ``error``, or neither when its files are as the catalogue has them.

    ``passed_over``: a file that need not be a transcript (text, JSON, XML) turned out to be none; ``error`` says why.
    ``seconds`` is what the work took, ``extraction_s`` the part of it in which a transcript was read and understood.
    """

    location: str
    entry: ClassEntry | None = None
    error: SetdownError | None = None
    passed_over: bool = False
    seconds: float = 0.0
    extraction_s: float = 0.0
