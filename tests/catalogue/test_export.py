"""The catalogue as tables."""

from __future__ import annotations

import csv
from contextlib import closing

import pytest

from gold_routines import list_gold, write_folder
from setdown.catalogue.add import add_classes, list_sources
from setdown.catalogue.export import TABLES, export_tables
from setdown.catalogue.store import open_store
from setdown.errors import SetdownError


def read_csv(path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


def test_csv_has_every_set(store, gold, tmp_path):
    """Row by row what the gold sheets say; times in seconds."""
    export_tables(store, tmp_path, "csv")
    rows = read_csv(tmp_path / "sets.csv")
    expected = [(one.name, row) for one in sorted(gold, key=lambda one: one.name) for row in one.rows]
    assert len(rows) == len(expected)
    for row, (name, sheet) in zip(rows, expected, strict=True):
        assert row["class"].rpartition("/")[2] == name
        assert float(row["start_s"]) == pytest.approx(float(sheet["start"]))
        told = (row["section"], row["arrangement"], row["side"], row["finisher"], row["unit"], row["basis"], row["rel"])
        assert told == tuple(
            sheet[key] for key in ("section", "arrangement", "side", "finisher", "unit", "basis", "rel")
        )
        assert row["load"] == (f"{float(sheet['load']):g}" if sheet["load"] else "")
        reps = (
            "max"
            if row["to_failure"] == "yes"
            else "-".join(dict.fromkeys(filter(None, (row["reps_lo"], row["reps_hi"]))))
        )
        assert reps == sheet["reps"]
    classes = {row["title"]: row for row in read_csv(tmp_path / "classes.csv")}
    for one in gold:
        row = classes[one.routine.title]
        assert (row["date"], row["status"]) == (one.routine.source.date, one.routine.status)
        assert int(row["sets"]) == len(one.rows)
        assert {kit.id for kit in one.routine.equipment} <= set(row["kit"].split(";"))
    movements = read_csv(tmp_path / "movements.csv")
    assert sum(int(row["sets"]) for row in movements) == len(rows)
    squat = next(row for row in movements if row["movement"] == "squat")
    assert (squat["pattern"], squat["first"], squat["known"]) == ("squat", "glutes;quadriceps", "yes")


def test_parquet_is_the_same_as_csv(store, tmp_path):
    """Read back by pandas, with the types of numbers: cell by cell what the CSV says."""
    pytest.importorskip("pyarrow", reason="the extra 'parquet' is not installed")
    pandas = pytest.importorskip("pandas", reason="pandas is a test dependency")
    export_tables(store, tmp_path, "csv")
    export_tables(store, tmp_path, "parquet")
    kinds = {"text": "str", "whole": "int64", "number": "float64", "yes": "bool"}
    for table in TABLES:
        frame = pandas.read_parquet(tmp_path / f"{table.name}.parquet")
        assert list(frame.columns) == [name for name, _ in table.columns]
        rows = read_csv(tmp_path / f"{table.name}.csv")
        assert len(frame) == len(rows)
        for name, kind in table.columns:
            if kind in ("whole", "number"):
                told = [row[name] and float(row[name]) for row in rows]
                found = ["" if pandas.isna(value) else round(float(value), 3) for value in frame[name]]
                assert found == told
            elif kind == "yes":
                assert [("no", "yes")[value] for value in frame[name]] == [row[name] for row in rows]
                assert str(frame[name].dtype) == kinds[kind]
            else:
                assert list(frame[name]) == [row[name].removeprefix("'") for row in rows]


def test_the_same_catalogue_gives_the_same_tables(store, tmp_path):
    """Written once; a second time unchanged; another table in its place is refused without --replace."""
    assert {outcome for _, outcome in export_tables(store, tmp_path, "csv")} == {"written"}
    assert {outcome for _, outcome in export_tables(store, tmp_path, "csv")} == {"unchanged"}
    (tmp_path / "sets.csv").write_text("mine")
    with pytest.raises(SetdownError, match="exists and differs"):
        export_tables(store, tmp_path, "csv")
    assert (tmp_path / "sets.csv").read_text() == "mine"
    assert dict(export_tables(store, tmp_path, "csv", replace=True))[tmp_path / "sets.csv"] == "written"
    assert not [path for path in tmp_path.iterdir() if path.name.startswith(".")]


def test_cells_cannot_start_a_formula(tmp_path):
    """A title that a spreadsheet would reckon gets an apostrophe in the CSV."""
    one = list_gold(1)[0]
    routine = one.routine.model_copy(deep=True)
    routine.title = '=HYPERLINK("http://x")'
    folder = write_folder(tmp_path / "in", [type(one)(0, "a", routine, one.vtt, one.rows)])
    with closing(open_store(tmp_path / "c", create=True)) as store:
        add_classes(store, list_sources([str(folder)]))
        export_tables(store, tmp_path / "out", "csv")
    assert read_csv(tmp_path / "out" / "classes.csv")[0]["title"] == '\'=HYPERLINK("http://x")'


def test_without_pyarrow(store, tmp_path, monkeypatch):
    """Parquet says what to install; CSV works."""
    import sys

    monkeypatch.setitem(sys.modules, "pyarrow", None)
    with pytest.raises(SetdownError, match="pyarrow") as refused:
        export_tables(store, tmp_path, "parquet")
    assert "setdown[parquet]" in refused.value.hint
    assert export_tables(store, tmp_path, "csv")
