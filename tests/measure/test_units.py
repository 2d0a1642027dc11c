"""Pounds and kilograms: exact, and the same as the published figures and another library's."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from setdown.measure import convert_mass, format_amount, parse_mass
from setdown.measure.units import KJ_IN_KCAL, round_amount

REGISTRY = pint.UnitRegistry(non_int_type=Decimal)
AMOUNTS = st.decimals(0, 9999, places=3)

# Exact by NIST SP 811 (2008), Appendix B: 1 lb = 0.453 592 37 kg; each line is lb x that.
POUNDS = {
    "2.5": "1.133980925",
    "5": "2.26796185",
    "8": "3.62873896",
    "12": "5.44310844",
    "45": "20.41165665",
    "135": "61.23496995",
    "225": "102.05828325",
}
# The reciprocal, to ten significant digits.
KILOGRAMS = {"1": "2.204622622", "2.5": "5.511556555", "16": "35.27396195", "24": "52.91094292", "60": "132.2773573"}


@pytest.mark.parametrize(("lb", "kg"), POUNDS.items())
def test_pounds_in_kilograms_are_exact(lb, kg):
    """NIST SP 811: the international pound, digit for digit."""
    assert convert_mass(Decimal(lb), "lb", "kg") == Fraction(kg)


@pytest.mark.parametrize(("kg", "lb"), KILOGRAMS.items())
def test_kilograms_in_pounds(kg, lb):
    """NIST SP 811: the reciprocal, to the digits that are printed."""
    digits = len(lb.split(".")[1])
    assert str(round_amount(convert_mass(Decimal(kg), "kg", "lb"), digits)) == lb


@settings(deadline=None, max_examples=100)
@given(AMOUNTS)
def test_pint_agrees(amount):
    """pint with Decimal, an independent library, gives the same kilograms."""
    theirs = REGISTRY.Quantity(amount, "lb").to("kg").magnitude
    assert convert_mass(amount, "lb", "kg") == Fraction(theirs)


def test_pint_agrees_on_the_calorie():
    """One kilocalorie is 4.184 kJ (UCUM cal_th; pint)."""
    assert Fraction(REGISTRY.Quantity(Decimal(1), "kcal").to("kJ").magnitude) == KJ_IN_KCAL


@settings(deadline=None, max_examples=100)
@given(AMOUNTS)
def test_there_and_back(amount):
    """A conversion and its reverse give the amount back, exactly, both ways."""
    assert convert_mass(convert_mass(amount, "lb", "kg"), "kg", "lb") == Fraction(amount)
    assert convert_mass(convert_mass(amount, "kg", "lb"), "lb", "kg") == Fraction(amount)


@settings(deadline=None, max_examples=100)
@given(st.fractions(0, 10_000, max_denominator=999), st.integers(0, 6))
def test_rounding_is_within_half_a_place(amount, places):
    """What is shown is never further off than half of its last digit."""
    assert abs(Fraction(round_amount(amount, places)) - amount) <= Fraction(1, 2 * 10**places)
    assert abs(Fraction(format_amount(amount, places)) - amount) <= Fraction(1, 2 * 10**places)


@pytest.mark.parametrize(
    ("text", "kg"),
    [("70", "70"), ("70kg", "70"), ("62.5 KG", "62.5"), ("154lb", "69.85322498"), ("154 lbs", "69.85322498")],
)
def test_a_mass_as_people_write_it(text, kg):
    """A bare number is kilograms; pounds are converted exactly."""
    assert parse_mass(text) == Fraction(kg)


@pytest.mark.parametrize("text", ["", "kg", "-70", "0", "7 stone", "1e3", "70,5", "٧٠", "nan", "9" * 20, "1.2.3"])
def test_what_is_no_mass_is_refused(text):
    """Nothing is guessed from another form."""
    with pytest.raises(ValueError, match="not a mass"):
        parse_mass(text)
