"""Loads: each rule with phrases it must read and phrases it must leave alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from setdown.tag.quantities import loads

EXAMPLES: dict[str, list[tuple[str, str, dict[str, Any]]]] = {
    "ten pounds": [
        ("ten pounds", "load", {"value": 10, "unit": "lb"}),
        ("37 and a half kilos", "load", {"value": "37.5", "unit": "kg"}),
        ("eight kilo dumbbells", "load", {"value": 8, "unit": "kg"}),
        ("I'm on 20kg", "load", {"value": 20, "unit": "kg"}),
    ],
    "twenty five pounders": [("my twenty five pounders", "load", {"value": 25, "unit": "lb"})],
    "a pair of twelves": [
        ("a pair of twelves", "load", {"value": 12, "basis": "per_hand", "implements": 2}),
        ("another pair of 16 kilos", "load", {"value": 16, "unit": "kg", "basis": "per_hand"}),
        ("a set of tens", "load", {"value": 10, "basis": "per_hand"}),
    ],
    "ten in each hand": [
        ("eight kilos in each hand", "load", {"value": 8, "unit": "kg", "basis": "per_hand", "implements": 2}),
        ("tens one in each hand", "load", {"value": 10, "basis": "per_hand"}),
        ("a 20 in each hand", "load", {"value": 20, "basis": "per_hand"}),
    ],
    "one dumbbell, fifteen": [
        ("one dumbbell fifteen both hands on it", "load", {"value": 15, "basis": "total", "implements": 1})
    ],
    "one dumbbell": [
        ("just one dumbbell", "load", {"value": None, "implements": 1}),
        ("one in each hand", "load", {"basis": "per_hand", "implements": 2}),
    ],
    "one eight, both hands": [
        ("swap to one eight with both hands round it", "load", {"value": 8, "basis": "total", "implements": 1}),
        ("a fifteen just one of them both hands around it", "load", {"value": 15, "basis": "total"}),
    ],
    "a sixteen bell": [
        ("a sixteen bell", "load", {"value": 16}),
        ("the twelve dumbbell", "load", {"value": 12}),
    ],
    "two eights": [
        ("grab two eights for this dumbbells only", "load", {"value": 8, "implements": 2, "basis": "per_hand"})
    ],
    "grab your fifteens": [
        ("grab your fifteens dumbbells ready", "load", {"value": 15, "basis": "per_hand", "implements": 2}),
        ("back to the eights the weights feel good", "load", {"value": 8}),
    ],
    "grab tens": [
        ("dumbbells please grab tens", "load", {"value": 10}),
        ("weights down i'm staying on 12s", "load", {"value": 12}),
        ("the weights i've gone down to nines", "load", {"value": 9}),
    ],
    "tens for eight": [("dumbbells down tens for eight", "load", {"value": 10})],
    "going up to fourteen": [
        ("dumbbells ready i'm going up to 14 on these", "load", {"value": 14}),
        ("kettlebell work we're staying with sixteen kilos", "load", {"value": 16, "unit": "kg"}),
        ("dumbbells again and i've gone down to twelve", "load", {"value": 12}),
    ],
    "not the sixteen": [
        ("use the ten not the sixteen it's one kettlebell", "load", {"value": 16, "offered": True}),
        ("the dumbbells are lighter than the twelves", "load", {"value": 12, "offered": True}),
    ],
    "same twenty on the rows": [("dumbbells of twenty pounds same twenty on the rows", "load", {"value": 20})],
    "twelve at your chest": [
        ("kettlebell of twelve kilos so twelve at your chest", "load", {"value": 12}),
        ("grab a 20 dumbbell and roll the 20 into your hips", "load", {"value": 20}),
    ],
    "my twelves": [("these are my twelves a dumbbell each", "load", {"value": 12})],
    "fifteens": [("dumbbells up fifteens", "load", {"value": 15, "basis": "per_hand"})],
    "tens again": [("dumbbells up tens again", "load", {"value": 10})],
    "grab the sixteen": [
        ("dumbbells and i'm holding the 20", "load", {"value": 20}),
        ("i've got my twenty five standing on its end one dumbbell", "load", {"value": 25, "basis": "total"}),
        ("grab a ten or a kettlebell", "load", {"value": 10}),
    ],
    "a sixteen": [("dumbbells a fourteen then", "load", {"value": 14})],
    "the sixteen": [("kettlebell down the sixteen and rest", "load", {"value": 16})],
    "I'm on fourteen": [("dumbbells up i'm on fourteen", "load", {"value": 14})],
    "we're on ten": [("dumbbells of ten kilos now we're on ten", "load", {"value": 10})],
    "twenty across the hips": [("twenty across the hips", "load", {"value": 20, "basis": "total"})],
    "fifteen in my right hand": [
        ("a 14 in my right hand", "load", {"value": 14, "basis": "per_hand", "implements": 1})
    ],
    "seventy percent": [
        ("seventy percent of your one rep max", "load", {"value": 70, "unit": "pct1rm"}),
        ("work at 80%", "load", {"value": 80, "unit": "pct1rm"}),
    ],
}
COUNTER_EXAMPLES: dict[str, list[str]] = {
    "ten pounds": ["it cost six pounds", "ten. Pounds are heavy"],
    "twenty five pounders": ["twenty five pushups"],
    "a pair of twelves": ["a set of ten", "a pair of squats"],
    "ten in each hand": ["one in each hand", "ten in each round"],
    "one dumbbell, fifteen": ["one dumbbell per person"],
    "one dumbbell": ["two dumbbells", "one more"],
    "one eight, both hands": ["and one two three", "just one more"],
    "a sixteen bell": ["that's our eight weights away now", "one dumbbell"],
    "two eights": ["two eights of music on the beat", "dumbbells are down okay then that's two eights"],
    "grab your fifteens": ["grab your mat", "get your ten"],
    "grab tens": ["grab the ten"],
    "tens for eight": ["ten for eight", "tens four eights"],
    "going up to fourteen": ["we count up to ten", "i'm going up"],
    "not the sixteen": ["not the ten reps", "dumbbells but not the two steps"],
    "same twenty on the rows": ["same ten again", "same leg on the mat"],
    "twelve at your chest": ["hands at your chest", "twelve at the back"],
    "my twelves": ["my twelve", "in my forties"],
    "fifteens": ["in her forties", "the little ones"],
    "tens again": ["ten again"],
    "grab the sixteen": [
        "dumbbells so it's your ten",
        "grab the ten reps",
        "take the two steps",
        "with the one weight",
    ],
    "a sixteen": ["a ten second hold", "a five minute break"],
    "the sixteen": ["the sixteen reps", "the five minutes"],
    "I'm on fourteen": ["i'm on my way"],
    "we're on ten": ["we're on minute ten"],
    "twenty across the hips": ["twenty across the room"],
    "fifteen in my right hand": ["fifteen in the right order"],
    "seventy percent": ["give me seventy percent effort", "a hundred percent"],
}


@pytest.mark.parametrize(("rule", "text", "kind", "wanted"), [(r, *e) for r, es in EXAMPLES.items() for e in es])
def test_reads(check_example: Callable[..., None], rule: str, text: str, kind: str, wanted: dict[str, Any]) -> None:
    """The phrase gives a mention of this kind and value, by this rule."""
    check_example(rule, text, kind, wanted)


@pytest.mark.parametrize(("rule", "text"), [(r, t) for r, ts in COUNTER_EXAMPLES.items() for t in ts])
def test_leaves_alone(check_counter: Callable[..., None], rule: str, text: str) -> None:
    """The rule does not claim a phrase that only looks like its own."""
    check_counter(rule, text)


def test_every_rule_has_examples_and_counter_examples() -> None:
    """No rule of the file goes without both."""
    names = {rule.name for rule in loads.RULES}
    assert set(EXAMPLES) == names
    assert set(COUNTER_EXAMPLES) == names
