"""Numbers of no concern: each rule with phrases it must read and phrases it must leave alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from setdown.tag.quantities import elsewhere

EXAMPLES: dict[str, list[tuple[str, str, dict[str, Any]]]] = {
    "fourteen dollars": [
        ("fourteen dollars at the door", "other", {"what": "price", "value": 14}),
        ("only $14", "other", {"what": "price"}),
    ],
    "paid six pounds": [("that's what you paid six pounds for", "other", {"what": "price"})],
    "five pound fifty": [("five pound fifty in the tin", "other", {"what": "price"})],
    "paying thirty": [("don't go paying thirty", "other", {"what": "price"})],
    "seven fifty": [("the toastie is seven fifty", "other", {"what": "price"})],
    "fifty pence piece": [("a fifty pence piece", "other", {"what": "price"})],
    "twenty degrees": [
        ("minus twenty six", "other", {"what": "degrees"}),
        ("elbows at 45 degrees", "other", {"what": "degrees"}),
    ],
    "twenty metres": [
        ("twenty metres out", "other", {"what": "distance"}),
        ("two inches", "other", {"what": "distance"}),
    ],
    "two steps back": [("two steps back", "other", {"what": "steps"})],
    "song seven": [
        ("song seven is a good one", "other", {"what": "media"}),
        ("playlist number four", "other", {"what": "media"}),
    ],
    "twelve Mill Street": [("twelve mill street", "other", {"what": "address"})],
    "in for four, out for six": [("breathe in for four out for six", "other", {"what": "breath"})],
    "fifteen nine year olds": [("a party with fifteen nine year olds", "other", {"what": "people"})],
    "six people": [
        ("there are six of us", "other", {"what": "people"}),
        ("eight people came", "other", {"what": "people"}),
    ],
    "a hundred grams": [("400 grams", "other", {"what": "amount"}), ("two coffees", "other", {"what": "amount"})],
    "a hundred percent": [
        ("a hundred percent", "other", {"what": "percent"}),
        ("ninety percent effort", "other", {"what": "percent"}),
    ],
    "a third of your strength": [("a third of your strength", "other", {"what": "fraction"})],
    "warrior two": [("warrior two", "other", {"what": "name"}), ("figure four stretch", "other", {"what": "name"})],
    "two hands": [("two hands", "other", {"what": "body"}), ("one foot", "other", {"what": "body"})],
    "all fours": [("come onto all fours", "other", {"what": "body"})],
    "that one": [
        ("that one", "other", {"what": "pronoun"}),
        ("the other one", "other", {"what": "pronoun"}),
        ("little ones", "other", {"what": "pronoun"}),
    ],
    "the next two": [("the next two are deadlifts", "other", {"what": "things"})],
    "a move or two": [("a plank or two", "other", {"what": "vague"})],
    "one thing": [("one thing", "other", {"what": "things"}), ("four different ones", "other", {"what": "things"})],
    "four dogs": [("four dogs", "other", {"what": "things"})],
    "no ten this time": [("there's no ten this time", "other", {"what": "not_now"})],
    "ten times harder": [("ten times harder", "other", {"what": "talk"})],
    "scale of one to ten": [
        ("on a scale of one to ten", "other", {"what": "scale"}),
        ("you can count to ten", "other", {"what": "scale"}),
    ],
}
COUNTER_EXAMPLES: dict[str, list[str]] = {
    "fourteen dollars": ["fourteen reps"],
    "paid six pounds": ["grab six pounds"],
    "five pound fifty": ["five pound weights"],
    "paying thirty": ["paying attention"],
    "seven fifty": ["for ten twelve"],
    "fifty pence piece": ["fifty pounds"],
    "twenty degrees": ["twenty reps"],
    "twenty metres": ["that's three foot on the floor", "twenty more"],
    "two steps back": ["step back"],
    "song seven": ["song of the day"],
    "twelve Mill Street": ["twelve good lunges"],
    "in for four, out for six": ["in for ten reps"],
    "fifteen nine year olds": ["nine year old"],
    "six people": ["six of those", "eight to ten you choose"],
    "a hundred grams": ["a hundred reps"],
    "a hundred percent": ["seventy percent of your max"],
    "a third of your strength": ["the third one"],
    "warrior two": ["warrior forty seconds", "warriors", "figure it out"],
    "two hands": ["eight elbows back", "do 5 legs straight"],
    "all fours": ["all four of you"],
    "that one": ["last one", "one more"],
    "the next two": ["next two rounds"],
    "a move or two": ["eight or ten", "a move or twelve"],
    "one thing": ["one more"],
    "four dogs": ["four dips"],
    "no ten this time": ["no, ten of those"],
    "ten times harder": ["ten times and rest"],
    "scale of one to ten": ["eight to ten", "count the reps"],
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
    names = {rule.name for rule in elsewhere.RULES}
    assert set(EXAMPLES) == names
    assert set(COUNTER_EXAMPLES) == names
