"""Sets by pattern and muscle, sides, push and pull, time under tension, work and rest."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from measure.make_measured import make_class, make_one, make_sets
from setdown.lexicon import load_lexicon
from setdown.measure import Conventions, measure_routine
from setdown.measure.tension import parse_tempo
from setdown.measure.work_rest import merge_spans

HALF = Fraction(1, 2)


def groups_of(*sets, **options):
    """Sets for each muscle group, by id."""
    measures = measure_routine(make_class(make_sets(*sets)), conventions=Conventions(**options))
    return {one.muscle: one.sets for one in measures.muscle_groups if one.sets}


def test_first_counts_one_and_helping_a_half():
    """Fractional counting, direct 1 and indirect 0.5: Pelland et al., SportRxiv preprint, 2024."""
    movement = load_lexicon().movements["biceps-curl"]
    assert (movement.primary, movement.secondary) == (("biceps",), ("forearms",))
    assert groups_of(("biceps-curl", {}), ("biceps-curl", {})) == {"biceps": 2, "forearms": 1}


def test_the_share_can_be_changed():
    """Direct only (0) and total (1) are the other two countings of the same preprint."""
    assert groups_of(("biceps-curl", {}), secondary=Fraction(0)) == {"biceps": 1}
    assert groups_of(("biceps-curl", {}), secondary=Fraction(1)) == {"biceps": 1, "forearms": 1}


def test_a_set_counts_once_in_a_group():
    """A row works latissimus and rhomboids, both of the upper back: one set of the upper back, not two."""
    lexicon = load_lexicon()
    movement = lexicon.movements["single-arm-row"]
    assert len([m for m in movement.primary if lexicon.muscles[m].group == "upper_back"]) > 1
    assert groups_of(("single-arm-row", {}))["upper_back"] == 1


def test_a_group_that_is_worked_first_does_not_help_as_well():
    """A crunch works rectus abdominis first and the external oblique helps: one set of the abdominals, not 1.5."""
    lexicon = load_lexicon()
    movement = lexicon.movements["crunch"]
    assert (movement.primary, movement.secondary) == (("rectus_abdominis",), ("external_oblique",))
    assert groups_of(("crunch", {})) == {"abdominals": 1}


def test_two_sides_are_one_set():
    """Left and right make one set, and so does 'each side' (common practice, no source)."""
    sides = groups_of(("single-arm-row", {"side": "left"}), ("single-arm-row", {"side": "right"}))
    assert sides == groups_of(("single-arm-row", {"side": "each"})) == groups_of(("single-arm-row", {}))
    assert groups_of(("single-arm-row", {"side": "left"}))["upper_back"] == HALF


def test_stretching_is_counted_apart():
    """A stretch is not a set of work; its muscles are listed as eased."""
    measures = measure_routine(make_class(make_sets(("hamstring-stretch", {"side": "left"}))))
    assert [(one.muscle, one.sets, one.eased) for one in measures.muscles if one.eased] == [("hamstrings", 0, HALF)]


def test_only_the_chosen_sections_count():
    """Warm-ups are left out unless asked for; a class without the chosen sections is counted whole."""
    routine = make_class(make_sets(("squat", {})))
    warm = make_class(make_sets(("squat", {})), "warm_up")
    both = routine.model_copy(update={"sections": [*warm.sections, *routine.sections]})
    assert measure_routine(both).counted_sections == ("main",)
    assert measure_routine(both).patterns[0].sets == 1
    every = measure_routine(both, conventions=Conventions(sections=("warm_up", "main")))
    assert every.patterns[0].sets == 2
    assert measure_routine(warm).counted_sections == ("warm_up",)
    assert "these sections: warm up." in " ".join(measure_routine(warm).conventions)


def test_patterns_with_their_reps():
    """Sets and known repetitions, both sides counted; the sets without are told."""
    sets = make_sets(
        ("squat", {"reps": 10}),
        ("goblet-squat", {"reps": (8, 12)}),
        ("squat", {}),
        ("single-arm-row", {"reps": 10, "side": "each"}),
        ("no-such-move", {"reps": 5}),
    )
    measures = measure_routine(make_class(sets))
    squat, unknown, pull = measures.patterns
    assert (squat.pattern, squat.sets, squat.reps.lo, squat.reps.hi, squat.sets_without_reps) == ("squat", 3, 18, 22, 1)
    assert (unknown.pattern, unknown.sets, measures.unknown_movements) == ("", 1, 1)
    assert (pull.pattern, pull.reps.lo) == ("horizontal_pull", 20)
    assert "1 of 5 sets is of a movement that the lexicon does not know" in measures.gaps


def test_left_and_right():
    """Each side has its sets, repetitions and seconds; what is uneven is named."""
    sets = make_sets(
        ("single-arm-row", {"reps": 10, "side": "left"}),
        ("single-arm-row", {"reps": 8, "side": "right"}),
        ("split-squat", {"reps": 6, "side": "each"}),
        ("side-plank", {"side": "left"}),
        ("squat", {"reps": 10}),
    )
    sides = measure_routine(make_class(sets)).sides
    assert (sides.left.sets, sides.left.reps.lo, sides.left.seconds) == (3, 16, 100)
    assert (sides.right.sets, sides.right.reps.lo, sides.right.seconds) == (2, 14, 60)
    assert (sides.each, sides.none) == (1, 1)
    assert [(one.name, one.left, one.right) for one in sides.uneven] == [("side plank", 1, 0)]


def test_push_and_pull():
    """Presses against rows and pull-ups; curls are neither, combined moves stand apart, and no verdict is given."""
    sets = make_sets(
        ("push-up", {"reps": 10}),
        ("overhead-press", {"reps": 10, "load": (10, "kg", "per_hand")}),
        ("bench-press", {}),
        ("bent-over-row", {"reps": 12, "load": (10, "kg", "per_hand")}),
        ("pull-up", {}),
        ("biceps-curl", {"reps": 10}),
        ("thruster", {"reps": 10}),
    )
    measures = measure_routine(make_class(sets))
    both = measures.push_pull
    assert (both.push.sets, both.push.horizontal_sets, both.push.vertical_sets, both.push.reps.lo) == (3, 2, 1, 20)
    assert (both.push.volume_kg.lo, both.pull.volume_kg.lo) == (200, 240)
    assert (both.pull.sets, both.pull.horizontal_sets, both.pull.vertical_sets) == (2, 1, 1)
    assert (both.ratio, both.combined_sets) == (Fraction(3, 2), 1)
    assert any("no published norm for push to pull" in caution for caution in measures.cautions)


@pytest.mark.parametrize(
    ("tempo", "lo", "hi"),
    [
        ("3-1-1", 5, 5),  # BMJ Military Health 2022;168:314-319, Table 1: eccentric, isometric, concentric
        ("2/0/2/0", 4, 4),  # studies in the manner of Wilk, Zajac, Tufano, Sports Med 2021;51:1629-1650
        ("5/0/3/0", 8, 8),
        ("6/0/4/0", 10, 10),
        ("4010", 5, 5),
        ("2/0/X/0", 2, 3),  # X, as fast as possible: 0 to 1 s (common practice, no source)
        ("2/0/X", 2, 3),
    ],
)
def test_seconds_of_a_tempo(tempo, lo, hi):
    """Digits are seconds, lowering first; the published notations."""
    each = parse_tempo(tempo)
    assert (each.lo, each.hi) == (lo, hi)


@pytest.mark.parametrize("tempo", ["", "3 s lower", "slow", "3-1", "3-1-1-1-1", "10-1-1"])
def test_half_a_tempo_is_not_one(tempo):
    """Without all phases the seconds of a repetition are not known."""
    assert parse_tempo(tempo) is None


def test_time_under_tension_says_what_it_rests_on():
    """Tempo x repetitions, seconds said, or at most the length on the recording: never mixed. 4-0-1-0 x 10 is 50 s."""
    sets = make_sets(
        ("squat", {"reps": 10, "tempo": "4-0-1-0"}),
        ("squat", {"reps": (8, 10), "tempo": "3-1-1"}),
        ("plank", {"work_s": 30.0}),
        ("squat", {"tempo": "3-1-1"}),
        ("squat", {"reps": 5, "tempo": "1 s lift"}),
        ("hamstring-stretch", {"work_s": 30.0}),
    )
    tension = measure_routine(make_class(sets)).tension
    assert (tension.by_tempo_s.lo, tension.by_tempo_s.hi, tension.sets_by_tempo) == (90, 100, 2)
    assert (tension.by_time_s, tension.sets_by_time) == (30, 1)
    assert (tension.at_most_s, tension.sets_by_span) == (80, 2)


def test_work_rest_and_density():
    """Between the first set and the last, what is in no set is rest; overlaps count once."""
    sets = [make_one("squat", 10, 50), make_one("squat", 40, 70), make_one("squat", 100, 110)]
    time = measure_routine(make_class(sets)).work_rest
    assert (time.training_s, time.work_s, time.rest_s, time.longest_rest_s) == (100, 70, 30, 30)
    assert (time.density, time.class_s) == (Fraction(7, 10), 110)
    assert [(one.kind, one.work_s, one.sets) for one in time.sections] == [("main", 70, 3)]


def test_eight_rounds_of_twenty_and_ten():
    """Tabata et al., Med Sci Sports Exerc 1996;28:1327-1330: 20 s on, 10 s off; eight are 160 s of work in 230 s
    without the last rest."""
    sets = [make_one("high-knees", at * 30, at * 30 + 20, work_s=20.0) for at in range(8)]
    time = measure_routine(make_class(sets, arrangement="interval")).work_rest
    assert (time.work_s, time.training_s, time.rest_s) == (160, 230, 70)


def test_a_class_without_sets():
    """Nothing was done: no density, no counts, no division by nothing."""
    measures = measure_routine(make_class([]))
    assert (measures.sets, measures.work_rest.density, measures.density_kg) == (0, None, None)
    assert (measures.patterns, measures.muscles, measures.push_pull.ratio) == ((), (), None)


@settings(deadline=None, max_examples=100)
@given(st.lists(st.tuples(st.integers(0, 60), st.integers(0, 20)).map(lambda s: (s[0], s[0] + s[1])), max_size=12))
def test_joined_spans_cover_the_same_seconds(spans):
    """Second by second, against the plain way: the joined spans cover what the spans cover, and do not touch."""
    joined = merge_spans(spans)
    assert {t for a, b in joined for t in range(a, b)} == {t for a, b in spans for t in range(a, b)}
    assert all(a[1] < b[0] for a, b in pairwise(joined))
