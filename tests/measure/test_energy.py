"""Energy: the published example, the Compendium's values, ranges and what is left out."""

from __future__ import annotations

from fractions import Fraction

import pytest

from measure.make_measured import make_class, make_one
from setdown.measure import measure_routine
from setdown.measure.compendium import ACTIVITIES, EDITION, KINDS
from setdown.measure.energy import find_kcal
from setdown.measure.words import ENERGY_CAUTION
from setdown.model.routine import Routine

# MET, kg, minutes, kcal by MET x 3.5 x kg / 200; worked out by hand.
EXAMPLES = [
    ("3.5", 70, 45, "192.9375"),
    ("2.3", 70, 5, "14.0875"),
    ("6.0", 80, 30, "252"),
    ("8.0", 60, 20, "168"),
    ("3.0", 70, 60, "220.5"),
]
# 2011 Compendium of Physical Activities, Ainsworth et al., Med Sci Sports Exerc 2011;43:1575-1581 (read in a copy).
COMPENDIUM_2011 = {
    "02020": "8.0",
    "02022": "3.8",
    "02024": "2.8",
    "02035": "4.3",
    "02040": "8.0",
    "02050": "6.0",
    "02054": "3.5",
    "02101": "2.3",
    "02150": "2.5",
    "02160": "4.0",
    "03020": "5.0",
    "03021": "7.3",
}


def test_the_published_example():
    """American Council on Exercise, expert answer: 10 MET, 68 kg is 11.9 kcal a minute, 357 in 30 minutes."""
    assert find_kcal(Fraction(10), Fraction(68), Fraction(1)) == Fraction("11.9")
    assert find_kcal(Fraction(10), Fraction(68), Fraction(30)) == 357


@pytest.mark.parametrize(("met", "kg", "minutes", "kcal"), EXAMPLES)
def test_the_rule(met, kg, minutes, kcal):
    """Exact, and 1.05 times the other common rule, MET x kg x hours."""
    found = find_kcal(Fraction(met), Fraction(kg), Fraction(minutes))
    assert found == Fraction(kcal)
    assert found == Fraction("1.05") * Fraction(met) * kg * minutes / 60


def test_the_compendiums_values():
    """Every code in use has the MET of the 2011 edition, and each kind has its low activity first."""
    assert {code: row.met for code, row in ACTIVITIES.items()} == {c: Fraction(m) for c, m in COMPENDIUM_2011.items()}
    assert all(ACTIVITIES[low].met < ACTIVITIES[high].met for low, high in KINDS.values())
    assert {code for pair in KINDS.values() for code in pair} == set(ACTIVITIES)


def energy_of(routine: Routine, kg: int = 70):
    """The energy for 70 kg."""
    return measure_routine(routine, body_mass_kg=Fraction(kg)).energy


def test_a_resistance_class_is_a_range():
    """45 minutes between 3.5 MET (02054) and 6.0 MET (02050), rests included: 192.9375 kcal and 330.75."""
    sets = [make_one("bench-press", at, at + 40, reps=8, load=(40, "kg", "total")) for at in range(0, 2700, 90)]
    routine = make_class(sets)
    routine.sections[0].end = 2700
    energy = energy_of(routine)
    assert (energy.kcal.lo, energy.kcal.hi) == (Fraction("192.9375"), Fraction("330.75"))
    assert energy.kj.lo == energy.kcal.lo * Fraction("4.184")
    assert energy.parts[0].codes == ("02054", "02050")
    assert energy.source == EDITION


def test_a_section_is_shared_out_by_its_sets():
    """30 s of lifting and 10 s of stretching: three quarters of the two minutes, rests and all, and one quarter."""
    sets = [make_one("bench-press", 0, 30, reps=8), make_one("hamstring-stretch", 60, 70)]
    routine = make_class(sets)
    routine.sections[0].end = 120
    minutes = {part.kind: part.minutes for part in energy_of(routine).parts}
    assert minutes == {"resistance": Fraction(3, 2), "stretching": Fraction(1, 2)}


@pytest.mark.parametrize(
    ("exercise", "kind", "arrangement", "expected"),
    [
        ("bench-press", "main", "straight", "resistance"),
        ("push-up", "main", "straight", "calisthenics"),
        ("push-up", "main", "circuit", "circuit"),
        ("bench-press", "main", "interval", "circuit"),
        ("squat", "warm_up", "flow", "light"),
        ("warrior-2", "main", "flow", "yoga"),
        ("grapevine", "main", "flow", "dance"),
    ],
)
def test_which_activity_stands_for_which_work(exercise, kind, arrangement, expected):
    """This project's choice (common practice, no source)."""
    energy = energy_of(make_class([make_one(exercise)], kind, arrangement))
    assert [part.kind for part in energy.parts] == [expected]


def test_what_cannot_be_judged_is_left_out_and_told():
    """Unknown moves and sections without sets add minutes to the unknown, not kilocalories; talk adds nothing."""
    unknown = energy_of(make_class([make_one("no-such-move", 0, 120)]))
    assert (unknown.kcal.hi, unknown.unknown_minutes) == (0, 2)
    assert energy_of(make_class([])).unknown_minutes == 1
    assert energy_of(make_class([], "intro")).unknown_minutes == 0


def test_no_body_mass_no_energy():
    """There is no body mass that is taken for granted; with one, the caution comes along."""
    routine = make_class([make_one("squat")])
    assert measure_routine(routine).energy is None
    assert ENERGY_CAUTION not in measure_routine(routine).cautions
    assert ENERGY_CAUTION in measure_routine(routine, body_mass_kg=Fraction(70)).cautions
