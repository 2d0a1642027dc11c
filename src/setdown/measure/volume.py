"""Volume load: repetitions times load, summed.

Definition: Haff GG, 'Quantifying Workloads in Resistance Training: A Brief Review', Professional Strength and
Conditioning 2010; worked examples: BMJ Military Health 2022;168(4):314-319, Table 1 (doi
10.1136/bmjmilitary-2020-001590). Loads said in per cent, without a number, or without saying whether it is what one
hand holds or all of it, are not guessed at: such a set is left out and counted by its reason.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from setdown.measure.between import Between, add_all
from setdown.measure.performed import Performed
from setdown.measure.units import MassUnit, convert_mass, format_amount

# Why a set with a load is not in the volume load; the first that holds is given.
REASONS = ("only_relative", "per_cent", "no_unit", "no_basis", "to_failure", "no_reps")


@dataclass(frozen=True, slots=True)
class MovementVolume:
    """One exercise: its sets that are counted, their repetitions, their volume load and the loads as said."""

    exercise: str
    name: str
    sets: int
    reps: Between
    volume_kg: Between
    loads: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Volume:
    """The volume load in kg and lb, None when it is known of no set.

    Of ``loaded_sets`` sets with a load, ``counted_sets`` are in it; ``missing`` is how many are not, by reason
    (``REASONS``). ``weighted_without_load`` are sets of moves usually done with weights for which none was said.
    ``intensity_kg`` is the volume load of one repetition.
    """

    volume_kg: Between | None
    volume_lb: Between | None
    reps: Between
    loaded_sets: int
    counted_sets: int
    weighted_without_load: int
    missing: tuple[tuple[str, int], ...]
    by_movement: tuple[MovementVolume, ...]
    by_section_kg: tuple[tuple[str, Between], ...]
    intensity_kg: Between | None


def find_set_volume(one: Performed) -> Between | None:
    """Repetitions x load in kg, both hands and both sides counted; None when any part is unknown."""
    if find_gap(one) is not None:
        return None
    load, reps = one.one.load, one.reps
    assert load is not None and load.value is not None and reps is not None  # find_gap has seen to it
    unit: MassUnit = "lb" if load.unit == "lb" else "kg"
    held = convert_mass(load.value, unit, "kg") * (one.hands if load.basis == "per_hand" else 1)
    return reps.scale(held)


def find_gap(one: Performed) -> str | None:
    """Why the volume load of a set is unknown (one of ``REASONS``), None when it is known."""
    load, reps = one.one.load, one.one.reps
    if load is None or load.value is None:
        return "only_relative"
    if load.unit not in ("lb", "kg"):
        return "per_cent" if load.unit == "pct1rm" else "no_unit"
    if load.basis is None:
        return "no_basis"
    if one.reps is None:
        return "to_failure" if reps is not None and reps.to_failure else "no_reps"
    return None


def measure_volume(sets: Sequence[Performed]) -> Volume:
    """The volume load of the sets, whatever their order."""
    loaded = [one for one in sets if one.loaded]
    known = [(one, volume) for one in loaded if (volume := find_set_volume(one)) is not None]
    gaps = [find_gap(one) for one in loaded]
    total = sum_known(volume for _, volume in known)
    reps = add_all(one.reps for one, _ in known if one.reps is not None)
    kinds = dict.fromkeys(one.section for one, _ in known)
    return Volume(
        volume_kg=total,
        volume_lb=to_lb(total) if total else None,
        reps=reps,
        loaded_sets=len(loaded),
        counted_sets=len(known),
        weighted_without_load=sum(one.weighted and not one.loaded for one in sets),
        missing=tuple((reason, gaps.count(reason)) for reason in REASONS if reason in gaps),
        by_movement=tuple(_list_movements(known)),
        by_section_kg=tuple((kind, add_all(v for one, v in known if one.section == kind)) for kind in kinds),
        intensity_kg=_divide(total, reps) if total else None,
    )


def to_lb(kg: Between) -> Between:
    """The same volume load in pounds, exactly."""
    return Between(convert_mass(kg.lo, "kg", "lb"), convert_mass(kg.hi, "kg", "lb"))


def sum_known(parts: Iterable[Between]) -> Between | None:
    """The sum of what is known, None when nothing is."""
    listed = list(parts)
    return add_all(listed) if listed else None


def find_volume_load(sets: Iterable[tuple[int, Fraction | int]]) -> Fraction:
    """The sum of repetitions x load, for pairs of both."""
    return sum((Fraction(reps) * Fraction(load) for reps, load in sets), Fraction(0))


def describe_load(one: Performed) -> str:
    """The load as said: ``12 lb per hand``, ``lighter``; empty when there is none."""
    load = one.one.load
    if load is None:
        return ""
    if load.value is None:
        return load.rel or ""
    unit = "% of one-rep max" if load.unit == "pct1rm" else load.unit or ""
    basis = (load.basis or "").replace("_", " ")
    return " ".join(filter(None, (format_amount(Fraction(load.value), 3), unit, basis)))


def _list_movements(known: Sequence[tuple[Performed, Between]]) -> list[MovementVolume]:
    found = []
    for key in dict.fromkeys(one.key for one, _ in known):
        mine = [(one, volume) for one, volume in known if one.key == key]
        found.append(
            MovementVolume(
                exercise=mine[0][0].one.exercise.id,
                name=mine[0][0].name,
                sets=len(mine),
                reps=add_all(one.reps for one, _ in mine if one.reps is not None),
                volume_kg=add_all(volume for _, volume in mine),
                loads=tuple(dict.fromkeys(describe_load(one) for one, _ in mine)),
            )
        )
    return found


def _divide(total: Between, reps: Between) -> Between:
    both = sorted((total.lo / reps.lo, total.hi / reps.hi))  # a range of reps can pull the mean either way
    return Between(*both)
