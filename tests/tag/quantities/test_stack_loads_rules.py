"""Loads of machines and cables: each rule with phrases it must read and phrases it must leave alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from setdown.tag.quantities import stack_loads

EXAMPLES: dict[str, list[tuple[str, str, dict[str, Any]]]] = {
    "pin on forty": [
        ("pin on forty", "load", {"value": 40, "basis": None}),
        ("put the pin on 35 both sides", "load", {"value": 35}),
        ("okay pin down ninety", "load", {"value": 90}),
        ("the pin is in the twenty five pounds", "load", {"value": 25, "unit": "lb"}),
    ],
    "stack at forty": [
        ("the stack is at twenty five pounds", "load", {"value": 25, "unit": "lb"}),
        ("the cable set to 15 kilos", "load", {"value": 15, "unit": "kg"}),
        ("thirty on the machine", "load", {"value": 30}),
    ],
}
COUNTER_EXAMPLES: dict[str, list[str]] = {
    "pin on forty": ["pin your elbows", "shoulders pinned one two", "pin one shoulder"],
    "stack at forty": ["the machine on floor two is free", "your hands on the cable", "stack your joints"],
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
    names = {rule.name for rule in stack_loads.RULES}
    assert set(EXAMPLES) == names
    assert set(COUNTER_EXAMPLES) == names
