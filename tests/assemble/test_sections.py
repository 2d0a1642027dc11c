"""Warm-up, main work, cool-down: one cut of the sets that never goes back."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from make_class import decide_exercises, lay_out_class
from setdown.assemble.ranker import rank
from setdown.assemble.sections import ORDER, assign_sections, section_candidates

KIND = st.sampled_from(["goblet-squat", "march-in-place", "childs-pose"])


def lay_out_moves(movements: list[str]):
    """Sets of these movements with little talk."""
    context = lay_out_class("okay [ go _20 ] " * len(movements))
    decide_exercises(context, *movements)
    return context


def weigh(strength: float) -> dict[str, dict[str, float]]:
    """Weights by which marching speaks for the warm-up, squats for the main part and poses for the cool-down."""
    table = {
        "warm_up, pattern locomotion": strength,
        "main, pattern squat": strength,
        "cool_down, pattern stretch": strength,
        "cool_down, pattern pose": strength,
    }
    return {"section": table}


@settings(deadline=None, max_examples=60)
@given(st.lists(KIND, min_size=1, max_size=6), st.floats(0.1, 3))
def test_the_cut_is_the_likeliest_that_never_goes_back(movements, strength):
    """Of all monotone cuts the chosen one has the highest product of probabilities."""
    context, weights = lay_out_moves(movements), weigh(strength)
    assign_sections(context, weights)
    chosen = [ORDER.index(d.section) for d in context.drafts]
    assert chosen == sorted(chosen)
    logs = []
    for at in range(len(movements)):
        ranked = rank("section", section_candidates(context, at), weights)
        logs.append({c.key: math.log(p) for c, p in zip(ranked.candidates, ranked.probabilities, strict=True)})

    def total(places) -> float:
        return sum(log[ORDER[place]] for log, place in zip(logs, places, strict=True))

    best = max(total(p) for p in itertools.combinations_with_replacement(range(3), len(movements)))
    assert total(chosen) == pytest.approx(best)


def test_one_odd_set_does_not_split_a_section():
    """A stretch between squats stays in the main part."""
    context = lay_out_moves(
        ["march-in-place", *["goblet-squat"] * 3, "childs-pose", *["goblet-squat"] * 3, "childs-pose"]
    )
    assign_sections(context, weigh(2.0))
    assert [d.section for d in context.drafts] == ["warm_up", *["main"] * 7, "cool_down"]


def test_no_sets_have_no_sections():
    """Nothing to cut."""
    context = lay_out_class("good morning everybody")
    assign_sections(context, weigh(1.0))
    assert context.drafts == []


def test_what_is_said_before_a_set_speaks_for_its_section():
    """'Let's cool down' is a feature of the set that follows and of all after it."""
    context = lay_out_class("[ go _20 ] okay let's cool down now everybody [ go _20 ] and then [ go _20 ] and rest")
    decide_exercises(context, *["childs-pose"] * 3)
    first, second, third = (
        {c.key: c for c in section_candidates(context, at)}["cool_down"].features for at in range(3)
    )
    assert "cool_down, cool_down said before" in second
    assert "cool_down, cool_down said before" not in third
    assert "cool_down, cool_down said so far" in third
    assert not [f for f in first if "cool_down said" in f]
