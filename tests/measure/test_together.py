"""Several classes: sums, and the monotony of a week."""

from __future__ import annotations

from fractions import Fraction

import pytest

from measure.make_measured import make_class, make_sets
from setdown.measure import add_measures, compare_measures, list_rows, measure_routine
from setdown.measure.together import find_monotony
from setdown.measure.units import round_amount


def measured(date: str = "", kg: int = 65):
    """Three sets of eight bench presses."""
    sets = make_sets(*[("bench-press", {"reps": 8, "load": (kg, "kg", "total")})] * 3)
    return measure_routine(make_class(sets, date=date), body_mass_kg=Fraction(70))


def test_the_published_monotony():
    """BMJ Military Health 2022;168:314-319, Table 1: 790 / 897 = 0.88 (0.8807)."""
    assert str(round_amount(find_monotony(Fraction(790), Fraction(897)), 4)) == "0.8807"


def test_a_week_of_two_classes():
    """1560 kg on two of seven days: mean 445.71, sample deviation 761.18 (by hand), monotony 0.5855."""
    week = [measured("2024-05-13"), measured("2024-05-16")]
    mean, deviation = 3120 / 7, ((2 * (1560 - 3120 / 7) ** 2 + 5 * (3120 / 7) ** 2) / 6) ** 0.5
    assert add_measures(week).monotony == pytest.approx(mean / deviation)
    assert add_measures(week).monotony == pytest.approx(0.5855, abs=0.0001)


@pytest.mark.parametrize("dates", [("", ""), ("2024-05-13", ""), ("2024-05-13", "2024-05-20")])
def test_no_week_no_monotony(dates):
    """Without dates, or over more than seven days, there is none."""
    assert add_measures([measured(date) for date in dates]).monotony is None


def test_sums():
    """Volume, sets, seconds and kilocalories add up."""
    one, other = measured(), measured(kg=60)
    both = add_measures([one, other])
    assert (both.classes, both.sets, both.volume_kg.lo) == (2, 6, 1560 + 1440)
    assert both.kcal.hi == one.energy.kcal.hi + other.energy.kcal.hi
    assert both.push_sets == 6
    assert {c.name: c.sets for c in both.muscle_groups} == {c.name: 2 * c.sets for c in one.muscle_groups}
    assert both == add_measures([other, one])


def test_side_by_side():
    """One line a measure, one column a class; a class without it has a dash."""
    stretch = measure_routine(make_class(make_sets(("hamstring-stretch", {"side": "left"}))))
    rows = compare_measures([measured(), stretch], "kg")
    found = {(row.heading, row.label): row.values for row in rows}
    assert found["volume load", "all sets"] == ("1560 kg", "-")
    assert found["sets by pattern", "stretch"] == ("-", "0.5 sets")
    headings = [row.heading for row in rows]
    assert sorted(set(headings), key=headings.index) == [
        h for i, h in enumerate(headings) if i == 0 or headings[i - 1] != h
    ]


def test_units_of_the_table():
    """Pounds, kilograms or both."""
    for units, shown in (("kg", "1560 kg"), ("lb", "3439 lb"), ("both", "3439 lb (1560 kg)")):
        rows = {(row.heading, row.label): row.value for row in list_rows(measured(), units)}
        assert rows["volume load", "all sets"] == shown  # 1560 / 0.45359237 = 3439.21 (NIST SP 811)
