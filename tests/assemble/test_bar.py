"""Plates on each end and the bar itself become one load."""

from __future__ import annotations

from decimal import Decimal

import pytest

from make_class import lay_out_class
from setdown.assemble.bar import list_totals, weigh_bar
from setdown.model.routine import Load


def list_loads(text: str, unit: str | None = "kg", last: int | None = None) -> dict[int, list[str]]:
    """What the bar may weigh by its value, for the last plates of the text."""
    context = lay_out_class(text)
    plates = [m for m in context.index.within("load", 0, 99) if m.value.per_side_plates][-1]
    before = Load(value=Decimal(last), unit=unit) if last else None
    return {int(load.value): features for load, features in list_totals(context, plates, unit, before)}


@pytest.mark.parametrize(
    ("text", "unit", "weight"),
    [
        ("the bar is ready", "kg", 20),
        ("the bar is ready", "lb", 45),
        ("this bar weighs fifteen kilos", "kg", 15),
        ("bar's thirty five and it's all pounds", "lb", 35),
        ("this bar weighs fifteen kilos", "lb", 45),
        ("the bar is ready", None, None),
    ],
)
def test_the_bar(text, unit, weight):
    """What the class says of it in its unit, else the usual bar of the unit, else not known."""
    assert weigh_bar(lay_out_class(text), 0, unit) == weight


def test_plates_on_a_bare_bar():
    """One on each end."""
    found = list_loads("on the bar ten a side")
    assert set(found) == {40}
    assert "plates on a bare bar, no change said" in found[40]
    assert "plates fit the words" in found[40]


def test_more_plates():
    """'More' comes on top of what was on."""
    found = list_loads("on the bar five a side more", last=60)
    assert set(found) == {30, 70, 50}
    assert "plates fit the words" in found[70]
    assert "plates do not fit" in found[30]


def test_plates_taken_off():
    """Never below the bar itself."""
    assert "plates fit the words" in list_loads("the bar take off five a side", last=60)[50]
    assert set(list_loads("the bar take off five a side", last=25)) == {30, 35}


def test_a_sum_that_is_said():
    """It tells which of the possible sums is meant, whatever else the number may be read as."""
    found = list_loads("on the bar five a side so that's seventy", last=60)
    assert "the sum is said" in found[70]
    assert "another sum is said" in found[30]


def test_the_empty_bar():
    """Nothing on it: the bar alone, whatever was on before."""
    found = list_loads("first set is the empty bar", last=60)
    assert set(found) == {20}
    assert "the empty bar" in found[20]


def test_without_a_unit():
    """Neither pounds nor kilos are known: no sum."""
    assert list_loads("on the bar ten a side", unit=None) == {}
