"""A load as a person types it: ``2x15 lb``, ``14 kg per hand``, ``40 kg total``, ``60 %``, ``lighter``, ``12``."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import TypeVar

from setdown.model.routine import Basis, Load, Routine, Unit
from setdown.review.cells import NUMBER, is_nothing, parse_number
from setdown.review.refused import EditRefusedError
from setdown.sheet import format_number

T = TypeVar("T")
UNITS: dict[str, Unit] = dict.fromkeys(("lb", "lbs", "pound", "pounds"), "lb")
UNITS |= dict.fromkeys(("kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"), "kg")
UNITS |= dict.fromkeys(("%", "% 1rm", "%1rm", "pct1rm", "percent", "% of 1rm"), "pct1rm")
BASES: dict[str, Basis] = dict.fromkeys(
    ("per hand", "each hand", "in each hand", "a hand", "each", "per_hand", "/hand", "per side"), "per_hand"
)
BASES |= dict.fromkeys(("total", "in total", "in all", "together", "altogether"), "total")
PAIR = re.compile(r"(?:2|two|a pair of|pair of)\s*(?:[x×*]|\b(?=\s))\s*(?=\d)")
WHOLE = re.compile(
    rf"(?P<value>{NUMBER})?\s*(?P<unit>{'|'.join(sorted(map(re.escape, UNITS), key=len, reverse=True))})?"
    rf"\s*(?P<basis>{'|'.join(sorted(map(re.escape, BASES), key=len, reverse=True))})?"
    r"\s*(?P<rel>lighter|heavier)?"
)
EXPECTED = "a load such as 14 kg, 2x15 lb, 40 kg total, 60 % or lighter, or nothing"


def parse_load(text: str, before: Load | None = None, usual: Unit | None = None) -> Load | None:
    """The load in a cell. What is not typed (unit, basis) stays as it was ``before``; else ``usual`` is the unit.

    ``2x15 lb`` is fifteen pounds in each hand.
    """
    if is_nothing(text):
        return None
    asked = " ".join(text.lower().replace(" ", " ").split())
    pair = PAIR.match(asked)
    found = WHOLE.fullmatch(asked[pair.end() :] if pair else asked)
    if not found or not any(found.groups()) or (pair and (not found["value"] or BASES.get(found["basis"]) == "total")):
        raise EditRefusedError(f"load is {text!r}", field="load", value=text, expected=EXPECTED)
    if found["rel"] and not found["value"]:
        if found["unit"] or found["basis"]:
            raise EditRefusedError(f"load is {text!r}", field="load", value=text, expected=EXPECTED)
        return Load(rel=found["rel"])
    if not found["value"] and (before is None or before.value is None):
        raise EditRefusedError(f"load is {text!r}: there is no number", field="load", value=text, expected=EXPECTED)
    value = parse_amount(found["value"], text) if found["value"] else before.value if before else None
    basis: Basis | None = "per_hand" if pair else BASES.get(found["basis"] or "") or (before.basis if before else None)
    unit = UNITS.get(found["unit"] or "") or (before.unit if before else None) or usual
    return Load(value=value, unit=unit, basis=basis, rel=found["rel"])


def parse_amount(number: str, typed: str) -> Decimal:
    """The number of a load, from 0 to below 10 000; ``typed`` is the whole cell, for the message."""
    try:
        if parse_number(number, "load") < 10_000:
            return Decimal(number.replace(",", "."))
    except EditRefusedError:
        pass
    raise EditRefusedError(f"load is {typed!r}", field="load", value=typed, expected="a number below 10000 in it")


def parse_unit(text: str) -> Unit | None:
    return _choose(text, "unit", UNITS, "lb, kg, pct1rm or nothing")


def parse_basis(text: str) -> Basis | None:
    return _choose(text, "basis", BASES, "per_hand, total or nothing")


def parse_rel(text: str) -> str | None:
    return _choose(text, "rel", {"lighter": "lighter", "heavier": "heavier"}, "lighter, heavier or nothing")


def show_load(load: Load | None) -> str:
    """``14 kg per hand``, ``60 %``, ``lighter``; empty without a load. ``parse_load`` reads it back."""
    if load is None:
        return ""
    unit = "%" if load.unit == "pct1rm" else load.unit
    basis = load.basis.replace("_", " ") if load.basis else None
    return " ".join(filter(None, (format_number(load.value), unit, basis, load.rel)))


def find_usual_unit(routine: Routine) -> Unit | None:
    """The unit of all loads of the class, when they share one."""
    units = {one.load.unit for _, _, one in routine.iter_sets() if one.load and one.load.value is not None}
    return next(iter(units)) if len(units) == 1 else None


def _choose(text: str, field: str, choices: Mapping[str, T], expected: str) -> T | None:
    if is_nothing(text):
        return None
    asked = " ".join(text.lower().split())
    if asked not in choices:
        raise EditRefusedError(f"{field} is {text!r}", field=field, value=text, expected=expected)
    return choices[asked]
