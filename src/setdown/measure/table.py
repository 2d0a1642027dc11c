"""The measures as lines of a table: what ``measure`` prints for one class and ``compare`` for several."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from setdown.measure.between import Between
from setdown.measure.energy import Energy
from setdown.measure.muscles import MuscleCount, PatternCount
from setdown.measure.rep_max import LOAD_CHART_SOURCE
from setdown.measure.report import Measures
from setdown.measure.tension import Tension
from setdown.measure.together import Together
from setdown.measure.units import Units, format_amount
from setdown.measure.volume import Volume, to_lb
from setdown.model.timecode import format_clock


@dataclass(frozen=True, slots=True)
class Row:
    """One line: its heading, what it is, its value. ``shared`` lines make sense beside other classes."""

    heading: str
    label: str
    value: str
    shared: bool = True


def list_rows(measures: Measures, units: Units = "both") -> list[Row]:
    """All lines of one class."""
    return [
        *_list_times(measures),
        *(Row("sets by pattern", _name_pattern(one.pattern), _say_pattern(one)) for one in measures.patterns),
        *(Row("sets by muscle group", one.name, _say_muscle(one)) for one in measures.muscle_groups),
        *_list_balance(measures, units),
        *_list_volume(measures.volume, measures.density_kg, units),
        *_list_tension(measures.tension),
        *(_list_energy(measures.energy) if measures.energy else ()),
        *_list_own(measures),
    ]


def list_together(together: Together, units: Units = "both") -> list[Row]:
    """All lines of several classes together."""
    head = "sums"
    rows = [
        Row(head, "first set to last", format_seconds(together.training_s)),
        Row(head, "in sets", format_seconds(together.work_s)),
        Row(head, "sets as done", str(together.sets)),
    ]
    if together.volume_kg:
        counted = f"{together.counted_sets} of {together.loaded_sets} sets with a load"
        rows.append(Row(head, "volume load", f"{format_mass(together.volume_kg, units)}, {counted}"))
    if together.monotony is not None:
        rows.append(Row(head, "monotony of the week", f"{together.monotony:.2f}"))
    if together.kcal:
        rows.append(Row(head, "energy, estimated", f"{format_between(together.kcal)} kcal"))
    rows.append(Row(head, "push, pull", f"{_sets(together.push_sets)}, {_sets(together.pull_sets)}"))
    rows += [Row("sets by pattern", _name_pattern(one.pattern), _say_pattern(one)) for one in together.patterns]
    return rows + [Row("sets by muscle group", one.name, _say_muscle(one)) for one in together.muscle_groups]


def format_between(value: Between, places: int = 0) -> str:
    """``24`` or ``24 to 30``."""
    lo, hi = format_amount(value.lo, places), format_amount(value.hi, places)
    return lo if lo == hi else f"{lo} to {hi}"


def format_mass(kg: Between, units: Units, places: int = 0) -> str:
    """A mass in the units asked for: ``720 lb (327 kg)``."""
    in_lb, in_kg = f"{format_between(to_lb(kg), places)} lb", f"{format_between(kg, places)} kg"
    return {"lb": in_lb, "kg": in_kg, "both": f"{in_lb} ({in_kg})"}[units]


def format_seconds(seconds: Fraction) -> str:
    """``12:34``, to the nearest second."""
    return format_clock(round(seconds) * 1000)


def _list_times(measures: Measures) -> Iterator[Row]:
    time, head = measures.work_rest, "time"
    yield Row(head, "whole recording", format_seconds(time.class_s))
    yield Row(head, "first set to last", format_seconds(time.training_s))
    yield Row(head, "in sets", format_seconds(time.work_s))
    yield Row(head, "rest", format_seconds(time.rest_s))
    yield Row(head, "density", _percent(time.density) if time.density is not None else "")
    yield Row(head, "longest rest", format_seconds(time.longest_rest_s))
    yield Row(head, "starts known to about", f"{format_amount(time.margin_s, 1)} s")
    yield Row(head, "sets as done", str(measures.sets))


def _list_balance(measures: Measures, units: Units) -> Iterator[Row]:
    sides, head = measures.sides, "left and right"
    if sides.left.sets or sides.right.sets:
        for name, side in (("left", sides.left), ("right", sides.right)):
            reps = f", {format_between(side.reps)} reps" if side.reps else ""
            yield Row(head, name, f"{_sets(side.sets)}{reps}, {format_seconds(side.seconds)}")
        for one in sides.uneven:
            yield Row(head, f"uneven: {one.name}", f"{one.left} left, {one.right} right", shared=False)
    both, head = measures.push_pull, "push and pull"
    if both.push.sets or both.pull.sets:
        for name, way in (("push", both.push), ("pull", both.pull)):
            parts = [_sets(way.sets)]
            parts += [f"{format_between(way.reps)} reps"] if way.reps else []
            parts += [format_mass(way.volume_kg, units)] if way.volume_kg else []
            yield Row(head, name, ", ".join(parts))
        ratio = f"{format_amount(both.ratio, 2)} to 1" if both.ratio is not None else "no pull"
        yield Row(head, "push to pull, by sets", ratio)


def _list_volume(volume: Volume, density_kg: Between | None, units: Units) -> Iterator[Row]:
    head = "volume load"
    if not volume.loaded_sets:
        return
    known = format_mass(volume.volume_kg, units) if volume.volume_kg else "not known"
    yield Row(head, "all sets", known)
    yield Row(head, "sets counted", f"{volume.counted_sets} of {volume.loaded_sets} with a load")
    if density_kg is not None:
        yield Row(head, "for each minute", format_mass(density_kg, units))
    if volume.intensity_kg:
        yield Row(head, "for each rep", format_mass(volume.intensity_kg, units, 1))
    for one in volume.by_movement:
        amount = format_mass(one.volume_kg, units)
        value = f"{amount}: {_sets(one.sets)}, {format_between(one.reps)} reps at {', '.join(one.loads)}"
        yield Row(head, one.name, value, shared=False)


def _list_tension(tension: Tension) -> Iterator[Row]:
    head = "time under tension"
    if tension.sets_by_tempo:
        seconds = f"{format_between(tension.by_tempo_s)} s"
        yield Row(head, "by tempo", f"{seconds} in {_sets(tension.sets_by_tempo)}")
    if tension.sets_by_time:
        yield Row(head, "by seconds said", f"{format_amount(tension.by_time_s)} s in {_sets(tension.sets_by_time)}")
    if tension.sets_by_span:
        yield Row(
            head, "at most, by the clock", f"{format_amount(tension.at_most_s)} s in {_sets(tension.sets_by_span)}"
        )


def _list_energy(energy: Energy) -> Iterator[Row]:
    head = "energy, estimated"
    mass = f"{format_amount(energy.body_mass_kg, 1)} kg"
    yield Row(head, f"for a body of {mass}", f"{format_between(energy.kcal)} kcal ({format_between(energy.kj)} kJ)")
    for part in energy.parts:
        mets = " to ".join(
            f"{format_amount(met, 1)} MET ({code})" for met, code in zip(part.mets, part.codes, strict=True)
        )
        yield Row(head, part.kind, f"{format_amount(part.minutes, 1)} min at {mets}", shared=False)
    if energy.unknown_minutes:
        yield Row(head, "left out", f"{format_amount(energy.unknown_minutes, 1)} min of unknown moves")
    yield Row(head, "rule", energy.rule, shared=False)
    yield Row(head, "METs from", energy.source, shared=False)


def _list_own(measures: Measures) -> Iterator[Row]:
    for own in measures.own_maxima:
        head = f"your {own.name}: {own.own}"
        rough = " (rough)" if own.rough else ""
        yield Row(head, "one rep, by formula", f"{own.lo:.1f} to {own.hi:.1f} {own.unit}{rough}", shared=False)
        for formula, value in own.by_formula:
            yield Row(head, formula, f"{value:.1f} {own.unit}", shared=False)
        asked = [row for row in measures.own_loads if (row.exercise, row.own) == (own.exercise, own.own)]
        if not asked:
            yield Row(head, "in this class", "not done", shared=False)
        for row in asked:
            used = f"; the class used {', '.join(row.used)}" if row.used else ""
            loads = f"{row.lo:.1f} to {row.hi:.1f} {row.unit}" if row.lo is not None and row.hi is not None else row.why
            label = f"for {row.reps} reps" if row.reps is not None else "without a number of reps"
            yield Row(head, label, f"{loads}{' (rough)' if row.rough and not row.why else ''}{used}", shared=False)
        for line in own.chart:
            label = f"chart: {line.reps} {'rep' if line.reps == 1 else 'reps'}"
            loads = f"{line.lo:.1f} to {line.hi:.1f} {own.unit}"
            yield Row(head, label, f"{line.per_cent} % of one rep, {loads}", shared=False)
        yield Row(head, "the chart", LOAD_CHART_SOURCE, shared=False)


def _name_pattern(pattern: str) -> str:
    return pattern.replace("_", " ") or "unknown moves"


def _say_pattern(one: PatternCount) -> str:
    text = _sets(one.sets)
    if one.reps.hi:
        text += f", {format_between(one.reps)} reps"
    if one.sets_without_reps and one.reps.hi:
        text += f" and {one.sets_without_reps} without"
    return text


def _say_muscle(one: MuscleCount) -> str:
    parts = [_sets(one.sets)] if one.sets else []
    parts += [f"{format_amount(one.eased, 2)} of stretch or pose"] if one.eased else []
    return ", ".join(parts) or "0 sets"


def _sets(count: Fraction | int) -> str:
    return f"{format_amount(Fraction(count), 2)} {'set' if count == 1 else 'sets'}"


def _percent(share: Fraction) -> str:
    return f"{format_amount(share * 100)} %"
