"""What a set carries beyond the sheet: counting, tempo, effort; and what the class as a whole announces and needs."""

from __future__ import annotations

from decimal import Decimal

import pytest

from make_class import settle_class
from setdown.assemble.announced import announced
from setdown.assemble.build import build_routine
from setdown.assemble.inventory import gather_declared, gather_equipment
from setdown.model.routine import Load, Set

SQUAT = {"exercise": "goblet-squat"}


def build_one(text: str) -> Set:
    """The set of a class of one set."""
    return build_routine(settle_class(text, SQUAT))[1][0]


def test_the_highest_count_is_kept():
    """With its words; not what was counted before the work."""
    made = build_one("one two ready go [ one _4 two _4 three _4 four _4 last one ] and rest")
    assert made.counted == 4
    assert made.origin["counted"] == "said"
    assert made.evidence["counted"][0].quote == "four"


def test_nothing_counted_is_nothing():
    """No number, no origin."""
    made = build_one("ready go [ down _9 and up ] and rest")
    assert made.counted is None
    assert not {"counted", "tempo", "effort"} & set(made.origin)


@pytest.mark.parametrize(
    ("said", "tempo"), [("three seconds down", "3 s lower"), ("tempo three one one", "3-1-1"), ("no hurry", None)]
)
def test_a_tempo_is_kept(said, tempo):
    """All its phases, or the one that was given."""
    assert build_one(f"goblet squats {said} ready go [ down _9 and up _9 last one ] and rest").tempo == tempo


@pytest.mark.parametrize(("said", "effort"), [("rpe eight", "RPE 8"), ("two reps in reserve", "RIR 2"), ("easy", None)])
def test_an_effort_is_kept(said, effort):
    """On the scale on which it was said."""
    assert build_one(f"goblet squats {said} ready go [ down _9 and up _9 last one ] and rest").effort == effort


def test_what_is_said_for_everything_is_declared():
    """Before the first set, or with words such as 'today'; not what is said for one set."""
    filler = "so have a good look around and find yourself some space because we will be moving about and "
    text = f"hello three rounds {filler * 3} squats ready [ go _20 ] and rest {filler} rows ten reps ready [ go _20 ]"
    context = settle_class(text, SQUAT, {"exercise": "bent-over-row"})
    assert [m.kind for m in announced(context, "sets", 999)] == ["sets"]
    assert announced(context, "reps", 999) == []
    [declared] = gather_declared(context)
    assert (declared.scope, declared.field, declared.value) == ("class", "sets", "3")
    assert declared.evidence[0].quote == "three rounds"


@pytest.mark.parametrize(
    ("said", "field", "value"),
    [
        ("today everything is eight to ten reps", "reps", "8-10"),
        ("today it is forty seconds on and twenty seconds off", "interval", "40/20"),
        ("today all my weights are in kilos", "unit", "kg"),
        ("today we have four moves", "moves", "4"),
    ],
)
def test_declarations_are_one_word(said, field, value):
    """Each quantity in a form that a reader and a program can use."""
    context = settle_class(f"{said} squats ready [ go _20 ] and rest", SQUAT)
    assert (field, value) in {(d.field, d.value) for d in gather_declared(context)}


def test_kit_comes_with_its_loads():
    """Each load once, the kit that was named with its words; kit of no performed set is left out."""
    text = "grab a dumbbell and a kettlebell squats [ go _20 ] and rest _9 squats [ go _20 ] and rest"
    load = Load(value=Decimal(12), unit="lb")
    context = settle_class(text, *[SQUAT | {"load": load, "basis": "total"}] * 2)
    [kit] = gather_equipment(context)
    assert kit.id == "dumbbell"
    assert [(one.value, one.unit, one.basis) for one in kit.loads] == [(Decimal(12), "lb", "total")]
    assert [e.quote for e in kit.evidence] == ["dumbbell"]


def test_bodyweight_needs_nothing():
    """No load, no kit named: an empty list."""
    context = settle_class("push-ups [ go _20 ] and rest", {"exercise": "push-up"})
    assert gather_equipment(context) == []
