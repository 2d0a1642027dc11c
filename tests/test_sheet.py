"""The set sheet: its cells, its CSV, and what a spreadsheet may make of it."""

from __future__ import annotations

import csv
import io
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from make_routine import make_routine
from setdown.errors import SetdownError
from setdown.model.routine import Load, Reps
from setdown.sheet import (
    COLUMNS,
    escape_cell,
    format_number,
    format_sheet_csv,
    read_sheet_csv,
    routine_to_rows,
    unescape_cell,
    write_sheet_csv,
)

HEADING = (
    "start,end,section,group,arrangement,round,exercise,side,reps,work_s,load,unit,basis,rel,finisher,"
    "confidence,queries"
)


def test_sheet_of_a_routine():
    """Each set is a row; groups count up through the class; dismissed queries are gone."""
    assert format_sheet_csv(routine_to_rows(make_routine())).split("\r\n") == [
        HEADING,
        "62.0,110.0,main,1,straight,1,goblet squat,,10,,10,lb,per_hand,,,0.90,load-unsure;name-unsure",
        "124.0,160.0,main,2,superset,1,row,left,8-10,,,,,,,0.90,",
        "172.0,210.0,main,2,superset,1,row,right,8-10,,,,,,pulses,0.50,",
        "231.0,234.0,cool_down,3,flow,1,child's pose,,,30,,,,,,0.46,",
        "",
    ]


def test_reps_to_failure_relative_load_and_missing_values():
    """'max' for as many as possible; 'lighter' without a number; empty cells where nothing is known."""
    routine = make_routine()
    one = routine.sections[1].groups[0].sets[0]
    one.reps, one.load, one.confidence = Reps(to_failure=True), Load(rel="lighter"), {}
    row = routine_to_rows(routine)[0]
    assert (row["reps"], row["load"], row["unit"], row["rel"], row["confidence"]) == ("max", "", "", "lighter", "")


def test_a_group_number_never_repeats():
    """Groups of later sections go on counting, and a group without sets still counts."""
    routine = make_routine()
    routine.sections[1].groups[0].sets = []
    assert [row["group"] for row in routine_to_rows(routine)] == ["2", "2", "3"]


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (12.0, "12"),
        (0.5, "0.5"),
        (Decimal("12.50"), "12.5"),
        (1200, "1200"),
        (22.679618, "22.68"),
        (0, "0"),
        (None, ""),
    ],
)
def test_numbers_are_written_plainly(value, text):
    """No trailing zeros, no exponent, three decimals at most."""
    assert format_number(value) == text


# OWASP, "CSV Injection": cells that begin with = + - @, tab or carriage return are read as formulas.
@pytest.mark.parametrize(
    "text",
    ["=1+1", "+cmd|'/C calc'!A0", "-2+3", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "  =1+1", "＝1", "-", "+", "-x", "-1e5"],
)
def test_formulas_are_defused(text):
    """A cell that could start a formula gets an apostrophe, which reading takes off again."""
    assert escape_cell(text) == "'" + text
    assert unescape_cell(escape_cell(text)) == text


@pytest.mark.parametrize(
    "text", ["", "10", "-5", "+5", "-0.5", "8-10", "push-up", "child's pose", "'quoted'", "a=b", "12.5"]
)
def test_plain_cells_stay(text):
    """Plain numbers, also negative ones, and ordinary words are left as they are."""
    assert escape_cell(text) == text
    assert unescape_cell(text) == text


@given(st.text())
def test_no_cell_can_start_a_formula(text):
    """Whatever a cell holds, what is written is a plain number or starts with no formula character."""
    cell = escape_cell(text)
    first = cell.lstrip()[:1]
    plain = cell.lstrip("+-").replace(".", "", 1).isdecimal()
    assert plain or first not in tuple("=+-@") or not first
    assert cell[:1] not in tuple("\t\r\n") or not cell
    assert not any(ord(c) < 32 and c not in "\t\r\n" for c in cell)


def test_every_column_is_defused_in_the_file():
    """Names come from captions: the whole CSV parses back to the same rows, with no formula in any cell."""
    rows = [dict.fromkeys(COLUMNS, '=HYPERLINK("http://x.example","a, b")')]
    text = format_sheet_csv(rows)
    cells = next(iter(csv.DictReader(io.StringIO(text, newline=""))))
    assert set(cells.values()) == {'\'=HYPERLINK("http://x.example","a, b")'}


def test_written_sheet_reads_back(tmp_path):
    """Reading a written sheet gives the rows that went in."""
    routine = make_routine()
    routine.sections[1].groups[0].sets[0].exercise.name = '=squat, "deep"\nand slow'
    file = tmp_path / "a.csv"
    assert write_sheet_csv(routine, file) == "written"
    assert read_sheet_csv(file) == routine_to_rows(routine)
    assert write_sheet_csv(routine, file) == "unchanged"


@pytest.mark.parametrize(
    ("text", "line", "problem"),
    [
        ("", 1, "not a set sheet"),
        ("a,b\n1,2\n", 1, "no column start"),
        ("start,end,section,group,exercise\n1,2,main,1,row,extra\n", 2, "more cells"),
        ("start,end,section,group,exercise\n1,2,main,1,row\nsoon,2,main,1,row\n", 3, "start is 'soon'"),
        ("start,end,section,group,exercise\n1,nan,main,1,row\n", 2, "end is 'nan'"),
        ("start,end,section,group,exercise\n1,,main,1,row\n", 2, "end is ''"),
    ],
)
def test_what_is_no_sheet_is_refused_with_its_line(tmp_path, text, line, problem):
    """The error names the file and the line to look at."""
    file = tmp_path / "a.csv"
    file.write_text(text)
    with pytest.raises(SetdownError, match=problem) as caught:
        read_sheet_csv(file)
    assert (caught.value.source, caught.value.line) == (str(file), line)


def test_a_sheet_saved_by_a_spreadsheet_reads(tmp_path):
    """A byte order mark, clock times, short rows and columns in another order are fine."""
    file = tmp_path / "a.csv"
    file.write_bytes(b"\xef\xbb\xbfexercise,start,end,section,group\r\nrow,1:05,1:02:30.5,main,1\r\nplank,90,95\r\n")
    rows = read_sheet_csv(file)
    assert [(r["exercise"], r["start"], r["end"], r["section"], r["side"]) for r in rows] == [
        ("row", "1:05", "1:02:30.5", "main", ""),
        ("plank", "90", "95", "", ""),
    ]
