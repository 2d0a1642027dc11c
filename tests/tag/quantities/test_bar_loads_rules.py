"""Loads on a bar: each rule with phrases it must read and phrases it must leave alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from setdown.tag.quantities import bar_loads

EXAMPLES: dict[str, list[tuple[str, str, dict[str, Any]]]] = {
    "ten a side on the bar": [
        ("bar plus ten a side", "load", {"value": 10, "per_side_plates": True, "basis": "total"}),
        ("on the bar two and a half more on each end", "load", {"value": "2.5", "per_side_plates": True}),
        ("bar is here stick a ten on each side as well", "load", {"value": 10, "per_side_plates": True}),
        ("plates now fifteen aside", "load", {"value": 15, "per_side_plates": True}),
        ("collars on five kilos each side", "load", {"value": 5, "unit": "kg", "per_side_plates": True}),
    ],
    "two twenties a side": [
        ("the bar has two twenties a side", "load", {"value": 40, "per_side_plates": True, "basis": "total"})
    ],
    "fives on": [
        ("barbell ready put your fives on and lie down", "load", {"value": 5, "per_side_plates": True}),
        ("plates off with the fifteens on with the tens", "load", {"value": 10, "per_side_plates": True}),
    ],
    "that's your hundred": [("plates a side that's your hundred", "load", {"value": 100, "basis": "total"})],
    "a plate a side": [
        ("get the bar a plate a side", "load", {"value": 45, "unit": "lb", "per_side_plates": True}),
        ("bench two dimes a side", "load", {"value": 20, "unit": "lb", "per_side_plates": True}),
        ("bar in kilos and a plate a side", "load", {"value": 20, "unit": "kg", "per_side_plates": True}),
        ("bench plate and a dime a side", "load", {"value": 55, "per_side_plates": True}),
    ],
    "a plate's a forty five": [("a plate's a forty five in here", "other", {"what": "plate_name", "value": 45})],
    "bar's forty five": [
        ("bar's forty five", "bar", {"value": 45}),
        ("this bar weighs 20 kilos", "bar", {"value": 20, "unit": "kg"}),
    ],
    "empty bar": [("first set is the empty bar", "load", {"value": 0, "per_side_plates": True, "basis": "total"})],
    "that makes ninety five": [
        ("plates on the bar so that makes 35", "load", {"value": 35, "basis": "total"}),
        ("a quarter a side on the barbell now it's ninety five", "load", {"value": 95, "basis": "total"}),
    ],
    "ninety five on the bar": [
        ("ninety five on the bar", "load", {"value": 95, "basis": "total"}),
        ("the bar is ready 60 kilos on the bar", "load", {"value": 60, "unit": "kg"}),
    ],
}
COUNTER_EXAMPLES: dict[str, list[str]] = {
    "ten a side on the bar": ["ten a side", "lunges ten each side"],
    "two twenties a side": ["two tens", "bar ten a side"],
    "fives on": ["dumbbells put your fives on the floor", "plates here two fives on the left"],
    "that's your hundred": ["plates and that's your ten", "that's your hundred", "the rack that's your forty seconds"],
    "a plate a side": ["a plate of biscuits", "a quarter of an hour"],
    "a plate's a forty five": ["a plate on each end of the bar"],
    "bar's forty five": ["the bar is high", "grab the bar"],
    "empty bar": ["the bar is empty on sundays"],
    "ninety five on the bar": ["ninety five reps", "ten on the left"],
    "that makes ninety five": [
        "bar up so that's ten and rest",
        "that makes sense",
        "the bar is shut and that's twenty as well",
    ],
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
    names = {rule.name for rule in bar_loads.RULES}
    assert set(EXAMPLES) == names
    assert set(COUNTER_EXAMPLES) == names
