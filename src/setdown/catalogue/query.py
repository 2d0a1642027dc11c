"""What can be asked of a catalogue, and the answers.

The sets that count meet every condition on sets, each in one of its values. A class answers when every value of a
condition is met by one of them (squats and rows: a class that has both), and it meets every condition on classes.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from setdown.catalogue.ranges import Range


@dataclass(frozen=True, slots=True)
class Wanted:
    """One thing to look for in the sets: movements by key, the name to show, and whether it was guessed."""

    keys: frozenset[str]
    name: str
    guessed: bool = False


@dataclass(frozen=True, slots=True)
class Query:
    """Conditions; what is empty or None is not asked.

    On sets: ``movements``, ``muscles`` (ids; ``helping`` lets muscles count that only help), ``patterns``,
    ``sections``, ``arrangements``, ``finishers``, ``sides``, ``load`` in kilograms as said, ``reps``. A muscle counts
    where it works; stretches and poses count when ``patterns`` ask for them.

    On classes: ``kit`` that it uses, ``only_kit`` that suffices for it (None: not asked; empty: no kit at all),
    ``minutes``, ``instructors`` (exact names), days ``since`` and ``until`` (ISO 8601), ``statuses``, ``words`` said.
    ``limit`` 0 is all. Answers are the latest first, undated classes last, and by location within a day.
    """

    movements: tuple[Wanted, ...] = ()
    muscles: tuple[str, ...] = ()
    helping: bool = False
    patterns: tuple[str, ...] = ()
    sections: tuple[str, ...] = ()
    arrangements: tuple[str, ...] = ()
    finishers: tuple[str, ...] = ()
    sides: tuple[str, ...] = ()
    load: Range | None = None
    reps: Range | None = None
    kit: tuple[str, ...] = ()
    only_kit: frozenset[str] | None = None
    minutes: Range | None = None
    instructors: tuple[str, ...] | None = None
    since: str = ""
    until: str = ""
    statuses: tuple[str, ...] = ()
    words: str = ""
    limit: int = 20

    @property
    def asks_of_sets(self) -> bool:
        """Whether any condition is on sets."""
        return bool(
            self.movements
            or self.muscles
            or self.patterns
            or self.sections
            or self.arrangements
            or self.finishers
            or self.sides
            or self.load
            or self.reps
        )


@dataclass(frozen=True, slots=True)
class Hit:
    """One set that counts, or one place where the words were said (``words`` then): times in milliseconds."""

    start_ms: int
    end_ms: int
    name: str
    section: str = ""
    side: str = ""
    reps: str = ""
    work_s: float | None = None
    load: float | None = None
    unit: str = ""
    finisher: str = ""
    words: str = ""


@dataclass(frozen=True, slots=True)
class Answer:
    """One class that answers, with the sets that count and the words, in time order.

    ``likeness`` is to the class that was asked about, or to the one that it ``repeats`` (its source), 0..1.
    """

    id: int
    location: str
    source: str
    title: str
    instructor: str
    date: str
    status: str
    minutes: float
    sets: int
    media: str
    kit: tuple[str, ...]
    hits: tuple[Hit, ...] = field(default=())
    likeness: float | None = None
    repeats: str = ""
