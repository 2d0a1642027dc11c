"""Interval plans: each rule with phrases it must read and phrases it must leave alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from setdown.tag.quantities import intervals

EXAMPLES: dict[str, list[tuple[str, str, dict[str, Any]]]] = {
    "forty on twenty off": [
        ("forty on twenty off", "interval", {"work": 40, "rest": 20}),
        ("40 seconds on, 20 off", "interval", {"work": 40, "rest": 20}),
        ("forty-five seconds you work fifteen you don't", "interval", {"work": 45, "rest": 15}),
        ("twenty of work ten of rest", "interval", {"work": 20, "rest": 10}),
        ("a minute on thirty off", "interval", {"work": 60, "rest": 30}),
        ("20 seconds on 10 seconds off 8 of those", "interval", {"work": 20, "rest": 10, "rounds": 8}),
        ("forty on twenty off for five rounds", "interval", {"work": 40, "rest": 20, "rounds": 5}),
        ("work for thirty rest for fifteen", "interval", {"work": 30, "rest": 15}),
        ("forty seconds on and fifteen seconds to change", "interval", {"work": 40, "rest": 15}),
        ("45 seconds of work. 15 seconds of rest.", "interval", {"work": 45, "rest": 15}),
    ],
    "forty twenty": [
        ("it's a forty twenty", "interval", {"work": 40, "rest": 20}),
        ("tabata style twenty ten", "interval", {"work": 20, "rest": 10}),
        ("40/20", "interval", {"work": 40, "rest": 20}),
        ("45-15 on the timer", "interval", {"work": 45, "rest": 15}),
    ],
    "every minute on the minute": [
        ("every minute on the minute", "emom", {"every_s": 60, "minutes": None}),
        ("every minute on the minute for twelve minutes", "emom", {"minutes": 12, "count": 12}),
        ("a ten minute emom", "emom", {"minutes": 10}),
    ],
    "every two minutes": [
        ("every two minutes", "emom", {"every_s": 120}),
        ("every 90 seconds", "emom", {"every_s": 90}),
    ],
}
COUNTER_EXAMPLES: dict[str, list[str]] = {
    "forty on twenty off": ["twenty on the left ten on the right", "forty. On we go twenty of those"],
    "forty twenty": ["ten twelve", "forty five pounds twenty reps"],
    "every minute on the minute": ["every minute counts", "on the minute"],
    "every two minutes": ["every two weeks", "every second day"],
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
    names = {rule.name for rule in intervals.RULES}
    assert set(EXAMPLES) == names
    assert set(COUNTER_EXAMPLES) == names
