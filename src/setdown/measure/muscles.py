"""Sets and repetitions for each pattern of movement, muscle and group of muscles.

A set counts 1 for each muscle that the movement works first and ``Conventions.secondary`` for each that helps: 1/2, the
fractional count of Pelland et al. (SportRxiv preprint, 2024; 67 studies), unless told otherwise. Within a group of
muscles a set counts once, with the largest of its members' shares. Stretches, poses, mobility and breathing are
counted apart, as ``eased``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from setdown.lexicon import Muscle
from setdown.measure.between import Between, add_all
from setdown.measure.conventions import Conventions
from setdown.measure.performed import EASING_PATTERNS, Performed


@dataclass(frozen=True, slots=True)
class PatternCount:
    """One pattern: sets (two sides are one set), repetitions, and the sets whose repetitions are not known."""

    pattern: str
    sets: Fraction
    reps: Between
    sets_without_reps: int


@dataclass(frozen=True, slots=True)
class MuscleCount:
    """One muscle or group: ``sets`` = ``primary`` + share x ``secondary`` sets of work; ``reps`` with the same shares,
    of the sets whose repetitions are known.

    ``eased`` are the sets of stretch, pose, mobility and breathing that name it first.
    """

    muscle: str
    name: str
    sets: Fraction
    primary: Fraction
    secondary: Fraction
    reps: Between
    sets_without_reps: int
    eased: Fraction


def choose_counted(sets: Sequence[Performed], conventions: Conventions) -> tuple[Performed, ...]:
    """The sets that count for patterns and muscles: those of the chosen sections, or all when there are none."""
    chosen = tuple(one for one in sets if one.section in conventions.sections)
    return chosen or tuple(sets)


def count_patterns(counted: Sequence[Performed]) -> tuple[PatternCount, ...]:
    """Patterns with the most sets first; movements that the lexicon does not know are under the empty pattern."""
    found = []
    for pattern in sorted({one.pattern for one in counted}):
        mine = [one for one in counted if one.pattern == pattern]
        found.append(
            PatternCount(
                pattern=pattern,
                sets=sum((one.share for one in mine), Fraction(0)),
                reps=add_all(one.reps for one in mine if one.reps is not None),
                sets_without_reps=sum(one.reps is None for one in mine),
            )
        )
    return tuple(sorted(found, key=lambda count: (-count.sets, count.pattern)))


def count_muscles(
    counted: Sequence[Performed], muscles: Mapping[str, Muscle], conventions: Conventions, *, grouped: bool
) -> tuple[MuscleCount, ...]:
    """Muscles as the lexicon names them, or rolled up into their groups; the most worked first."""
    tally: dict[str, list[tuple[Performed, bool]]] = {}
    for one in counted:
        if one.movement is None:
            continue
        first = dict.fromkeys(_roll_up(id, muscles, grouped) for id in one.movement.primary)
        helping = dict.fromkeys(_roll_up(id, muscles, grouped) for id in one.movement.secondary)
        for id in first:
            tally.setdefault(id, []).append((one, True))
        for id in helping:
            if id not in first:
                tally.setdefault(id, []).append((one, False))
    counts = [_count(id, muscles, uses, conventions.secondary) for id, uses in tally.items()]
    named = [one for one in counts if one.primary or one.secondary or one.eased]  # not what only helps to stretch
    return tuple(sorted(named, key=lambda count: (-count.sets, -count.eased, count.name)))


def _roll_up(id: str, muscles: Mapping[str, Muscle], grouped: bool) -> str:
    return (muscles[id].group or id) if grouped and id in muscles else id


def _count(
    id: str, muscles: Mapping[str, Muscle], uses: Sequence[tuple[Performed, bool]], share: Fraction
) -> MuscleCount:
    working = [(one, first) for one, first in uses if one.pattern not in EASING_PATTERNS]
    primary = sum((one.share for one, first in working if first), Fraction(0))
    secondary = sum((one.share for one, first in working if not first), Fraction(0))
    reps = [one.reps.scale(1 if first else share) for one, first in working if one.reps is not None]
    easing = [one.share for one, first in uses if first and one.pattern in EASING_PATTERNS]
    return MuscleCount(
        muscle=id,
        name=muscles[id].name if id in muscles else id,
        sets=primary + share * secondary,
        primary=primary,
        secondary=secondary,
        reps=add_all(reps),
        sets_without_reps=sum(one.reps is None for one, _ in working),
        eased=sum(easing, Fraction(0)),
    )
