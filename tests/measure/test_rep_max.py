"""Rep-max estimates and the load table: published formulas and a published chart."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from measure.make_measured import make_class, make_sets
from setdown.errors import SetdownError
from setdown.lexicon import load_lexicon
from setdown.measure import measure_routine, parse_own
from setdown.measure.rep_max import FACTORS, LOAD_CHART, estimate_rep_max, make_load_table, scale_load

NAMES = (
    "Epley 1985",
    "Brzycki 1993",
    "Lander 1985",
    "Lombardi 1989",
    "Mayhew 1992",
    "O'Conner 1989",
    "Wathan 1994",
)
# 100 at r repetitions, worked out from the formulas as printed in Mayhew et al., J Strength Cond Res 2008;22:1570-1577
# and Whisenant et al., J Strength Cond Res 2003;17:221-227 (read in copies), in the order of NAMES.
TABLE = {
    1: (103.33, 100.00, 101.39, 100.00, 108.86, 102.50, 101.30),
    2: (106.67, 102.86, 104.21, 107.18, 111.44, 105.00, 105.15),
    3: (110.00, 105.88, 107.20, 111.61, 113.99, 107.50, 108.98),
    5: (116.67, 112.50, 113.71, 117.46, 119.01, 112.50, 116.58),
    8: (126.67, 124.14, 125.11, 123.11, 126.29, 120.00, 127.67),
    10: (133.33, 133.33, 134.07, 125.89, 130.93, 125.00, 134.75),
    12: (140.00, 144.00, 144.41, 128.21, 135.40, 130.00, 141.50),
    15: (150.00, 163.64, 163.31, 131.10, 141.72, 137.50, 150.91),
}
# NSCA, Training Load Chart (from Essentials of Strength Training and Conditioning; read in copies): loads at 2, 3, 4,
# 5, 6, 7, 8, 9, 10 and 12 repetitions.
CHART = {
    100: "95 93 90 87 85 83 80 77 75 70",
    150: "142.5 139.5 135 130.5 127.5 124.5 120 115.5 112.5 105",
    200: "190 186 180 174 170 166 160 154 150 140",
    250: "237.5 232.5 225 217.5 212.5 207.5 200 192.5 187.5 175",
}


@pytest.mark.parametrize("reps", TABLE)
def test_every_formula_of_the_table(reps):
    """Each formula gives the value worked out from its printed form, to the cent."""
    assert tuple(FACTORS) == NAMES
    assert tuple(round(100 * factor(reps), 2) for factor in FACTORS.values()) == TABLE[reps]


def test_225_for_five():
    """The example that circulates with wrong values: computed from the formulas instead."""
    found = dict(estimate_rep_max(225, 5).by_formula)
    rounded = tuple(round(found[name], 2) for name in NAMES)
    assert rounded == (262.50, 253.12, 255.85, 264.29, 267.77, 253.12, 262.31)
    assert found["Brzycki 1993"] == found["O'Conner 1989"] == 253.125


@settings(deadline=None, max_examples=100)
@given(st.integers(1, 500))
def test_where_formulas_meet(load):
    """Epley = Brzycki = 4/3 at ten repetitions; O'Conner = Brzycki = 9/8 at five: by algebra."""
    ten, five = dict(estimate_rep_max(load, 10).by_formula), dict(estimate_rep_max(load, 5).by_formula)
    assert ten["Epley 1985"] == pytest.approx(ten["Brzycki 1993"]) == pytest.approx(load * 4 / 3)
    assert five["O'Conner 1989"] == pytest.approx(five["Brzycki 1993"]) == pytest.approx(load * 9 / 8)


def test_one_repetition_is_itself():
    """A single repetition is the maximum, whatever the formulas make of it."""
    assert set(dict(estimate_rep_max(80, 1).by_formula).values()) == {80.0}


@settings(deadline=None, max_examples=100)
@given(st.integers(1, 300), st.integers(1, 14))
def test_more_repetitions_mean_more(load, reps):
    """Every formula rises with the repetitions."""
    fewer, more = estimate_rep_max(load, reps), estimate_rep_max(load, reps + 1)
    assert all(a < b for (_, a), (_, b) in zip(fewer.by_formula, more.by_formula, strict=True))
    assert more.rough == (reps + 1 > 10)


