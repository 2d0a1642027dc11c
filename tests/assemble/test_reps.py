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
