"""Changes of load: each rule with phrases it must read and phrases it must leave alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from setdown.tag.quantities import load_changes

EXAMPLES: dict[str, list[tuple[str, str, dict[str, Any]]]] = {
    "little lighter": [
        ("go a little lighter", "load", {"rel": "lighter", "value": None}),
        ("something smaller", "load", {"rel": "lighter"}),
        ("grab whatever's a touch lighter", "load", {"rel": "lighter"}),
        ("drop down a weight", "load", {"rel": "lighter"}),
    ],
    "touch heavier": [
        ("a touch heavier", "load", {"rel": "heavier"}),
        ("go up in weight", "load", {"rel": "heavier"}),
        ("take a heavier pair", "load", {"rel": "heavier"}),
    ],
    "go up": [
        ("we're going up", "load", {"rel": "heavier"}),
        ("if that was easy you can go up next time", "load", {"rel": "heavier"}),
    ],
    "same weight": [
        ("same weight", "load", {"same": True, "rel": None}),
        ("stay with the same dumbbells", "load", {"same": True}),
    ],
    "no weights": [
        ("no weights", "load", {"none": True}),
        ("nothing in your hands", "load", {"none": True}),
        ("drop the weights", "load", {"none": True}),
        ("bodyweight only", "load", {"none": True}),
        ("if you need to drop the weight", "load", {"none": True, "offered": True}),
    ],
    "everything's in kilos": [
        ("everything's in kilos", "unit", {"unit": "kg"}),
        ("it's all pounds", "unit", {"unit": "lb"}),
        ("mine are kilos", "unit", {"unit": "kg"}),
        ("everything i say is in pounds", "unit", {"unit": "lb"}),
    ],
}
COUNTER_EXAMPLES: dict[str, list[str]] = {
    "little lighter": ["lighter than air", "bring me the lighter"],
    "touch heavier": ["rain is heavier today", "go up on your toes"],
    "go up": ["arms going up", "you can go up on your toes"],
    "same weight": ["same leg", "weight in the heels"],
    "no weights": ["weights up", "put your weight in the heels"],
    "everything's in kilos": ["ten kilos", "everything is fine"],
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
    names = {rule.name for rule in load_changes.RULES}
    assert set(EXAMPLES) == names
    assert set(COUNTER_EXAMPLES) == names
