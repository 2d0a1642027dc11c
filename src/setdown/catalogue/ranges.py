"""Ranges as a user writes them: ``10-15``, ``10-`` for at least, ``-15`` for at most, ``10``; and days."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from setdown.errors import SetdownError
from setdown.measure import convert_mass

_NUMBER = r"\d{1,7}(?:\.\d{1,3})?"
_RANGE = re.compile(rf"(?P<lo>{_NUMBER})?\s*(?P<dash>-|to|–)?\s*(?P<hi>{_NUMBER})?\s*(?P<unit>[a-z]*)")
_SPAN = re.compile(r"(\d{1,4})\s*(d|day|days|w|week|weeks)?")


@dataclass(frozen=True, slots=True)
class Range:
    """``lo`` to ``hi``, both included; None where it is open."""

    lo: float | None = None
    hi: float | None = None


def parse_minutes(text: str) -> Range:
    """``25`` (at most), ``20-25``, ``20-``. Minutes. Raises SetdownError."""
    lo, hi, alone, unit = _parse("minutes", text, "25, 20-25 or 20-")
    if unit not in ("", "m", "min", "mins", "minutes"):
        raise SetdownError(f"{text!r} is no length in minutes", expected="25, 20-25 or 20-")
    return _order("minutes", text, Range(None if alone else _float(lo), _float(hi)))


def parse_load(text: str) -> Range:
    """``20lb`` (just that), ``10-15kg``, ``10kg-``, ``-15lb``: kilograms. Raises SetdownError."""
    expected = "20lb, 10-15kg, 10-kg or -15kg"
    tidy = re.sub(r"^([\d.]+)\s*(kg|lb)s?\s*-$", r"\1-\2", text.strip().lower())
    lo, hi, _, unit = _parse("load", tidy, expected)
    unit = unit.removesuffix("s")
    if unit not in ("lb", "kg"):
        raise SetdownError(f"the load {text!r} has no unit", expected=expected)
    weighed = [
        float(convert_mass(Decimal(end), "lb" if unit == "lb" else "kg", "kg")) if end else None for end in (lo, hi)
    ]
    return _order("load", text, Range(weighed[0], weighed[1]))


def parse_reps(text: str) -> Range:
    """``10`` (just that), ``8-12``, ``20-``. Raises SetdownError."""
    lo, hi, _, unit = _parse("number of reps", text, "10, 8-12 or 20-")
    if unit:
        raise SetdownError(f"{text!r} is no number of reps", expected="10, 8-12 or 20-")
    return _order("reps", text, Range(_float(lo), _float(hi)))


def parse_day(text: str) -> str:
    """A day in ISO 8601. Raises SetdownError."""
    try:
        return date.fromisoformat(text.strip()).isoformat()
    except ValueError as error:
        raise SetdownError(f"{text!r} is no day", expected="YYYY-MM-DD, such as 2024-03-05") from error


def parse_span(text: str) -> timedelta:
    """``7d``, ``2w``, ``10`` (days). Raises SetdownError."""
    match = _SPAN.fullmatch(text.strip().lower())
    if match is None:
        raise SetdownError(f"{text!r} is no length of time", expected="7d or 2w")
    return timedelta(days=int(match[1]) * (7 if (match[2] or "d").startswith("w") else 1))


def _parse(kind: str, text: str, expected: str) -> tuple[str | None, str | None, bool, str]:
    match = _RANGE.fullmatch(text.strip().lower())
    if match is None or (match["lo"] is None and match["hi"] is None):
        raise SetdownError(f"{text!r} is no {kind}", expected=expected)
    if match["dash"] is None:
        if match["lo"] is None or match["hi"] is not None:
            raise SetdownError(f"{text!r} is no {kind}", expected=expected)
        return match["lo"], match["lo"], True, match["unit"]
    return match["lo"], match["hi"], False, match["unit"]


def _order(kind: str, text: str, found: Range) -> Range:
    if found.lo is not None and found.hi is not None and found.lo > found.hi:
        raise SetdownError(f"the {kind} {text!r} end before they begin", expected="the smaller number first")
    return found


def _float(text: str | None) -> float | None:
    return None if text is None else float(text)
