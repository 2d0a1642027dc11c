"""Counts and what is left: each rule with phrases it must read and phrases it must leave alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from setdown.tag.quantities import counting

EXAMPLES: dict[str, list[tuple[str, str, dict[str, Any]]]] = {
    "that's three": [
        ("down and up that's three keep going", "count", {"n": 3}),
        ("we're at six", "count", {"n": 6}),
        ("so that's ten from you", "reps", {"lo": 10}),
    ],
    "that's your ten": [("and that's your ten", "count", {"n": 10}), ("that's the eight rest", "count", {"n": 8})],
    "that's eight of them": [("that's eight of them", "count", {"n": 8})],
    "five done": [("five done", "count", {"n": 5})],
    "number eight": [("and number eight legend", "count", {"n": 8}), ("see me at rep thirty", "count", {"n": 30})],
    "tenth rep": [("and on the tenth rep hold", "count", {"n": 10})],
    "two more": [
        ("two more", "remaining", {"n": 2}),
        ("four more reps", "remaining", {"n": 4}),
        ("three more each side", "remaining", {"n": 3}),
    ],
    "couple more": [("couple more", "remaining", {"n": 2}), ("a few more of those", "remaining", {"n": 3})],
    "last one": [("last one", "remaining", {"n": 1}), ("final rep", "remaining", {"n": 1})],
    "one more": [
        ("one more", "remaining", {"n": 1}),
        ("once more", "remaining", {"n": 1}),
        ("one last one", "remaining", {"n": 1}),
    ],
    "last two": [("last two", "remaining", {"n": 2}), ("last three good ones", "remaining", {"n": 3})],
    "four to go": [("four to go", "remaining", {"n": 4}), ("just three left", "remaining", {"n": 3})],
}
COUNTER_EXAMPLES: dict[str, list[str]] = {
    "that's three": ["that's three sets", "that's three more", "that's it"],
    "that's your ten": ["that's your tenth", "that's the ten minutes"],
    "that's eight of them": ["eight of them please"],
    "five done": ["five down dogs"],
    "number eight": ["phone number"],
    "tenth rep": ["ten reps"],
    "two more": ["two more rounds", "no more"],
    "couple more": ["a couple of squats"],
    "last one": ["last week", "last round"],
    "one more": ["one more round", "more of the same"],
    "last two": ["last two rounds", "last ten seconds"],
    "four to go": ["four left leg swings", "four to the left"],
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
    names = {rule.name for rule in counting.RULES}
    assert set(EXAMPLES) == names
    assert set(COUNTER_EXAMPLES) == names
