"""Energy, as a range: minutes of each kind of work times its METs from the Compendium, for a given body mass.

kcal = MET x 3.5 x body mass in kg / 200 x minutes (American Council on Exercise, expert answer, citing ACSM's Health
and Fitness Journal: 10 MET at 68 kg for 30 minutes is 357 kcal). Gross: rest is included. The other common rule, MET x
kg x hours, gives 1/1.05 of it; the two are not mixed here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from setdown.measure.between import Between, add_all
from setdown.measure.compendium import EDITION, find_activities
from setdown.measure.performed import Performed
from setdown.measure.units import KJ_IN_KCAL
from setdown.model.routine import Routine

RULE = "kcal = MET x 3.5 x kg / 200 x minutes, rest included"
TALK = ("intro", "outro")  # nobody exercises there

_BY_PATTERN = {
    "pose": "yoga",
    "stretch": "stretching",
    "breathing": "stretching",
    "mobility": "light",
    "balance": "light",
    "dance_step": "dance",
}


@dataclass(frozen=True, slots=True)
class EnergyPart:
    """Minutes of one kind of work with the codes and METs of its low and high activity."""

    kind: str
    minutes: Fraction
    codes: tuple[str, str]
    mets: tuple[Fraction, Fraction]
    kcal: Between


@dataclass(frozen=True, slots=True)
class Energy:
    """Gross energy for one body mass; ``unknown_minutes`` of the sections could not be judged and are left out."""

    body_mass_kg: Fraction
    kcal: Between
    kj: Between
    parts: tuple[EnergyPart, ...]
    unknown_minutes: Fraction
    rule: str
    source: str


def find_kcal(met: Fraction, body_mass_kg: Fraction, minutes: Fraction) -> Fraction:
    """Gross kilocalories by the rule above."""
    return met * Fraction(7, 2) * body_mass_kg / 200 * minutes


def measure_energy(routine: Routine, sets: Sequence[Performed], body_mass_kg: Fraction) -> Energy:
    """The energy of all sections but the talk at both ends.

    The time of a section, rests included, is shared out over its kinds of work by the length of their sets.
    """
    minutes: dict[str, Fraction] = {}
    for at, section in enumerate(routine.sections):
        if section.kind in TALK:
            continue
        mine = [one for one in sets if one.section_at == at]
        length = Fraction(round(section.end * 1000) - round(section.start * 1000), 60_000)
        spans = {id(one): max(one.end_ms - one.start_ms, 1) for one in mine}
        whole = sum(spans.values())
        for one in mine:
            kind = judge_kind(one)
            minutes[kind] = minutes.get(kind, Fraction(0)) + length * spans[id(one)] / whole
        if not mine:
            minutes[""] = minutes.get("", Fraction(0)) + length
    unknown = minutes.pop("", Fraction(0))
    parts = tuple(_find_part(kind, time, body_mass_kg) for kind, time in sorted(minutes.items()))
    kcal = add_all(part.kcal for part in parts)
    return Energy(
        body_mass_kg=body_mass_kg,
        kcal=kcal,
        kj=kcal.scale(KJ_IN_KCAL),
        parts=parts,
        unknown_minutes=unknown,
        rule=RULE,
        source=EDITION,
    )


def judge_kind(one: Performed) -> str:
    """The kind of work of a set, empty when its movement is unknown."""
    if not one.pattern:
        return ""
    if one.pattern in _BY_PATTERN:
        return _BY_PATTERN[one.pattern]
    if one.section in ("warm_up", "cool_down"):
        return "light"
    if one.arrangement in ("circuit", "interval"):
        return "circuit"
    return "resistance" if one.loaded or one.weighted else "calisthenics"


def _find_part(kind: str, minutes: Fraction, body_mass_kg: Fraction) -> EnergyPart:
    low, high = find_activities(kind)
    kcal = Between(*(find_kcal(row.met, body_mass_kg, minutes) for row in (low, high)))
    return EnergyPart(kind, minutes, (low.code, high.code), (low.met, high.met), kcal)
