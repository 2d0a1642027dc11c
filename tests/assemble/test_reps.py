"""How many: where a rep target may come from, and where it must not."""

from __future__ import annotations

import pytest

from make_class import decide, decide_exercises, lay_out_class
from setdown.assemble.ranker import Candidate
from setdown.assemble.rep_values import make_reps, rep_key
from setdown.assemble.reps import rep_candidates
from setdown.model.routine import Reps

ONE = "goblet squats {} ready _2 [ and down _20 {} ] and rest"


def offer_reps(text: str, **settled: object) -> dict[str, Candidate]:
    """The candidates for the last set by key, with ``settled`` fields on the sets before."""
    context = lay_out_class(text)
    decide_exercises(context, *["goblet-squat"] * len(context.drafts))
    for draft in context.drafts[:-1]:
        decide(draft, **settled)
    return {c.key: c for c in rep_candidates(context, len(context.drafts) - 1)}


def test_none_is_always_offered():
    """A set need not have a number of reps."""
    found = offer_reps(ONE.format("", ""))
    assert found[""].value is None
    assert found[""].origin == "inferred"


@pytest.mark.parametrize(
    ("said", "key"),
    [("ten reps", "10"), ("eight to ten reps", "8-10"), ("as many as you can", "max"), ("for 15 reps", "15")],
)
def test_what_is_said_is_offered(said, key):
    """A number, a range, or as many as possible, with the words that say so."""
    found = offer_reps(ONE.format(said, ""))
    assert found[key].origin == "said"
    assert found[key].evidence
    assert "said here" in found[key].features


def test_counting_is_a_candidate():
    """The highest number counted is a guess at the target, not something that was said to be it."""
    found = offer_reps(ONE.format("", "one _3 two _3 three _3 four"))
    assert found["4"].origin == "inferred"
    assert "counted to" in found["4"].features


def test_counted_and_left_add_up():
    """'Six, two more' comes to eight."""
    assert "counted and left" in offer_reps(ONE.format("", "five _3 six _3 two more"))["8"].features


def test_a_declared_number_is_offered_to_every_set():
    """'Ten of everything today' reaches a set that says nothing."""
    found = offer_reps(
        "today everything is ten reps _9 "
        + "find some space and stand tall for me okay _2 [ and down _20 ] and rest _20 " * 2,
        reps=None,
        work_s=None,
    )
    assert found["10"].origin == "declared"
    assert [m.start for m in found["10"].evidence] == [3]


def test_last_time_is_carried():
    """The set before of the same move offers its reps, with its evidence."""
    found = offer_reps("[ and down _20 ] same again _2 [ and down _20 ] and rest", reps=Reps(lo=12, hi=12))
    assert found["12"].origin == "carried"
    assert {"as last time", "as the set before"} <= set(found["12"].features)


def test_a_scheme_counts_by_round():
    """'Twelve, ten, eight': the second round has ten."""
    context = lay_out_class(
        "three sets and the reps are twelve ten and eight _9 " + "okay _2 [ and down _20 ] and rest _20 " * 3
    )
    assert context.index.within("scheme", 0, 99)
    decide_exercises(context, *["goblet-squat"] * 3)
    for number, draft in enumerate(context.drafts, 1):
        draft.round = number
    for at, reps in enumerate(("12", "10", "8")):
        offered = {c.key: c for c in rep_candidates(context, at)}
        assert "by the scheme" in offered[reps].features
        assert offered[reps].origin == "declared"


@pytest.mark.parametrize(
    ("lo", "hi", "to_failure", "key"),
    [(8, 8, False, "8"), (8, 10, False, "8-10"), (None, None, True, "max"), (None, None, False, "")],
)
def test_reps_have_a_key(lo, hi, to_failure, key):
    """The form of the sheet; empty for none."""
    assert rep_key(make_reps(lo, hi, to_failure)) == key


@pytest.mark.parametrize(("lo", "hi"), [(0, 0), (10, 8), (1001, 1001), (-3, 5), (None, 5), (5, None)])
def test_numbers_that_are_no_target(lo, hi):
    """What the model would refuse is no candidate."""
    assert make_reps(lo, hi) is None


