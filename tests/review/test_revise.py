"""A set sheet that was changed in a spreadsheet goes back into its routine."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from random import Random

import pytest
from hypothesis import given, settings

from make_edits import ANA, classes, lexicon, list_wrong, make_class, randoms, read_samples
from make_routine import make_routine
from setdown.errors import SetdownError
from setdown.model.routine import Routine
from setdown.review.revise import Revised, SheetRefusedError, revise_routine
from setdown.review.sheet_cells import name_column, parse_edited_sheet
from setdown.sheet import COLUMNS, format_sheet_csv, routine_to_rows

Rows = list[dict[str, str]]


def revise(routine: Routine, data: bytes | str) -> Revised:
    data = data.encode() if isinstance(data, str) else data
    return revise_routine(routine, parse_edited_sheet(data, "x.csv"), ANA, lexicon())


def change(routine: Routine, edit: Callable[[Rows], object]) -> Revised:
    """Revise with the routine's own sheet after ``edit`` had its way with the rows."""
    rows = routine_to_rows(routine)
    edit(rows)
    return revise(routine, format_sheet_csv(rows))


def put(number: int, **cells: str) -> Callable[[Rows], object]:
    return lambda rows: rows[number].update(cells)


@settings(max_examples=40, deadline=None)
@given(classes(), randoms)
def test_a_sheet_that_was_not_changed_changes_nothing(routine, rng):
    """Whatever the class, and in whatever order its rows and columns come back."""
    rows = routine_to_rows(routine)
    assert revise(routine, format_sheet_csv(rows)).routine is routine
    rng.shuffle(rows)
    columns = list(COLUMNS)
    rng.shuffle(columns)
    assert revise(routine, write(rows, columns)).routine is routine


def write(rows: Rows, columns: list[str], delimiter: str = ",", end: str = "\r\n") -> str:
    text = io.StringIO()
    table = csv.writer(text, delimiter=delimiter, lineterminator=end)
    table.writerow(columns)
    table.writerows([row[c] for c in columns] for row in rows)
    return text.getvalue()


def spoil(rows: Rows) -> Rows:
    """As a spreadsheet in another language writes it: decimal commas, times as clocks without their tenths."""
    spoilt = []
    for row in rows:
        row = dict(row)
        for column in ("end", "load", "confidence", "work_s"):
            row[column] = row[column].replace(".", ",")
        seconds = int(float(row["start"]))
        row["start"] = f"{seconds // 3600}:{seconds // 60 % 60:02d}:{seconds % 60:02d}"
        row["group"], row["round"] = row["group"] + ".0", row["round"] + ",0"
        spoilt.append(row)
    return spoilt


@pytest.mark.parametrize("name", sorted(read_samples()))
@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_a_sheet_as_spreadsheets_really_write_it(name, delimiter):
    """Mark, delimiter, line ends, blank rows, a column of nothing, commas and clocks: nothing has changed."""
    routine = read_samples()[name]
    text = write(spoil(routine_to_rows(routine)), list(COLUMNS), delimiter)
    heading, rest = text.split("\r\n", 1)
    text = heading + delimiter + "\r\n" + rest + delimiter * 16 + "\r\n\r\n" + delimiter * 3 + "\r\n"
    assert revise(routine, b"\xef\xbb\xbf" + text.encode()).routine is routine
    assert revise(routine, text.replace("\r\n", "\n").encode("utf-16")).routine is routine
    assert revise(routine, f"sep={delimiter}\r\n{text}").routine is routine


def test_a_quoted_line_end_and_hard_spaces_in_a_cell_are_spaces():
    """Cells that were wrapped by hand are still the same name; rows are counted as the spreadsheet does."""
    rows = routine_to_rows(make_routine())
    rows[0]["exercise"] = "goblet\nsquat"
    rows[3]["exercise"] = "child's\u00a0pose "
    text = write(rows, list(COLUMNS))
    assert revise(make_routine(), text).routine == make_routine()
    with pytest.raises(SheetRefusedError, match=r"row 4, column reps \(I\)") as refused:
        revise(make_routine(), text.replace(",right,8-10", ",right,lots"))
    assert refused.value.line == 5


def test_cells_become_edited_values():
    """With who and when; the queries about them are answered; untouched sets are untouched."""
    done = change(make_routine(), put(0, reps="12", load="7,5", unit="kg", finisher="drop"))
    one = done.routine.iter_sets()[0][2]
    assert (str(one.reps), str(one.load.value), one.load.unit, one.load.basis) == ("12", "7.5", "kg", "per_hand")
    assert {one.origin[f] for f in ("reps", "load", "finisher")} == {"edited"}
    assert one.edited["reps"] == ANA
    assert next(q for q in done.routine.queries if q.id == "q1").state == "accepted"
    assert (done.changed, done.added, done.removed) == (1, 0, 0)
    assert [x for _, _, x in done.routine.iter_sets()][1:] == [x for _, _, x in make_routine().iter_sets()][1:]


