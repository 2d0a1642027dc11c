"""Measures as plain values, ready for JSON."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from fractions import Fraction
from typing import Any

from setdown.measure.between import Between
from setdown.measure.units import round_amount

PLACES = 9  # enough for one pound in kilograms; what is exact in fewer is written exactly


def to_plain(value: Any) -> Any:
    """Dataclasses as dicts by field, ``Between`` as ``{"lo", "hi"}``, fractions as numbers, tuples as lists."""
    if isinstance(value, Between):
        return {"lo": to_plain(value.lo), "hi": to_plain(value.hi)}
    if isinstance(value, Fraction):
        return int(value) if value.denominator == 1 else float(round_amount(value, PLACES))
    if isinstance(value, float):
        return round(value, PLACES)
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: to_plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, tuple | list):
        return [to_plain(part) for part in value]
    return value
