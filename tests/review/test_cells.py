"""What a person may type into a cell."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from setdown.model.routine import Finisher, Load, Reps
from setdown.review.cell_load import parse_load, show_load
from setdown.review.cells import (
    parse_arrangement,
    parse_count,
    parse_finisher,
    parse_number,
    parse_reps,
    parse_seconds,
    parse_section,
    parse_side,
    parse_text,
)
from setdown.review.refused import EditRefusedError


@pytest.mark.parametrize(
    ("text", "value", "unit", "basis", "rel"),
    [
        ("14 kg", 14, "kg", None, None),
        ("14kg", 14, "kg", None, None),
        ("14 kg per hand", 14, "kg", "per_hand", None),
        ("2x15 lb", 15, "lb", "per_hand", None),
        ("2 × 15lb", 15, "lb", "per_hand", None),
        ("a pair of 15 lbs", 15, "lb", "per_hand", None),
        ("7,5 kg each", 7.5, "kg", "per_hand", None),
        ("40 kg total", 40, "kg", "total", None),
        ("60 %", 60, "pct1rm", None, None),
        ("60% 1RM", 60, "pct1rm", None, None),
        ("12.50 kilos in each hand", 12.5, "kg", "per_hand", None),
        ("lighter", None, None, None, "lighter"),
        ("12 lb heavier", 12, "lb", None, "heavier"),
    ],
)
def test_a_load_as_it_is_typed(text, value, unit, basis, rel):
    """Number, unit, per hand or total, lighter or heavier; two of something are one in each hand."""
    expected = None if value is None else Decimal(str(value))
    assert parse_load(text) == Load(value=expected, unit=unit, basis=basis, rel=rel)


def test_what_is_not_typed_of_a_load_stays_as_it_was():
    """A number alone changes the number, a unit alone the unit; a first load takes the usual unit of the class."""
    before = Load(value=Decimal(12), unit="kg", basis="per_hand")
    assert parse_load("14", before) == Load(value=Decimal(14), unit="kg", basis="per_hand")
    assert parse_load("lb", before) == Load(value=Decimal(12), unit="lb", basis="per_hand")
    assert parse_load("14", None, "lb") == Load(value=Decimal(14), unit="lb")
    assert parse_load("14", None, None) == Load(value=Decimal(14))


@pytest.mark.parametrize("text", ["", " ", "none", "-", "–", "None"])
def test_nothing_typed_is_no_value(text):
    """An empty cell, a dash or 'none'."""
    assert parse_load(text, Load(rel="lighter")) is None
    assert parse_reps(text) is None
    assert parse_side(text) is None
    assert parse_finisher(text, None) is None
    assert parse_text(text, "tempo") is None


@pytest.mark.parametrize(
    "text",
    ["heavy", "3x10 lb", "12 stone", "kg", "lighter kg", "1,000 kg", "10 kg kg", "2x lb", "2x15 lb total", "-5 kg"],
)
def test_a_load_that_cannot_be(text):
    """Refused with the field, the value and an example; a thousands separator could be a decimal comma."""
    with pytest.raises(EditRefusedError) as refused:
        parse_load(text)
    assert refused.value.field == "load"
    assert refused.value.expected


@given(
    st.builds(
        Load,
        value=st.none() | st.decimals(0, 9999, places=2),
        unit=st.sampled_from(("kg", "lb", "pct1rm", None)),
        basis=st.sampled_from(("per_hand", "total", None)),
        rel=st.sampled_from(("lighter", "heavier", None)),
    ).filter(lambda load: load.value is not None or (load.rel and not load.unit and not load.basis))
)
def test_a_load_that_is_shown_can_be_typed(load):
    """What a cell shows is read back as the same load."""
    assert parse_load(show_load(load)) == load


@pytest.mark.parametrize(
    ("text", "seconds"),
    [
        ("95", 95),
        ("95.5", 95.5),
        ("95,5", 95.5),
        ("1:35", 95),
        ("0:01:35", 95),
        ("1:35,5", 95.5),
        ("1:02:33", 3753),
        ("75:00", 4500),
        ("45 s", 45),
        ("2 min", 120),
        ("1 min 30 s", 90),
        ("0:01:05.250", 65.25),
    ],
)
def test_times_as_people_and_spreadsheets_write_them(text, seconds):
    """Seconds, clocks with and without hours, decimal point or comma."""
    assert parse_seconds(text, "start") == seconds


@pytest.mark.parametrize("text", ["", "soon", "1:75", "1:60:00", "-3", "1:2:3:4", "12:", "#REF!"])
def test_a_time_that_cannot_be(text):
    """Refused with the field that it was typed into."""
    with pytest.raises(EditRefusedError) as refused:
        parse_seconds(text, "end")
    assert (refused.value.field, refused.value.value) == ("end", text)


@pytest.mark.parametrize(
    ("text", "reps"),
    [
        ("12", Reps(lo=12, hi=12)),
        ("8-10", Reps(lo=8, hi=10)),
        ("8 – 10", Reps(lo=8, hi=10)),
        ("8 to 10 reps", Reps(lo=8, hi=10)),
        ("max", Reps(to_failure=True)),
        ("To failure", Reps(to_failure=True)),
    ],
)
def test_reps_as_they_are_typed(text, reps):
    """A number, a range, or as many as possible."""
    assert parse_reps(text) == reps


@pytest.mark.parametrize("text", ["08-Oct", "8. Okt", "Oct-08", "8/10/2025", "2025-10-08"])
def test_reps_that_a_spreadsheet_made_a_date_of(text):
    """Refused, and the hint says what happened: 8-10 is a date to many spreadsheets."""
    with pytest.raises(EditRefusedError, match="date"):
        parse_reps(text)


@pytest.mark.parametrize("text", ["0", "10-8", "some", "1001", "1.5"])
def test_reps_that_cannot_be(text):
    """No repetitions, ranges that run backwards, words."""
    with pytest.raises(EditRefusedError):
        parse_reps(text)


def test_words_with_a_closed_list():
    """Sides, finishers, sections and arrangements in any usual spelling; anything else is refused with the list."""
    assert (parse_side("L"), parse_side(" Right "), parse_side("each side")) == ("left", "right", "each")
    assert parse_finisher("Pulse", Finisher(kind="hold", start=3, end=4)) == Finisher(kind="pulses", start=3, end=4)
    assert (parse_section("Warm-up"), parse_section("cool down")) == ("warm_up", "cool_down")
    assert parse_arrangement("Circuit") == "circuit"
    for parse in (parse_side, parse_section, parse_arrangement):
        with pytest.raises(EditRefusedError) as refused:
            parse("sideways")
        assert "sideways" in str(refused.value)
        assert refused.value.expected


def test_whole_numbers_within_bounds():
    """Also as spreadsheets write them, with a decimal part of nothing."""
    assert (parse_count("2", "round", 1, 200), parse_count("2.0", "round", 1, 200)) == (2, 2)
    for text in ("0", "201", "2.5", "two", ""):
        with pytest.raises(EditRefusedError):
            parse_count(text, "round", 1, 200)


def test_a_thousands_separator_is_not_guessed_at():
    """1,000 could be one or a thousand; 0,125 cannot be a thousand."""
    assert parse_number("0,125", "load") == 0.125
    with pytest.raises(EditRefusedError):
        parse_number("1,000", "load")


def test_text_is_one_short_line():
    """A tempo keeps its words; control characters and pages of text are refused."""
    assert parse_text(" 3-1-1  ", "tempo") == "3-1-1"
    for text in ("x" * 101, "a\x1b[31m"):
        with pytest.raises(EditRefusedError):
            parse_text(text, "tempo")
