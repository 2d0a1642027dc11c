"""Several classes together: what a week of them comes to.

Training monotony is the mean of a week's daily volume loads divided by their standard deviation, days without training
counted as 0 (BMJ Military Health 2022;168(4):314-319, Table 1: 790/897 = 0.88). Which standard deviation is meant is
not printed there; the sample's is taken (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction
from statistics import mean, stdev
from typing import Any, TypeVar

from setdown.measure.between import Between, add_all
from setdown.measure.muscles import MuscleCount, PatternCount
from setdown.measure.plain import to_plain
from setdown.measure.report import Measures
from setdown.measure.volume import sum_known

DAYS = 7
Count = TypeVar("Count", PatternCount, MuscleCount)


@dataclass(frozen=True, slots=True)
class Together:
    """Sums over classes: seconds, sets, kg and lb, kcal. ``monotony`` needs a date for each, all within seven days."""

    classes: int
    sets: int
    work_s: Fraction
    training_s: Fraction
    patterns: tuple[PatternCount, ...]
    muscle_groups: tuple[MuscleCount, ...]
    push_sets: Fraction
    pull_sets: Fraction
    volume_kg: Between | None
    volume_lb: Between | None
    loaded_sets: int
    counted_sets: int
    kcal: Between | None
    monotony: float | None

    def as_dict(self) -> dict[str, Any]:
        """The sums as plain values for JSON."""
        plain: dict[str, Any] = to_plain(self)
        return plain


def add_measures(measures: Sequence[Measures]) -> Together:
    """The classes together, whatever their order."""
    return Together(
        classes=len(measures),
        sets=sum(one.sets for one in measures),
        work_s=sum((one.work_rest.work_s for one in measures), Fraction(0)),
        training_s=sum((one.work_rest.training_s for one in measures), Fraction(0)),
        patterns=_add_counts((c for one in measures for c in one.patterns), lambda c: c.pattern, _add_pattern),
        muscle_groups=_add_counts((c for one in measures for c in one.muscle_groups), lambda c: c.name, _add_muscle),
        push_sets=sum((one.push_pull.push.sets for one in measures), Fraction(0)),
        pull_sets=sum((one.push_pull.pull.sets for one in measures), Fraction(0)),
        volume_kg=sum_known(one.volume.volume_kg for one in measures if one.volume.volume_kg),
        volume_lb=sum_known(one.volume.volume_lb for one in measures if one.volume.volume_lb),
        loaded_sets=sum(one.volume.loaded_sets for one in measures),
        counted_sets=sum(one.volume.counted_sets for one in measures),
        kcal=add_all(one.energy.kcal for one in measures if one.energy) if any(m.energy for m in measures) else None,
        monotony=measure_monotony(measures),
    )


def find_monotony(average: Fraction, deviation: Fraction) -> Fraction:
    """Training monotony. Raises ZeroDivisionError when every day is the same."""
    return average / deviation


def measure_monotony(measures: Sequence[Measures]) -> float | None:
    """The monotony of the seven days from the first class on; None without dates or loads, or over a longer time."""
    try:
        days = [date.fromisoformat(one.date) for one in measures]
    except ValueError:
        return None
    if not days or max(days) - min(days) >= timedelta(days=DAYS) or not any(m.volume.volume_kg for m in measures):
        return None
    daily = [Fraction(0)] * DAYS
    for day, one in zip(days, measures, strict=True):
        daily[(day - min(days)).days] += one.volume.volume_kg.lo if one.volume.volume_kg else 0
    return float(mean(daily)) / stdev(map(float, daily)) if len(set(daily)) > 1 else None


def _add_counts(
    counts: Iterable[Count], name: Callable[[Count], str], add: Callable[[Count, Count], Count]
) -> tuple[Count, ...]:
    found: dict[str, Count] = {}
    for count in counts:
        key = name(count)
        found[key] = add(found[key], count) if key in found else count
    return tuple(sorted(found.values(), key=lambda count: (-count.sets, name(count))))


def _add_pattern(a: PatternCount, b: PatternCount) -> PatternCount:
    without = a.sets_without_reps + b.sets_without_reps
    return PatternCount(a.pattern, a.sets + b.sets, a.reps + b.reps, without)


def _add_muscle(a: MuscleCount, b: MuscleCount) -> MuscleCount:
    return replace(
        a,
        sets=a.sets + b.sets,
        primary=a.primary + b.primary,
        secondary=a.secondary + b.secondary,
        reps=a.reps + b.reps,
        sets_without_reps=a.sets_without_reps + b.sets_without_reps,
        eased=a.eased + b.eased,
    )
