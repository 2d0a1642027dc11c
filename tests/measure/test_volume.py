"""Volume load: published examples, the counting of hands and sides, and what is not known."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from measure.make_measured import make_class, make_one, make_sets
from setdown.measure import measure_routine
from setdown.measure.rep_max import find_intensity
from setdown.measure.units import round_amount
from setdown.measure.volume import find_volume_load
from setdown.measure.work_rest import find_density
from setdown.model.routine import Load, Reps

LOADS = st.one_of(
    st.none(),
    st.builds(
        Load,
        value=st.decimals(1, 200, places=1),
        unit=st.sampled_from(["lb", "kg", "pct1rm"]),
        basis=st.sampled_from(["per_hand", "total", None]),
    ),
    st.builds(Load, rel=st.sampled_from(["lighter", "heavier"])),
)
REPS = st.one_of(st.none(), st.integers(1, 30), st.tuples(st.integers(1, 8), st.integers(8, 15)))
SETS = st.lists(
    st.builds(
        make_one,
        st.sampled_from(["biceps-curl", "single-arm-row", "split-squat", "bench-press", "no-such-move"]),
        st.floats(0, 3000).map(lambda s: round(s, 2)),
        reps=REPS,
        load=LOADS,
        side=st.sampled_from([None, "left", "right", "each"]),
    ),
    max_size=8,
)


def measure_volume_of(sets):
    """The volume load of a class of these sets."""
    return measure_routine(make_class(sets)).volume


def test_the_published_constant_load():
    """BMJ Military Health 2022;168:314-319, Table 1: 3 x 8 x 65 kg = 1560."""
    sets = make_sets(*[("bench-press", {"reps": 8, "load": (65, "kg", "total")})] * 3)
    assert measure_volume_of(sets).volume_kg.lo == 1560
    assert find_volume_load([(8, 65)] * 3) == 1560


def test_the_published_varying_load():
    """The same table: (10 x 55) + (8 x 65) + (6 x 75) = 1520 kg."""
    sets = make_sets(
        *(("bench-press", {"reps": r, "load": (w, "kg", "total")}) for r, w in ((10, 55), (8, 65), (6, 75)))
    )
    volume = measure_volume_of(sets)
    assert (volume.volume_kg.lo, volume.volume_kg.hi, volume.reps.lo) == (1520, 1520, 24)


def test_the_published_intensity():
    """The same table: 1520 / 24 = 63 (63.33), 57 % of 110 kg (57.58; printed from the rounded 63)."""
    sets = make_sets(
        *(("bench-press", {"reps": r, "load": (w, "kg", "total")}) for r, w in ((10, 55), (8, 65), (6, 75)))
    )
    intensity = measure_volume_of(sets).intensity_kg
    assert str(round_amount(intensity.lo, 2)) == "63.33"
    mean, share = find_intensity(Fraction(1520), Fraction(24), Fraction(110))
    assert mean == intensity.lo
    assert str(round_amount(share * 100, 2)) == "57.58"


def test_the_published_density():
    """The same table: 1560 / 45 min = 34.7 (34.667)."""
    assert str(round_amount(find_density(Fraction(1560), Fraction(45)), 3)) == "34.667"
    sets = [
        make_one("bench-press", start, end, reps=8, load=(65, "kg", "total"))
        for start, end in ((0, 60), (600, 660), (2640, 2700))
    ]
    assert str(round_amount(measure_routine(make_class(sets)).density_kg.lo, 3)) == "34.667"


@pytest.mark.parametrize(
    ("exercise", "reps", "side", "basis", "lb"),
    [
        ("biceps-curl", 12, None, "per_hand", 720),  # 3 x 12 x 20: ten in each hand
        ("biceps-curl", 12, None, "total", 360),  # 'ten pounds total'
        ("single-arm-row", 12, "each", "per_hand", 720),  # 3 x 24 x 10: one arm, twelve each side
        ("single-arm-row", 12, "left", "per_hand", 360),
        ("biceps-curl", 12, "left", "per_hand", 360),  # one arm alone
        ("alternating-overhead-press", 12, None, "per_hand", 360),  # arms in turn: one hand in each repetition
        ("split-squat", 12, "left", "per_hand", 720),  # the side is a leg's, both hands hold
        ("split-squat", 12, "each", "per_hand", 1440),
        ("squat", 12, "left", "per_hand", 360),  # racked on one side
        ("no-such-move", 12, None, "per_hand", 720),
    ],
)
def test_hands_and_sides(exercise, reps, side, basis, lb):
    """Per hand counts twice, each side counts twice, total once (common practice, no source)."""
    sets = make_sets(*[(exercise, {"reps": reps, "side": side, "load": (10, "lb", basis)})] * 3)
    volume = measure_volume_of(sets)
    assert volume.volume_lb.lo == lb
    assert volume.volume_kg.lo == lb * Fraction("0.45359237")  # NIST SP 811


@pytest.mark.parametrize(
    ("exercise", "origin", "lb"),
    [
        ("goblet-squat", "inferred", 240),
        ("goblet-squat", "carried", 240),
        ("goblet-squat", "said", 480),  # 'a twenty in each hand'
        ("goblet-squat", "edited", 480),
        ("biceps-curl", "inferred", 480),
    ],
)
def test_one_weight_is_not_counted_twice_on_a_guess(exercise, origin, lb):
    """A move that one weight is usual for has it counted once, unless someone said that each hand holds one: 12 x 20 lb
    (common practice, no source)."""
    sets = make_sets((exercise, {"reps": 12, "load": (20, "lb", "per_hand"), "origin": {"basis": origin}}))
    assert measure_volume_of(sets).volume_lb.lo == lb


def test_720_pounds_to_the_last_digit():
    """720 lb x 0.45359237 = 326.58650640 kg (NIST SP 811), in the JSON too."""
    sets = make_sets(*[("biceps-curl", {"reps": 12, "load": (10, "lb", "per_hand")})] * 3)
    plain = measure_routine(make_class(sets)).as_dict()["volume"]
    assert (plain["volume_kg"]["lo"], plain["volume_lb"]["lo"]) == (326.5865064, 720)


def test_a_range_of_reps_is_a_range_of_load():
    """8 to 10 repetitions stay 8 to 10."""
    volume = measure_volume_of([make_one("bench-press", reps=(8, 10), load=(50, "kg", "total"))])
    assert (volume.volume_kg.lo, volume.volume_kg.hi) == (400, 500)


def test_what_is_not_known_is_counted():
    """Each set with a load that cannot be counted has its reason, and no figure stands in for it."""
    sets = make_sets(
        ("bench-press", {"reps": 8, "load": (50, "kg", "total")}),
        ("bench-press", {"load": (50, "kg", "total")}),
        ("bench-press", {"work_s": 40.0, "load": (50, "kg", "total")}),
        ("bench-press", {"reps": Reps(to_failure=True), "counted": 9, "load": (50, "kg", "total")}),
        ("bench-press", {"reps": 8, "load": (50, "kg", None)}),
        ("bench-press", {"reps": 8, "load": (70, "pct1rm", "total")}),
        ("bench-press", {"reps": 8, "load": (70, None, "total")}),
        ("bench-press", {"reps": 8, "load": Load(rel="lighter")}),
        ("bench-press", {"reps": 8}),
        ("push-up", {"reps": 8}),
    )
    measures = measure_routine(make_class(sets))
    assert (measures.volume.volume_kg.lo, measures.volume.counted_sets, measures.volume.loaded_sets) == (400, 1, 8)
    assert measures.volume.weighted_without_load == 1
    assert measures.gaps == (
        "1 of 8 loaded sets says only lighter or heavier",
        "1 of 8 loaded sets has its load in per cent",
        "1 of 8 loaded sets has a load without a unit",
        "1 of 8 loaded sets does not say whether the load is in each hand",
        "1 of 8 loaded sets was done for as many reps as possible",
        "2 of 8 loaded sets have no reps",
        "1 set of moves usually done with weights: no load was said",
        "1 of 10 sets has neither reps nor seconds said",
    )


def test_nothing_known_is_not_nothing_lifted():
    """Without one set that is known, the volume load is unknown rather than 0."""
    volume = measure_volume_of([make_one("bench-press", load=(50, "kg", "total"))])
    assert (volume.volume_kg, volume.volume_lb, volume.intensity_kg) == (None, None, None)


@settings(deadline=None, max_examples=60)
@given(SETS, SETS)
def test_volume_is_additive(first, second):
    """The volume of two lists of sets is the sum of their volumes, exactly."""
    both, a, b = (measure_volume_of(sets) for sets in (first + second, first, second))
    for unit in ("volume_kg", "volume_lb"):
        parts = [getattr(one, unit) for one in (a, b) if getattr(one, unit)]
        whole = getattr(both, unit)
        if not parts:
            assert whole is None
        else:
            assert (whole.lo, whole.hi) == (sum(p.lo for p in parts), sum(p.hi for p in parts))
    assert both.loaded_sets == a.loaded_sets + b.loaded_sets
    assert both.counted_sets + sum(count for _, count in both.missing) == both.loaded_sets


@settings(deadline=None, max_examples=60)
@given(SETS, st.randoms(use_true_random=False))
def test_the_order_of_sets_does_not_matter(sets, chance: random.Random):
    """No sum or count depends on the order in which the sets stand."""
    mixed = list(sets)
    chance.shuffle(mixed)
    one, other = measure_routine(make_class(sets)), measure_routine(make_class(mixed))
    for part in ("work_rest", "patterns", "muscles", "muscle_groups", "sides", "push_pull", "tension", "gaps"):
        assert getattr(one, part) == getattr(other, part)
    assert one.volume.volume_kg == other.volume.volume_kg
    assert {v.exercise: v.volume_kg for v in one.volume.by_movement} == {
        v.exercise: v.volume_kg for v in other.volume.by_movement
    }


@settings(deadline=None, max_examples=60)
@given(SETS)
def test_movements_add_up_to_the_whole(sets):
    """The volume by exercise and by section is all of the volume."""
    volume = measure_volume_of(sets)
    if volume.volume_kg is not None:
        assert sum(one.volume_kg.hi for one in volume.by_movement) == volume.volume_kg.hi
        assert sum(kg.lo for _, kg in volume.by_section_kg) == volume.volume_kg.lo
        assert volume.volume_kg.lo <= volume.volume_kg.hi
