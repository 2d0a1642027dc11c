"""Moves and their places: each rule with phrases it must read and phrases it must leave alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from setdown.tag.quantities import ordinals

EXAMPLES: dict[str, list[tuple[str, str, dict[str, Any]]]] = {
    "three exercises": [
        ("three exercises", "moves", {"n": 3}),
        ("two moves", "moves", {"n": 2}),
        ("three groups of three", "moves", {"n": 3}),
    ],
    "second one": [
        ("the second one is a row", "ordinal", {"n": 2}),
        ("first exercise", "ordinal", {"n": 1}),
        ("the tenth one and hold", "count", {"n": 10}),
    ],
    "move three": [
        ("move three", "ordinal", {"n": 3}),
        ("pair number one", "ordinal", {"n": 1}),
        ("lift two", "ordinal", {"n": 2}),
    ],
    "number three": [("straight to number 3 then", "ordinal", {"n": 3})],
    "last exercise": [("last exercise", "ordinal", {"n": -1}), ("the last one's a plank", "ordinal", {"n": -1})],
    "first up": [("first up we have squats", "ordinal", {"n": 1})],
}
COUNTER_EXAMPLES: dict[str, list[str]] = {
    "three exercises": ["three more", "twenty lifts", "three things to remember about exercise"],
    "second one": ["a second round", "a second please"],
    "move three": ["move three steps back", "move your feet"],
    "number three": ["a number of reps", "phone number"],
    "last exercise": ["last one", "last two"],
    "first up": ["warm up first"],
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
    names = {rule.name for rule in ordinals.RULES}
    assert set(EXAMPLES) == names
    assert set(COUNTER_EXAMPLES) == names