@pytest.mark.parametrize("reps", [0, -1, 16, 37])
def test_outside_the_valid_range_there_is_no_estimate(reps):
    """Beyond fifteen repetitions (Brzycki has no value at 37) nothing is given."""
    with pytest.raises(SetdownError, match="no rep-max estimate"):
        estimate_rep_max(50, reps)


@pytest.mark.parametrize("rep_max", CHART)
def test_the_published_chart(rep_max):
    """NSCA Training Load Chart, row for row; 12 repetitions are 70 per cent there."""
    table = make_load_table(rep_max)
    assert [load for reps, load in table if reps > 1] == [Fraction(load) for load in CHART[rep_max].split()]
    assert [reps for reps, _ in table] == [*range(1, 11), 12]
    assert LOAD_CHART[12] == 70


@settings(deadline=None, max_examples=100)
@given(st.integers(1, 300), st.integers(1, 15), st.integers(1, 15))
def test_scaling_there_and_back(load, reps, wanted):
    """The repetitions that were done give the load back; fewer repetitions allow no less."""
    assert scale_load(load, reps, reps) == pytest.approx((load, load))
    lo, hi = scale_load(load, reps, wanted)
    assert lo <= hi
    if wanted < reps:
        assert lo > load
    elif wanted > reps:
        assert hi < load


def test_the_class_in_the_readers_numbers():
    """Each number of repetitions that the class asked for gets a range; what no estimate holds for says why."""
    lexicon = load_lexicon()
    own = parse_own("overhead press=20kg x 8", lexicon)
    sets = make_sets(
        ("overhead-press", {"reps": 8, "load": (15, "lb", "per_hand")}),
        ("overhead-press", {"reps": 12, "load": (12, "lb", "per_hand")}),
        ("overhead-press", {"reps": 20}),
        ("overhead-press", {"work_s": 30.0}),
        ("squat", {"reps": 8}),
    )
    measures = measure_routine(make_class(sets), lexicon=lexicon, own=[own])
    same, more, many, timed = measures.own_loads
    assert (same.lo, same.hi, same.rough, same.used) == (
        pytest.approx(20),
        pytest.approx(20),
        False,
        ("15 lb per hand",),
    )
    assert more.rough and more.hi < 20  # between the formulas' ratios at 8 and 12 repetitions, by hand:
    assert more.lo == pytest.approx(20 * 124.14 / 144.00, abs=0.01)  # Brzycki falls fastest
    assert more.hi == pytest.approx(20 * 123.11 / 128.21, abs=0.01)  # Lombardi slowest
    assert (many.lo, many.why, timed.why) == (None, "no estimate above 15 repetitions", "no number of repetitions")
    assert any("Rep-max estimates hold for" in caution for caution in measures.cautions)


@pytest.mark.parametrize(
    "text", ["press", "overhead press=20", "overhead press=20kg", "overhead press=kg x 8", "=2kg x 8"]
)
def test_a_set_of_ones_own_in_another_form(text):
    """The message shows the form that is wanted."""
    with pytest.raises(SetdownError, match="goblet squat=20kg x 8"):
        parse_own(text, load_lexicon())


def test_a_range_of_reps_is_scaled_for_its_higher_end():
    """For 8 to 12 repetitions the lighter load is given, that of 12."""
    lexicon = load_lexicon()
    sets = make_sets(("overhead-press", {"reps": (8, 12)}))
    (line,) = measure_routine(make_class(sets), own=[parse_own("overhead press=20kg x 8", lexicon)]).own_loads
    assert (line.reps, line.rough) == (12, True)


def test_a_set_of_ones_own_that_cannot_be_used():
    """An unknown movement and too many repetitions are told."""
    with pytest.raises(SetdownError, match="no movement is called"):
        parse_own("zzyzx wobble=20kg x 8", load_lexicon())
    with pytest.raises(SetdownError, match="30 repetitions"):
        parse_own("overhead press=20kg x 30", load_lexicon())
