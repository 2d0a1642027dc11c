"""How heavy, and whether that is for one hand or in all."""

from __future__ import annotations

from decimal import Decimal

import pytest

from make_class import decide, decide_exercises, lay_out_class
from setdown.assemble.loads import basis_candidates, find_class_unit, load_candidates, load_key, near_names, to_load
from setdown.assemble.ranker import Candidate
from setdown.model.routine import Load
from setdown.tag.quantities.values import LoadSaid

SET = "_2 [ and down _20 last one ] and rest _20"


def offer_loads(text: str, movement: str = "goblet-squat", unit: str | None = "lb", **settled: object):
    """The candidates for the last set by key, with ``settled`` fields on the sets before."""
    context = lay_out_class(text)
    decide_exercises(context, *[movement] * len(context.drafts))
    for draft in context.drafts[:-1]:
        decide(draft, side=None, **settled)
    return {c.key: c for c in load_candidates(context, len(context.drafts) - 1, unit)}


def offer_basis(said: str, movement: str, side: str | None = None) -> dict[str, Candidate]:
    """The candidates for the basis of a set whose load is what is said."""
    context = lay_out_class(f"{said} {SET}")
    decide_exercises(context, movement)
    decide(context.drafts[0], side=side)
    load = next(c for c in load_candidates(context, 0, "lb") if c.value is not None)
    decide(context.drafts[0], load=load.value)
    context.drafts[0].ranked["load"].best.evidence.extend(load.evidence)
    return {c.key: c for c in basis_candidates(context, 0)}


@pytest.mark.parametrize(
    ("said", "unit", "key"),
    [
        (LoadSaid(Decimal(12), "lb"), None, "12 lb"),
        (LoadSaid(Decimal("7.50"), "kg"), "lb", "7.5 kg"),
        (LoadSaid(Decimal(20)), "kg", "20 kg"),
        (LoadSaid(Decimal(20)), None, "20 ?"),
        (LoadSaid(rel="lighter"), "kg", "lighter"),
        (LoadSaid(none=True), "kg", ""),
        (LoadSaid(same=True), "kg", ""),
        (LoadSaid(), "kg", ""),
        (LoadSaid(Decimal(0)), "kg", ""),
        (LoadSaid(Decimal(1000)), "kg", ""),
    ],
)
def test_what_was_said_as_a_load(said, unit, key):
    """Its own unit goes before that of the class; nothing held, and no sense, is none."""
    assert load_key(to_load(said, unit)) == key


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("everything is in kilos grab your tens", "kg"),
        ("i have twelve pounds in each hand", "lb"),
        ("ten kilos and another ten kilos and one of five pounds", "kg"),
        ("grab your tens", None),
        ("just your own body today", None),
    ],
)
def test_the_unit_of_a_class(text, unit):
    """Declared, else the unit that is said most often with a load, else not known."""
    assert find_class_unit(lay_out_class(text)) == unit


def test_none_is_always_offered():
    """A set need not have a load."""
    assert offer_loads(f"squats {SET}")[""].origin == "inferred"


def test_a_load_that_is_said_is_quoted():
    """With its words; near the name of its own move."""
    found = offer_loads(f"grab twelve pounds for goblet squats {SET}")["12 lb"]
    assert found.value == Load(value=Decimal(12), unit="lb")
    assert found.origin == "said"
    assert "near own name" in found.features


def test_a_load_of_another_move_is_told_apart():
    """Fifteens for the rows are not the squat's."""
    context = lay_out_class(f"fifteen pounds for the bent over rows {SET}")
    [said] = context.index.within("load", 0, 9)
    assert near_names(context, said) == {"bent-over-row"}
    assert "near another name" in offer_loads(f"fifteen pounds for the bent over rows {SET}")["15 lb"].features


def test_a_load_stays_in_force():
    """The next set of the same move carries it."""
    twelve = Load(value=Decimal(12), unit="lb")
    found = offer_loads(f"[ and down _20 ] same again {SET}", load=twelve)["12 lb"]
    assert found.origin == "carried"
    assert {"as last time", "as the set before"} <= set(found.features)


