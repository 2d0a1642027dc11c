"""Which side a set trains: what is offered, with which words and why."""

from __future__ import annotations

from make_class import decide, decide_exercises, lay_out_class
from setdown.assemble.ranker import Candidate
from setdown.assemble.sides import side_candidates

SIDED = "reverse-lunge"
TWO = "reverse lunges {first} _2 [ and down _20 last one ] and rest _5 {second} _2 [ and down _20 last one ] and rest"


def offer_sides(text: str, movement: str = SIDED, before: str | None = None) -> dict[str, Candidate]:
    """The candidates for the last set, by key; the set before has side ``before``."""
    context = lay_out_class(text)
    decide_exercises(context, *[movement] * len(context.drafts))
    for draft in context.drafts[:-1]:
        decide(draft, side=before)
    return {c.key: c for c in side_candidates(context, len(context.drafts) - 1)}


def test_every_side_is_always_offered():
    """Left, right, each and none, whatever is said."""
    assert set(offer_sides("lunges _2 [ and down _20 ] and rest")) == {"left", "right", "each", ""}


def test_a_side_that_is_said_is_quoted():
    """The evidence are the words; the other side has none and is inferred."""
    found = offer_sides("reverse lunges left leg first _2 [ and down _20 ] and rest")
    assert [m.value for m in found["left"].evidence] == ["left leg"]
    assert found["left"].origin == "said"
    assert not found["right"].evidence
    assert found["right"].origin == "inferred"


def test_the_other_side_is_carried():
    """'Other leg' after the left speaks for the right, and says why."""
    found = offer_sides(TWO.format(first="left leg first", second="and the other leg"), before="left")
    assert found["right"].origin == "carried"
    assert [m.kind for m in found["right"].evidence] == ["side_other"]
    assert "opposite of before, other said" in found["right"].features
    assert "same as before" in found["left"].features


def test_each_side_is_quoted():
    """'Ten each leg' is evidence for both sides counted apart."""
    found = offer_sides("reverse lunges ten each leg _2 [ and down _20 ] and rest")
    assert found["each"].origin == "said"
    assert found["each"].evidence
