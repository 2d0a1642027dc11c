"""What the lexicon holds and what it finds: small frozen records without behaviour."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Sided = Literal["both", "one", "alternating", "either"]
Method = Literal["exact", "variant", "misheard", "fuzzy", "sound"]


@dataclass(frozen=True, slots=True)
class Movement:
    """One movement: a row of ``movements/*.csv`` or a ``[[movement]]`` of a coach's own file.

    ``name`` is the usual trade name, singular; ``names`` are the others, as written but without the question mark of a
    weak name. ``weak_names`` are those of ``name`` and ``names`` that are everyday words too. ``family`` is the id of
    the basic movement. ``primary``, ``secondary`` and ``kit`` are ids. ``counted`` has the usual way of counting first.
    """

    id: str
    name: str
    names: tuple[str, ...] = ()
    weak_names: frozenset[str] = frozenset()
    family: str = ""
    pattern: str = ""
    primary: tuple[str, ...] = ()
    secondary: tuple[str, ...] = ()
    kit: tuple[str, ...] = ()
    sided: str = "both"
    counted: tuple[str, ...] = ("reps",)
    basis: str = ""


@dataclass(frozen=True, slots=True)
class Muscle:
    """One muscle or muscle group; ``uberon`` is ``UBERON:`` and seven digits or empty, ``group`` an id or empty."""

    id: str
    name: str
    names: tuple[str, ...] = ()
    weak_names: frozenset[str] = frozenset()
    uberon: str = ""
    group: str = ""


@dataclass(frozen=True, slots=True)
class Kit:
    """One piece of kit; ``loaded`` says whether it has a weight that is worth writing down."""

    id: str
    name: str
    names: tuple[str, ...] = ()
    weak_names: frozenset[str] = frozenset()
    loaded: bool = False


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: one of it is ``si`` base units of its ``kind`` (mass kg, time s, length m, share and count 1)."""

    id: str
    name: str
    names: tuple[str, ...] = ()
    weak_names: frozenset[str] = frozenset()
    kind: str = ""
    si: float = 1.0


@dataclass(frozen=True, slots=True)
class Described:
    """One way to describe a movement without its name: every slot must be filled by one of its words, in any order."""

    movement: str
    slots: tuple[frozenset[str], ...]


@dataclass(frozen=True, slots=True)
class MisheardRow:
    """What captions write (``heard``) for words of the trade (``said``)."""

    heard: str
    said: str


@dataclass(frozen=True, slots=True)
class NameHit:
    """Words ``[start, end)`` name a movement.

    ``movement`` is its id and ``name`` the listed name that was found. ``method``: ``exact`` (written as listed),
    ``variant`` (other number, hyphens, spelling or word order), ``misheard`` (through ``misheard.csv``), ``sound``
    (same consonants), ``fuzzy`` (nearly the same letters). ``score`` is 0..1. ``weak``: the words are everyday words
    too and count only where the words around want a movement. ``repaired`` is what was most likely said, for the last
    three methods, else empty. ``prefixes`` are kit and stance words in front of the name that the hit includes.
    """

    start: int
    end: int
    movement: str
    name: str
    method: Method
    score: float
    weak: bool = False
    repaired: str = ""
    prefixes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class DescribedHit:
    """Words ``[start, end)`` describe a movement without naming it.

    ``slots`` are the positions of the words that filled the slots, in slot order; ``score`` is 0..1, higher for more
    slots and words closer together.
    """

    start: int
    end: int
    movement: str
    slots: tuple[int, ...]
    score: float


@dataclass(frozen=True, slots=True)
class Repair:
    """Words ``[start, end)`` are listed as a mis-hearing of ``said``."""

    start: int
    end: int
    heard: str
    said: str