def test_load_cells_clear_and_combine():
    """A load goes with its unit when both cells are emptied; a whole load may stand in one cell."""
    gone = change(make_routine(), put(0, load="", unit="", basis="")).routine.iter_sets()[0][2]
    assert (gone.load, gone.origin["load"]) == (None, "edited")
    typed = change(make_routine(), put(3, load="2x15 lb")).routine.iter_sets()[3][2].load
    assert (typed.value, typed.unit, typed.basis) == (15, "lb", "per_hand")


def test_rows_that_are_gone_and_rows_that_are_new():
    """A deleted row deletes the set; a new row needs an exercise and times, and may say where it belongs."""

    def edit(rows: Rows) -> None:
        del rows[0]
        blank = dict.fromkeys(COLUMNS, "")
        rows.append(
            blank | {"start": "3:45", "end": "3:49", "exercise": "plank", "work_s": "4", "section": "cool_down"}
        )

    done = change(make_routine(), edit)
    names = [(s.kind, x.exercise.name) for s, _, x in done.routine.iter_sets()]
    assert names == [("main", "row"), ("main", "row"), ("cool_down", "plank"), ("cool_down", "child's pose")]
    assert (done.changed, done.added, done.removed) == (0, 1, 1)
    assert list_wrong(done.routine) == []


def test_a_row_that_was_renamed_and_moved_is_still_its_set():
    """It keeps its evidence and its id."""
    done = change(make_routine(), put(0, exercise="sumo squat", start="1:04", end="1:48"))
    assert (done.routine.iter_sets()[0][2].id, done.added, done.removed) == ("s1", 0, 0)


def test_sections_groups_and_arrangements():
    """As the cells of the rows say; a number that no group had is a new group."""
    done = change(make_routine(), lambda rows: [rows[n].update(section="warm_up") for n in (0,)])
    assert [s.kind for s in done.routine.sections] == ["intro", "warm_up", "main", "cool_down"]
    joined = change(make_routine(), put(0, group="2", arrangement="superset")).routine
    assert [[x.id for x in g.sets] for s in joined.sections for g in s.groups] == [["s1", "s2", "s3"], ["s4"]]
    parted = change(make_routine(), put(2, group="7")).routine
    assert [[x.id for x in g.sets] for s in parted.sections for g in s.groups] == [["s1"], ["s2"], ["s3"], ["s4"]]

    def to_circuit(rows: Rows) -> None:
        rows[1]["arrangement"] = rows[2]["arrangement"] = "circuit"

    group = change(make_routine(), to_circuit).routine.sections[1].groups[1]
    assert (group.arrangement, group.edited) == ("circuit", {"arrangement": ANA})


def test_a_query_that_was_taken_out_of_its_cell_is_dismissed():
    """The others stay open; one that is not there cannot be put in."""
    done = change(make_routine(), put(0, queries="name-unsure")).routine
    assert {q.id: q.state for q in done.queries} == {"q1": "dismissed", "q2": "open", "q3": "dismissed"}
    with pytest.raises(SheetRefusedError, match="no open query 'sleepy'"):
        change(make_routine(), put(0, queries="load-unsure;name-unsure;sleepy"))


@pytest.mark.parametrize(
    ("row", "cells", "told"),
    [
        (0, {"reps": "ten"}, r"row 2, column reps \(I\): reps is 'ten'"),
        (0, {"reps": "08-Oct"}, r"row 2, column reps \(I\): .*date"),
        (1, {"side": "port"}, r"row 3, column side \(H\)"),
        (2, {"start": "soon"}, r"row 4, column start \(A\)"),
        (2, {"start": ""}, r"row 4, column start \(A\)"),
        (0, {"end": "2:30"}, r"row 2, column end \(B\): .*lasts until 150"),
        (1, {"start": "1:30"}, r"row 3, column start \(A\): .*lasts until"),
        (3, {"end": "59:00"}, r"row 5, column end \(B\): .*after the recording"),
        (0, {"end": "0:50"}, r"row 2, column end"),
        (3, {"unit": "kg"}, r"row 5, column unit \(L\): there is no load"),
        (0, {"load": "1,000"}, r"row 2, column load \(K\)"),
        (0, {"section": "lunch"}, r"row 2, column section \(C\)"),
        (2, {"group": "first"}, r"row 4, column group \(D\)"),
        (0, {"group": "2", "start": "3:32", "end": "3:35", "section": "cool_down"}, r"row 2, column group"),
        (3, {"group": "1"}, r"row 5, column group \(D\): group 1 is in the main section"),
        (1, {"arrangement": "circuit"}, r"row 4, column arrangement \(E\): .*another row"),
        (0, {"confidence": "1"}, r"row 2, column confidence \(P\)"),
        (0, {"exercise": ""}, r"row 2, column exercise \(G\)"),
        (0, {"round": "0"}, r"row 2, column round \(F\)"),
    ],
)
def test_what_cannot_be_is_refused_with_row_and_column(row, cells, told):
    """As the spreadsheet names them, with the line of the file; the routine is as it was."""
    routine = make_routine()
    with pytest.raises(SheetRefusedError, match=told) as refused:
        change(routine, put(row, **cells))
    assert refused.value.source == "x.csv"
    assert refused.value.line
    assert routine == make_routine()