def lay_out_rounds(moves: tuple[str, ...], targets: tuple[int, ...]) -> dict[str, Candidate]:
    """The candidates for the set after ``targets``, when ``moves`` are done in turn and nobody says a number."""
    sets = len(targets) + 1
    context = lay_out_class("okay _2 [ and down _20 ] and rest _20 " * sets)
    decide_exercises(context, *[moves[k % len(moves)] for k in range(sets)])
    for k, draft in enumerate(context.drafts):
        draft.round = k // len(moves) + 1
        if k < len(targets):
            decide(draft, reps=Reps(lo=targets[k], hi=targets[k]))
    return {c.key: c for c in rep_candidates(context, len(targets))}


def test_a_ladder_goes_on_by_its_step():
    """Ten, eight, six lead to four, and back up to eight."""
    found = lay_out_rounds(("goblet-squat",), (10, 8, 6))
    assert {"on by its step", "on by its regular step"} <= set(found["4"].features)
    assert "back by its regular step" in found["8"].features
    assert "on by its regular step" not in lay_out_rounds(("goblet-squat",), (12, 8, 6))["4"].features


def test_a_step_never_leads_below_one():
    """Three, two, one is over."""
    found = lay_out_rounds(("goblet-squat",), (3, 2, 1))
    assert "0" not in found
    assert all(c.value is None or c.value.lo >= 1 for c in found.values())


def test_a_move_moves_as_its_mate():
    """When the squat went from ten to eight, the swing may go by the same step or in proportion; else it stays."""
    found = lay_out_rounds(("goblet-squat", "kettlebell-swing"), (10, 20, 8))
    assert "moves as its mate" in found["18"].features
    assert "in proportion to its mate" in found["16"].features
    assert "as last time, its mate moved" in found["20"].features
    found = lay_out_rounds(("goblet-squat", "kettlebell-swing"), (10, 20, 10))
    assert "as last time, its mate stayed" in found["20"].features
    assert not any("moves as its mate" in c.features for c in found.values())


@pytest.mark.parametrize(
    ("said", "key", "feature"),
    [
        ("now three big breaths", "3", "stands as breaths"),
        ("six rounds of breath", "6", "stands as sets"),
        ("the other pair twelve altogether", "12", "stands as ordinal"),
    ],
)
def test_a_bare_number_before_the_work_may_be_the_target(said, key, feature):
    """Whatever it was taken for."""
    assert feature in offer_reps(ONE.format(said, ""))[key].features


def test_counting_that_starts_anew_adds_up():
    """Twice to eight is sixteen."""
    found = offer_reps(ONE.format("", "six _2 seven _2 eight _2 lovely tall _2 three _2 four _2 seven _2 eight"))
    assert {"counted anew", "counted anew, alike"} <= set(found["16"].features)
    assert not any("counted anew" in c.features for c in offer_reps(ONE.format("", "three _2 four _2 five")).values())


@pytest.mark.parametrize("side", ["each", None])
def test_a_target_for_each_side_offers_both_sides_too(side):
    """'Five one way and five the other' are ten where sides are not told apart."""
    context = lay_out_class(ONE.format("five one way and five the other", ""))
    decide_exercises(context, "goblet-squat")
    decide(context.drafts[0], side=side)
    found = {c.key: c for c in rep_candidates(context, 0)}
    assert f"said each side, side {side or 'none'}" in found["5"].features
    assert f"twice what is said each side, side {side or 'none'}" in found["10"].features


def test_the_name_beside_a_number_tells_whose_it_is():
    """Of two moves announced together, each number stands after its own name or after the other's."""
    found = offer_reps("goblet squats ten reps and then push ups eight reps okay _2 [ and down _20 ] and rest")
    assert "after the own name" in found["10"].features
    assert {"after another name", "last in the set-up"} <= set(found["8"].features)


def test_the_second_side_tells_of_the_first():
    """Often only the second side is counted, or has its number said."""
    text = "okay _2 [ and down _20 ] other leg ten reps _2 [ four _2 five _2 nine ] and rest"
    context = lay_out_class(text)
    decide_exercises(context, "reverse-lunge", "reverse-lunge")
    found = {c.key: c for c in rep_candidates(context, 0)}
    assert "the next set of this move says it" in found["10"].features
    assert "the next set of this move counts to it" in found["9"].features
    decide_exercises(context, "reverse-lunge", "goblet-squat")
    assert not {"9", "10"} & {c.key for c in rep_candidates(context, 0)}
