"""What is added at the end of a set."""

from __future__ import annotations

import pytest

from make_class import decide, decide_exercises, lay_out_class
from setdown.assemble.finishers import PHRASES, finisher_candidates
from setdown.assemble.ranker import Candidate


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