def test_everything_that_cannot_be_is_told_at_once():
    """Each cell with its row and column, so that the sheet need not be sent back again and again."""

    def edit(rows: Rows) -> None:
        rows[0].update(reps="ten", side="port")
        rows[2].update(load="heavy")
        rows.append(dict.fromkeys(COLUMNS, "") | {"start": "3:45", "end": "3:49"})

    with pytest.raises(SheetRefusedError) as refused:
        change(make_routine(), edit)
    told = [(one.row.number, one.column) for one in (refused.value, *refused.value.also)]
    assert sorted(told) == [(2, "reps"), (2, "side"), (4, "load"), (6, "exercise")]
    with pytest.raises(SheetRefusedError) as refused:
        change(make_routine(), lambda rows: [row.update(start="soon") for row in rows[:3]])
    assert [one.row.number for one in (refused.value, *refused.value.also)] == [2, 3, 4]


def test_a_new_row_is_blamed_for_its_own_times():
    """One that lies over another set, or goes on after the recording."""
    blank = dict.fromkeys(COLUMNS, "")
    for start, end, section, told in (
        ("1:10", "1:20", "", r"row 6, column start \(A\): .*while the one before it lasts"),
        ("1:10", "1:20", "cool_down", r"row 6, column start \(A\): .*not inside its main section"),
        ("3:59", "59:00", "cool_down", r"row 6, column end \(B\): .*after the recording"),
    ):
        row = blank | {"start": start, "end": end, "exercise": "plank", "section": section}
        with pytest.raises(SheetRefusedError, match=told):
            change(make_routine(), lambda rows, row=row: rows.append(row))


def test_a_new_row_without_what_it_needs():
    """The row is named."""
    blank = dict.fromkeys(COLUMNS, "")
    with pytest.raises(SheetRefusedError, match=r"row 6, column exercise \(G\): a new set needs exercise"):
        change(make_routine(), lambda rows: rows.append(blank | {"start": "20", "end": "30"}))


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", "no column start, end, exercise"),
        (b"a,b\n1,2\n", "no column start, end, exercise"),
        (b"start,end,exercise,mood\n", "'mood' is not one of a set sheet"),
        (b"start,end,exercise,start\n", "'start' stands twice"),
        (b"start,end,exercise\n1,2,plank,4\n", "more cells"),
        (b'start,end,exercise\n1,2,"plank\n', "broken CSV"),
        (b"PK\x03\x04\x00\x00", "not text"),
    ],
)
def test_what_is_no_set_sheet(data, told):
    """Another table, another kind of file, half a file."""
    with pytest.raises(SetdownError, match=told) as refused:
        parse_edited_sheet(data, "x.csv")
    assert refused.value.source == "x.csv"


def test_columns_that_were_deleted_are_not_touched():
    """A sheet may come back with only what was looked at."""
    columns = ["exercise", "start", "end", "reps"]
    rows = routine_to_rows(make_routine())
    rows[0]["reps"] = "11"
    done = revise(make_routine(), write(rows, columns)).routine
    [one, *others] = [x for _, _, x in done.iter_sets()]
    assert (str(one.reps), one.load) == ("11", make_routine().iter_sets()[0][2].load)
    assert others == [x for _, _, x in make_routine().iter_sets()][1:]


@settings(max_examples=30, deadline=None)
@given(classes(), randoms)
def test_whatever_is_changed_the_routine_stays_right_and_holds_it(routine, rng):
    """Random cells of random rows, rows deleted: what is taken reads back from the new sheet as it was typed."""
    rows = routine_to_rows(routine)
    typed = {"reps": ("7", "max"), "side": ("each", ""), "load": ("3 kg",), "exercise": ("plank", "odd wobble")}
    for row in rng.sample(rows, min(3, len(rows))):
        column = rng.choice(sorted(typed))
        row[column] = rng.choice(typed[column])
        if column == "load":
            row["load"], row["unit"] = "3", "kg"
    gone = rng.sample(range(len(rows)), min(2, len(rows) - 1))
    rows = [row for n, row in enumerate(rows) if n not in gone]
    done = revise(routine, format_sheet_csv(rows)).routine
    assert list_wrong(done) == []
    columns = ("start", "end", "exercise", "side", "reps", "load", "unit")
    assert [[row[c] for c in columns] for row in routine_to_rows(done)] == [[row[c] for c in columns] for row in rows]


def test_columns_are_lettered_as_in_a_spreadsheet():
    """After Z comes AA."""
    assert [name_column(n) for n in (0, 10, 25, 26, 51, 52, 701, 702)] == ["A", "K", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]


def test_a_large_sheet_finds_every_row_again():
    """Shuffled rows of a class with many sets of one name are told apart by their times."""
    routine = make_class(Random(11))
    rows = routine_to_rows(routine)
    rows.reverse()
    assert revise(routine, format_sheet_csv(rows)).routine is routine
