"""Tempo, effort and breaths: each rule with phrases it must read and phrases it must leave alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from setdown.tag.quantities import tempo

EXAMPLES: dict[str, list[tuple[str, str, dict[str, Any]]]] = {
    "three one one tempo": [
        ("tempo is 3-1-1", "tempo", {"seconds": (3, 1, 1), "phase": "all"}),
        ("a three one one tempo", "tempo", {"seconds": (3, 1, 1)}),
        ("2-0-2-0", "tempo", {"seconds": (2, 0, 2, 0)}),
    ],
    "three seconds down": [
        ("three seconds down", "tempo", {"seconds": (3,), "phase": "lower"}),
        ("lower for four", "tempo", {"seconds": (4,), "phase": "lower"}),
        ("down for a count of three", "tempo", {"seconds": (3,), "phase": "lower"}),
    ],
    "three seconds up": [("two seconds up", "tempo", {"seconds": (2,), "phase": "lift"})],
    "slow four count": [
        ("slow four count", "tempo", {"seconds": (4,), "phase": "lower"}),
        ("for a slow count of three", "tempo", {"seconds": (3,)}),
    ],
    "pause for two": [("two second pause at the bottom", "tempo", {"seconds": (2,), "phase": "hold"})],
    "seven out of ten": [
        ("a seven out of ten", "effort", {"scale": "rpe", "lo": 7, "hi": 7}),
        ("rpe eight", "effort", {"scale": "rpe", "lo": 8}),
        ("seven or eight out of ten", "effort", {"lo": 7, "hi": 8}),
    ],
    "two in the tank": [
        ("leave two in the tank", "effort", {"scale": "rir", "lo": 2}),
        ("one or two reps in reserve", "effort", {"scale": "rir", "lo": 1, "hi": 2}),
    ],
    "five breaths": [
        ("five breaths", "breaths", {"lo": 5, "hi": 5}),
        ("stay for three to five slow breaths", "breaths", {"lo": 3, "hi": 5}),
        ("three giant breaths", "breaths", {"lo": 3}),
    ],
}
COUNTER_EXAMPLES: dict[str, list[str]] = {
    "three one one tempo": ["3-2-1", "15-12-9", "the number is 555-12-12"],
    "three seconds down": ["three down three to go", "twenty seconds down there"],
    "three seconds up": ["two more up"],
    "slow four count": ["slow twelve reps"],
    "pause for two": ["pause for thirty seconds"],
    "seven out of ten": ["seven out of the door"],
    "two in the tank": ["two in each hand", "empty the tank"],
    "five breaths": ["take a breath", "five reps"],
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
    names = {rule.name for rule in tempo.RULES}
    assert set(EXAMPLES) == names
    assert set(COUNTER_EXAMPLES) == names
