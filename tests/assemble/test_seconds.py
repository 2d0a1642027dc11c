"""How long a timed set is meant to last."""

from __future__ import annotations

from make_class import decide, decide_exercises, lay_out_class
from setdown.assemble.ranker import Candidate
from setdown.assemble.seconds import second_candidates

PLANK = "forearm-plank"


def offer_seconds(text: str, **settled: object) -> dict[str, Candidate]:
    """The candidates for the last set by key, with ``settled`` fields on the sets before."""
    context = lay_out_class(text)
    decide_exercises(context, *[PLANK] * len(context.drafts))
    for draft in context.drafts:
        decide(draft, reps=None)
    for draft in context.drafts[:-1]:
        decide(draft, **settled)
    return {c.key: c for c in second_candidates(context, len(context.drafts) - 1)}


def test_none_is_always_offered():
    """A set need not be timed."""
    assert offer_seconds("plank [ and hold _20 ] and rest")[""].origin == "inferred"


def test_seconds_that_are_said():
    """Half a minute is thirty, quoted; and it is compared with how long the set lasts."""
    found = offer_seconds("plank half a minute go [ and hold _28 done ] and rest")
    assert found["30"].value == 30
    assert found["30"].origin == "said"
    assert found["30"].evidence
    assert "fits the span well" in found["30"].features
    found = offer_seconds("plank half a minute go [ and hold _90 done ] and rest")
    assert "does not fit the span" in found["30"].features


def test_an_interval_plan_reaches_every_set():
    """'Forty on, twenty off', said once."""
    found = offer_seconds(
        "today it is forty seconds on and twenty seconds off _9 " + "[ and go _38 ] rest _19 " * 3,
        work_s=None,
        side=None,
    )
    assert found["40"].origin == "declared"
    assert "by the interval plan" in found["40"].features


def test_the_set_before_is_carried():
    """'Same again' holds as long as the last one did."""
    found = offer_seconds("[ and hold _40 ] same again _2 [ and hold _40 ] and rest", work_s=45, side=None)
    assert found["45"].origin == "carried"


def test_the_other_side_is_carried():
    """A hold on the left, then the same on the right."""
    context = lay_out_class("[ and hold _40 ] and the other side _2 [ and hold _40 ] and rest")
    decide_exercises(context, "side-plank", "side-plank")
    decide(context.drafts[0], side="left", work_s=45, reps=None)
    decide(context.drafts[1], side="right", reps=None)
    found = {c.key: c for c in second_candidates(context, 1)}
    assert "as on the other side" in found["45"].features


def test_time_left_is_no_target():
    """'Ten seconds left' is said in a set of thirty: ten seconds are no candidate for its length."""
    found = offer_seconds(
        "plank hold for thirty seconds ready go _1 [ and hold _18 ten seconds left _9 done ] and rest"
    )
    assert set(found) == {"30", ""}
    assert "time left is told" in found["30"].features


def test_a_bare_number_before_the_work_may_be_seconds():
    """'Plank, forty': no unit is said, so it may be a length."""
    found = offer_seconds("okay plank forty _2 [ and hold _38 done ] and rest")
    assert any(f.startswith("stands as") for f in found["40"].features)
    assert "fits the span well" in found["40"].features
