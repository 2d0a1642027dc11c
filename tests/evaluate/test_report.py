"""Scores as text and as a history."""

from __future__ import annotations

import csv

import pytest

from setdown.errors import SetdownError
from setdown.evaluate import append_history, describe_rows, format_table, score_rows


@pytest.fixture
def rows():
    base = {"section": "main", "group": "1", "round": "1", "side": "", "reps": "10", "load": ""}
    return [
        {"start": "10.0", "end": "40.0", "exercise": "squat"} | base,
        {"start": "60.0", "end": "90.0", "exercise": "row"} | base,
    ]


def test_table_has_a_line_for_each_caption_style(rows):
    """Every style is one line of a Markdown table with as many cells as the heading."""
    measures, _ = score_rows(rows, rows[:1])
    lines = format_table({".vtt": measures, ".txt": measures}).splitlines()
    assert len(lines) == 4
    assert {line.count("|") for line in lines} == {lines[0].count("|")}
    assert lines[2].startswith("| `.vtt` | 2 | 67 |")
    assert "| -- |" in lines[2], "no gold row states a load"


def test_rows_are_listed_with_their_answers(rows):
    """A missing row says so, an extra one is listed last."""
    extra = dict(rows[0], start="500.0", end="510.0", exercise="plank")
    pred = [rows[0], extra]
    lines = describe_rows(rows, pred, score_rows(rows, pred)[1])
    assert [line.split()[0] for line in lines] == ["gold", "got", "gold", "got", "extra"]
    assert lines[3].endswith("nothing")
    assert "plank" in lines[4]


def test_history_grows_and_replaces_the_same_row(tmp_path, rows):
    """A new name adds rows; the same name and style replaces its row; other rows keep their bytes."""
    file = tmp_path / "scores.csv"
    good, _ = score_rows(rows, rows)
    poor, _ = score_rows(rows, rows[:1])
    append_history(file, "0.1", {".vtt": poor, ".txt": poor})
    first = file.read_text().splitlines()
    append_history(file, "0.2", {".vtt": good})
    append_history(file, "0.2", {".vtt": poor})
    lines = file.read_text().splitlines()
    assert lines[:3] == first
    with file.open() as stream:
        kept = [(r["what"], r["captions"], r["row_f1"], r["rec_load"], r["gold"]) for r in csv.DictReader(stream)]
    assert kept == [
        ("0.1", ".vtt", "0.6667", "", "2"),
        ("0.1", ".txt", "0.6667", "", "2"),
        ("0.2", ".vtt", "0.6667", "", "2"),
    ]


def test_history_does_not_touch_another_file(tmp_path, rows):
    """A file with other columns is refused and left as it is."""
    file = tmp_path / "scores.csv"
    file.write_text("a,b\n1,2\n")
    with pytest.raises(SetdownError) as caught:
        append_history(file, "0.1", {".vtt": score_rows(rows, rows)[0]})
    assert (caught.value.source, caught.value.line) == (str(file), 1)
    assert file.read_text() == "a,b\n1,2\n"
