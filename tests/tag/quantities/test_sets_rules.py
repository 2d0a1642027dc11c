"""Sets, rounds and schemes: each rule with phrases it must read and phrases it must leave alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from setdown.tag.quantities import sets

EXAMPLES: dict[str, list[tuple[str, str, dict[str, Any]]]] = {
    "three sets": [
        ("three sets", "sets", {"lo": 3, "hi": 3, "unit": "set"}),
        ("two to three working sets", "sets", {"lo": 2, "hi": 3, "unit": "set"}),
        ("two more sets", "sets", {"lo": 2, "more": True}),
    ],
    "three rounds": [
        ("three rounds", "sets", {"lo": 3, "unit": "round"}),
        ("two laps of the room", "sets", {"lo": 2, "unit": "round"}),
        ("three lots", "sets", {"lo": 3}),
    ],
    "two times through": [("two times through", "sets", {"lo": 2, "unit": "round"})],
    "ten times": [
        ("open and close ten times", "reps", {"lo": 10}),
        ("we come back to it three times", "sets", {"lo": 3}),
        ("i've said it about nine times", "other", {"what": "talk"}),
    ],
    "twice through": [("twice through", "sets", {"lo": 2}), ("do each trio twice", "sets", {"lo": 2})],
    "twice": [("twice please everybody", "sets", {"lo": 2})],
    "once through": [("just once through", "sets", {"lo": 1})],
    "thrice": [("the lot thrice", "sets", {"lo": 3})],
    "sets of ten": [("in sets of ten", "reps", {"lo": 10})],
    "three sets of ten": [
        ("three sets of ten", "sets", {"lo": 3, "unit": "set"}),
        ("three sets of ten", "reps", {"lo": 10}),
        ("3 lots of 12 to 15", "reps", {"lo": 12, "hi": 15}),
        ("two batches of eight each side", "reps", {"lo": 8, "each_side": True}),
        ("it's 3 sets of somewhere between 12 and 15", "reps", {"lo": 12, "hi": 15}),
    ],
    "three by ten": [
        ("three by ten", "sets", {"lo": 3}),
        ("three by ten", "reps", {"lo": 10}),
        ("3x10", "reps", {"lo": 10}),
        ("5x5", "sets", {"lo": 5}),
    ],
    "twelve, ten, eight": [
        ("twelve ten eight", "scheme", {"reps": (12, 10, 8)}),
        ("15-12-9", "scheme", {"reps": (15, 12, 9)}),
        ("ten then eight then six", "scheme", {"reps": (10, 8, 6)}),
        ("the reps go 12, then 10, then 8", "scheme", {"reps": (12, 10, 8)}),
        ("it's ten ten then eight", "scheme", {"reps": (10, 10, 8)}),
        ("two four six eight ten on the way up", "scheme", {"reps": (2, 4, 6, 8, 10)}),
    ],
    "round two": [
        ("round two", "round", {"number": 2, "unit": "round"}),
        ("set three let's go", "round", {"number": 3, "unit": "set"}),
        ("lap two", "round", {"number": 2}),
        ("that's round one", "round", {"number": 1, "done": True}),
    ],
    "round two of three": [
        ("round two of three", "round", {"number": 2}),
        ("set three of three", "round", {"number": 3, "last": True}),
        ("set two of four", "sets", {"lo": 4}),
    ],
    "minute four": [("minute four go", "round", {"number": 4, "unit": "minute"})],
    "second round": [
        ("second round", "round", {"number": 2}),
        ("third time through", "round", {"number": 3}),
        ("first set done", "round", {"number": 1, "unit": "set", "done": True}),
    ],
    "last round": [
        ("last round everybody", "round", {"last": True, "number": None}),
        ("final set", "round", {"last": True, "unit": "set"}),
        ("last time through", "round", {"last": True}),
    ],
    "one more round": [("one more round", "round", {"last": True}), ("one last time through", "round", {"last": True})],
    "that's once through": [
        ("that's once through", "round", {"number": 1, "done": True}),
        ("that's two rounds", "round", {"number": 2, "done": True}),
        ("one set down", "round", {"number": 1, "unit": "set", "done": True}),
    ],
}
COUNTER_EXAMPLES: dict[str, list[str]] = {
    "three sets": ["three seconds", "a heavy set"],
    "three rounds": ["a round of applause"],
    "two times through": ["two times a week"],
    "ten times": ["two times through", "ten times harder"],
    "twice through": ["twice a week", "think twice"],
    "twice": ["think twice", "once or twice", "twice the price"],
    "once through": ["once upon a time"],
    "thrice": ["three times a week"],
    "sets of ten": ["sets of stairs"],
    "three sets of ten": ["three groups of three", "three of those"],
    "three by ten": ["one by one they leave"],
    "twelve, ten, eight": ["ten nine eight", "five six seven", "twelve ten seconds eight"],
    "round two": ["second set ten this time", "go round twenty metres of grass"],
    "round two of three": ["round two of the day"],
    "minute four": ["half a minute one foot then the other", "one minute thirty"],
    "second round": ["a second please"],
    "last round": ["at last", "last one"],
    "one more round": ["one more", "two more rounds"],
    "that's once through": ["once through and rest", "that's two more"],
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
    names = {rule.name for rule in sets.RULES}
    assert set(EXAMPLES) == names
    assert set(COUNTER_EXAMPLES) == names
