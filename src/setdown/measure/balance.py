"""Left against right, push against pull: the figures and the ratio, without a verdict.

No published norm for push to pull in training volume is known, so none is applied.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from setdown.measure.between import Between
from setdown.measure.conventions import Conventions
from setdown.measure.performed import Performed
from setdown.measure.volume import find_set_volume, sum_known

PUSH = ("horizontal_push", "vertical_push")
PULL = ("horizontal_pull", "vertical_pull")


@dataclass(frozen=True, slots=True)
class SideCount:
    """One side: sets on it (a set for each side is one on either), seconds on the recording.

    ``reps`` are those known, None when of no set.
    """

    sets: int
    reps: Between | None
    seconds: Fraction


@dataclass(frozen=True, slots=True)
class Uneven:
    """An exercise with more sets on one side than on the other."""

    name: str
    left: int
    right: int


@dataclass(frozen=True, slots=True)
class Sides:
    """Left and right; ``each`` is how many sets were done on each side, and ``none`` how many name no side."""

    left: SideCount
    right: SideCount
    each: int
    none: int
    uneven: tuple[Uneven, ...]


@dataclass(frozen=True, slots=True)
class Direction:
    """Pushing or pulling: sets (two sides are one), known repetitions and volume load (None when of no set)."""

    sets: Fraction
    reps: Between | None
    volume_kg: Between | None
    horizontal_sets: Fraction
    vertical_sets: Fraction


@dataclass(frozen=True, slots=True)
class PushPull:
    """Pushes and pulls of the shoulder (bench, floor, overhead; rows, pull-ups); ``ratio`` is push sets to pull sets.

    Combined movements have one pattern of their own and are not split: ``combined_sets``.
    """

    push: Direction
    pull: Direction
    ratio: Fraction | None
    combined_sets: Fraction


def measure_sides(sets: Sequence[Performed], conventions: Conventions) -> Sides:
    """The sides of the sets, whatever their order."""
    uneven = []
    for key in dict.fromkeys(one.key for one in sets):
        mine = [one for one in sets if one.key == key]
        left, right = (sum(one.one.side == side for one in mine) for side in ("left", "right"))
        if left != right:
            uneven.append(Uneven(mine[0].name, left, right))
    return Sides(
        left=_count_side(sets, "left", conventions),
        right=_count_side(sets, "right", conventions),
        each=sum(one.one.side == "each" for one in sets),
        none=sum(one.one.side is None for one in sets),
        uneven=tuple(sorted(uneven, key=lambda one: one.name)),
    )


def measure_push_pull(counted: Sequence[Performed]) -> PushPull:
    """Pushes and pulls among the sets."""
    push, pull = _count_direction(counted, *PUSH), _count_direction(counted, *PULL)
    return PushPull(
        push=push,
        pull=pull,
        ratio=push.sets / pull.sets if pull.sets else None,
        combined_sets=_count_sets(counted, "combination"),
    )


def _count_side(sets: Sequence[Performed], side: str, conventions: Conventions) -> SideCount:
    mine = [one for one in sets if one.one.side in (side, "each")]
    half = Fraction(1, 2)
    times = Fraction(1, conventions.each_side)  # back to the reps of one side
    return SideCount(
        sets=len(mine),
        reps=sum_known(one.reps.scale(times if one.one.side == "each" else 1) for one in mine if one.reps is not None),
        seconds=sum(
            (Fraction(one.end_ms - one.start_ms, 1000) * (half if one.one.side == "each" else 1) for one in mine),
            Fraction(0),
        ),
    )


def _count_direction(counted: Sequence[Performed], horizontal: str, vertical: str) -> Direction:
    mine = [one for one in counted if one.pattern in (horizontal, vertical)]
    return Direction(
        sets=_count_sets(mine, horizontal, vertical),
        reps=sum_known(one.reps for one in mine if one.reps is not None),
        volume_kg=sum_known(v for one in mine if (v := find_set_volume(one)) is not None),
        horizontal_sets=_count_sets(mine, horizontal),
        vertical_sets=_count_sets(mine, vertical),
    )


def _count_sets(counted: Sequence[Performed], *patterns: str) -> Fraction:
    return sum((one.share for one in counted if one.pattern in patterns), Fraction(0))