def test_a_load_offered_to_the_viewer_is_marked():
    """'If you only have tens' is not what the instructor holds."""
    found = offer_loads(f"goblet squats if you only have ten pounds use that {SET}")
    assert "offered to the viewer" in found["10 lb"].features


def test_loads_announced_for_a_move():
    """Said at the start for the move, used when its turn comes."""
    found = offer_loads(
        "today i have twenty pounds for goblet squats and that is the lot so let's get going everybody on your feet "
        f"please and march _2 [ and go _20 ] lovely {SET.replace('and down', 'down we go')}",
        load=None,
    )["20 lb"]
    assert found.origin == "declared"
    assert "announced for this move" in found.features


def test_only_a_direction():
    """'A bit lighter' without a number is a direction and no number."""
    found = offer_loads(f"bent over rows a bit lighter this time {SET}", "bent-over-row")
    assert found["lighter"].value == Load(rel="lighter")


def test_no_load_has_no_basis():
    """Nothing to decide."""
    context = lay_out_class(f"squats {SET}")
    decide_exercises(context, "bodyweight-squat")
    decide(context.drafts[0], load=None)
    assert [c.value for c in basis_candidates(context, 0)] == [None]
    decide(context.drafts[0], load=Load(rel="lighter"))
    assert [c.value for c in basis_candidates(context, 0)] == [None]


def test_a_basis_that_is_said():
    """'In each hand' is evidence for per hand; the other answers are inferred."""
    found = offer_basis("twelve pounds in each hand bent over rows", "bent-over-row")
    assert set(found) == {"per_hand", "total", ""}
    assert found["per_hand"].origin == "said"
    assert found["per_hand"].evidence
    assert found["total"].origin == found[""].origin == "inferred"


def test_plates_become_what_the_bar_weighs():
    """Ten a side is no load of ten."""
    found = offer_loads(f"on the bar ten a side {SET}", "bench-press", "kg")
    assert "plates on a bare bar" in found["40 kg"].features
    assert "10 kg" not in found


def test_a_bigger_and_a_smaller_weight():
    """'The big one' is the heaviest of those known."""
    found = offer_loads(
        f"i have twelve pounds and twenty pounds for today so let's get going everybody up and march "
        f"_2 [ and go _20 ] rest now the big one {SET}"
    )
    assert "weight_big said, it is" in found["20 lb"].features
    assert "weight_big said, it is not" in found["12 lb"].features


def test_against_the_load_before():
    """Heavier, lighter or as heavy, and which of these was asked for."""
    ten = Load(value=Decimal(10), unit="lb")
    found = offer_loads(f"[ and down _20 ] a bit heavier now twelve pounds {SET}", load=ten)
    assert "heavier than before, heavier said" in found["12 lb"].features
    assert "as heavy as before" in found["10 lb"].features


def test_words_beside_a_load():
    """What is swapped for, and what it is swapped for."""
    found = offer_loads(f"use ten pounds instead of twelve pounds {SET}")
    assert "instead behind" in found["10 lb"].features
    assert "instead before" in found["12 lb"].features
    assert "not last in the set-up" in found["10 lb"].features


def test_pairs_change_as_one():
    """Two moves had one load; the first has another now, so the second is likely to have it, too."""
    context = lay_out_class("[ down _20 ] [ pull _20 ] again _2 [ down _20 ] [ pull _20 ]")
    decide_exercises(context, "goblet-squat", "bent-over-row", "goblet-squat", "bent-over-row")
    for draft, pounds in zip(context.drafts[:3], (20, 20, 15), strict=True):
        decide(draft, side=None, load=Load(value=Decimal(pounds), unit="lb"))
    found = {c.key: c for c in load_candidates(context, 3, "lb")}
    assert "as the set before, which changed" in found["15 lb"].features
    assert "its company changed" in found["20 lb"].features


def test_a_load_of_another_move_and_kit_without_load():
    """What was held for the squat is only carried from elsewhere to a push-up."""
    context = lay_out_class(f"[ and down _20 ] {SET}")
    decide_exercises(context, "goblet-squat", "push-up")
    decide(context.drafts[0], side=None, load=Load(value=Decimal(20), unit="lb"))
    found = {c.key: c for c in load_candidates(context, 1, "lb")}
    assert "carried from elsewhere, no kit" in found["20 lb"].features
