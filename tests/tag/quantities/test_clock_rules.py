"""The clock and the calendar: each rule with phrases it must read and phrases it must leave alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from setdown.tag.quantities import clock

EXAMPLES: dict[str, list[tuple[str, str, dict[str, Any]]]] = {
    "forty years old": [
        ("forty years old", "other", {"what": "age", "value": 40}),
        ("he just turned fifty", "other", {"what": "age"}),
        ("anyone over 30s", "other", {"what": "age"}),
    ],
    "I'm forty eight": [
        ("i'm forty eight you know", "other", {"what": "age", "value": 48}),
        ("she's nineteen and she lifts more", "other", {"what": "age"}),
        ("when i was forty one i couldn't", "other", {"what": "age"}),
    ],
    "in her forties": [("in her forties", "other", {"what": "decade"})],
    "ten to eight": [("it's ten to eight", "other", {"what": "clock"}), ("twenty to two", "other", {"what": "clock"})],
    "twenty five past": [("it's twenty five past", "other", {"what": "clock"})],
    "half past eight": [
        ("half past eight", "other", {"what": "clock"}),
        ("quarter to nine", "other", {"what": "clock"}),
    ],
    "eleven o'clock": [
        ("eleven o'clock", "other", {"what": "clock"}),
        ("class is at 5:30", "other", {"what": "clock"}),
    ],
    "clock says five thirty one": [
        ("clock says five thirty one", "other", {"what": "clock"}),
        ("back at it by six oh three", "other", {"what": "clock"}),
    ],
    "five forty four, we go": [("rest by the clock then five forty four we go", "other", {"what": "clock"})],
    "open till ten": [
        ("folded up since nine", "other", {"what": "clock"}),
        ("the cafe is open till ten", "other", {"what": "clock"}),
    ],
    "nineteen ninety six": [("since nineteen ninety six", "other", {"what": "year", "value": 1996})],
    "in oh nine": [("i quit in oh nine", "other", {"what": "year"})],
    "three years ago": [
        ("three years ago", "other", {"what": "calendar"}),
        ("ten good days in", "other", {"what": "calendar"}),
        ("three times a week", "other", {"what": "calendar"}),
    ],
    "third of June": [("the third of june", "other", {"what": "date"}), ("june 12", "other", {"what": "date"})],
}
COUNTER_EXAMPLES: dict[str, list[str]] = {
    "forty years old": ["forty reps", "over the bar"],
    "I'm forty eight": ["i'm on ten", "i'm twelve reps in"],
    "in her forties": ["in your tens"],
    "ten to eight": ["eight to ten reps", "ten to twelve"],
    "twenty five past": ["twenty five more"],
    "half past eight": ["half a minute"],
    "eleven o'clock": ["eleven more"],
    "clock says five thirty one": ["says ten reps"],
    "five forty four, we go": ["five forty four we go"],
    "open till ten": ["open your chest for ten"],
    "nineteen ninety six": ["ninety six"],
    "in oh nine": ["oh nine more"],
    "three years ago": ["three more", "two sets"],
    "third of June": ["march it out", "march ten"],
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
    names = {rule.name for rule in clock.RULES}
    assert set(EXAMPLES) == names
    assert set(COUNTER_EXAMPLES) == names
