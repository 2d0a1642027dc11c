"""Pounds and kilograms, exactly: amounts are fractions until they are shown.

One international avoirdupois pound is 0.453 592 37 kg by definition (NIST Special Publication 811, 2008 edition,
Appendix B; NIST Handbook 44, Appendix C). One thermochemical calorie is 4.184 J (the same, and UCUM ``cal_th``).
"""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction
from typing import Literal

MassUnit = Literal["lb", "kg"]
Units = Literal["lb", "kg", "both"]
UNITS: tuple[Units, ...] = ("lb", "kg", "both")

KG_IN_LB = Fraction(45_359_237, 100_000_000)
KJ_IN_KCAL = Fraction(4184, 1000)


def convert_mass(amount: Decimal | Fraction | int, unit: MassUnit, to: MassUnit) -> Fraction:
    """The same mass in the other unit, without any rounding."""
    exact = Fraction(amount)
    if unit == to:
        return exact
    return exact * KG_IN_LB if unit == "lb" else exact / KG_IN_LB


def round_amount(amount: Fraction, places: int = 0) -> Decimal:
    """The amount with so many decimals, halves to even: for showing, never for reckoning on."""
    scaled = round(amount * 10**places)  # Python rounds a fraction half to even, exactly
    return Decimal(scaled).scaleb(-places)


def format_amount(amount: Fraction, places: int = 0) -> str:
    """``720``, ``12.5``: no separators of thousands; trailing zeros after the point are left out."""
    text = f"{round_amount(amount, places):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def parse_mass(text: str, unit: MassUnit = "kg") -> Fraction:
    """``70``, ``70kg``, ``154 lb``, ``62.5 KG`` -> kilograms; ``unit`` is what a bare number means.

    Raises:
        ValueError: the text is no mass, or not above zero.
    """
    words = text.strip().lower()
    for ending, meant in (("kgs", "kg"), ("kg", "kg"), ("lbs", "lb"), ("lb", "lb")):
        if words.endswith(ending):
            words, unit = words.removesuffix(ending).strip(), meant  # type: ignore[assignment]
            break
    if not words.replace(".", "", 1).isascii() or not words.replace(".", "", 1).isdigit() or len(words) > 12:
        raise ValueError(f"not a mass: {text!r}")
    mass = convert_mass(Decimal(words).quantize(Decimal("0.000001"), ROUND_HALF_EVEN), unit, "kg")
    if mass <= 0:
        raise ValueError(f"not a mass: {text!r}")
    return mass
