"""What is added at the end of a set."""

from __future__ import annotations

import pytest

from make_class import decide, decide_exercises, lay_out_class
from setdown.assemble.finishers import PHRASES, finisher_candidates
from setdown.assemble.ranker import Candidate
from setdown.model.routine import Reps


def offer_finishers(text: str, **settled: object) -> dict[str, Candidate]:
    """The candidates for the last set by key."""
    context = lay_out_class(text)
    decide_exercises(context, *["goblet-squat"] * len(context.drafts))
    for draft in context.drafts[:-1]:
        decide(draft, **settled)
    return {c.key: c for c in finisher_candidates(context, len(context.drafts) - 1)}


def test_every_kind_is_offered():
    """Pulses, a hold, a drop, partials, and none."""
    assert set(offer_finishers("[ go _20 ] and rest")) == {*PHRASES, ""}


@pytest.mark.parametrize(
    ("said", "kind"),
    [("pulse pulse pulse", "pulses"), ("hold it there", "hold"), ("drop set", "drop"), ("half reps", "partials")],
)
def test_a_finisher_late_in_the_work_is_said(said, kind):
    """Its words are quoted; the other kinds have none."""
    found = offer_finishers(f"[ go _20 five more _10 last one {said} _5 ] and rest")
    assert found[kind].origin == "said"
    assert [m.kind for m in found[kind].evidence] == [PHRASES[kind]]
    others = [c for c in found.values() if c.key not in (kind, "")]
    assert not any(c.evidence for c in others)
    assert "none, nothing heard" not in found[""].features


def test_a_finisher_announced_before_the_work_is_declared():
    """'And pulses on the last one', said while getting ready."""
    found = offer_finishers("ten squats with pulses on the last one _2 [ go _20 five more _10 last one ] and rest")
    assert found["pulses"].origin == "declared"
    assert "pulses in setup" in found["pulses"].features


def test_a_hold_early_in_a_long_set_is_not_late():
    """'Hold it at your chest' is how the set begins."""
    talk = "keep going and chest up tall now lovely work everybody keep breathing and keep moving for me " * 3
    found = offer_finishers(f"[ and hold it there {talk} ] and rest")
    assert "hold in first half" in found["hold"].features
    assert "hold late" not in found["hold"].features
    assert found["hold"].origin == "declared"


def test_the_last_time_is_remembered():
    """The finisher of the same move one set before speaks for the same again."""
    found = offer_finishers("[ go _20 ] same again [ go _20 ] and rest", finisher="pulses")
    assert {"pulses last time", "pulses in the set before"} <= set(found["pulses"].features)
    assert "hold last time" not in found["hold"].features


def offer_after(text: str) -> dict[str, Candidate]:
    """The candidates for one set of ten with this talk in its work."""
    context = lay_out_class(f"ten reps ready _2 [ go _20 {text} ] and rest")
    decide_exercises(context, "goblet-squat")
    decide(context.drafts[0], reps=Reps(lo=10, hi=10))
    return {c.key: c for c in finisher_candidates(context, 0)}


def test_what_follows_the_target_speaks_for_a_finisher():
    """Counting anew after the tenth repetition is more than the set; a set that ends with it is not."""
    found = offer_after("eight _2 nine _2 ten and tiny _1 three four five six")
    assert {"pulses, counts anew", "pulses, counts anew <=6"} <= set(found["pulses"].features)
    assert "pulses heard as the target is reached" in found["pulses"].features
    found = offer_after("eight _2 nine _2 ten")
    assert "none, words after the target <=2" in found[""].features
    assert "none, counts anew" not in found[""].features


def test_the_last_one_reaches_the_target():
    """Nobody need count to ten for what comes after the last repetition to be heard."""
    found = offer_after("last one and hold it there five four three two one")
    assert {"hold, then countdown", "hold heard as the target is reached"} <= set(found["hold"].features)
    assert "none, target not counted to" in offer_after("lovely work")[""].features
