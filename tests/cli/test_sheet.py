"""``setdown sheet``: CSV for programs, a table for people."""

from __future__ import annotations

import os

import pytest

from make_routine import make_routine
from setdown.sheet import COLUMNS, format_sheet_csv, read_sheet_csv, routine_to_rows

CSV = format_sheet_csv(routine_to_rows(make_routine()))


def test_a_pipe_gets_csv(run, routine_file):
    """Not on a terminal: the CSV, byte for byte, with the line ends of RFC 4180."""
    ran = run("sheet", routine_file)
    assert (ran.code, ran.out, ran.err) == (0, CSV, "")
    assert run("sheet", routine_file, "--csv").out == CSV


def test_the_table(run, routine_file):
    """One line a set under a heading, times as a clock, sections named once."""
    lines = run("sheet", routine_file, "--table").out.splitlines()
    assert [" ".join(line.split()) for line in lines] == [
        "at section group round exercise side reps seconds load finish sure queries",
        "1:02 main 1 1 goblet squat 10 10 lb per hand 0.90 load-unsure name-unsure",
        "2:04 2 1 row left 8-10 0.90",
        "2:52 2 1 row right 8-10 pulses 0.50",
        "3:51 cool down 3 1 child's pose 30 0.46",
    ]


def test_a_terminal_gets_the_table(run, routine_file, monkeypatch):
    """On a terminal the table is shown unless the CSV is asked for."""
    monkeypatch.setattr("setdown.cli.sheet.is_terminal", lambda: True)
    assert run("sheet", routine_file).out == run("sheet", routine_file, "--table").out
    assert run("sheet", routine_file, "--csv").out == CSV


def test_caption_text_cannot_steer_the_terminal_or_the_markup(run, routine_file):
    """Names come from captions: escape sequences and markup are shown, not obeyed."""
    text = routine_file.read_text().replace("goblet squat", "[red]squat\\u001b[2J")
    routine_file.write_text(text)
    for form in ("--table", "--csv"):
        out = run("sheet", routine_file, form).out
        assert "[red]squat" in out
        assert "\x1b" not in out


def test_a_transcript_is_extracted_first(run, vtt, tmp_path):
    """The sheet of a transcript is the sheet of its routine."""
    run("extract", vtt, "-o", tmp_path / "a.json")
    assert run("sheet", vtt).out == run("sheet", tmp_path / "a.json").out


def test_output_to_a_file(run, routine_file, tmp_path):
    """Written as CSV; the same again is done; another file is kept unless --replace."""
    target = tmp_path / "a.csv"
    assert run("sheet", routine_file, "-o", target).code == 0
    assert target.read_bytes() == CSV.encode()
    assert read_sheet_csv(target) == routine_to_rows(make_routine())
    assert run("sheet", routine_file, "-o", target).code == 0
    target.write_text(",".join(COLUMNS) + "\n")
    refused = run("sheet", routine_file, "-o", target)
    assert (refused.code, "--replace" in refused.err) == (2, True)
    assert run("sheet", routine_file, "-o", target, "--table", "--replace").code == 0
    assert target.read_text().startswith("  at") or "exercise" in target.read_text().splitlines()[0]


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("missing.routine.json", None, ["missing.routine.json", "no such file"]),
        ("a.json", '{\n "sections": [,\n', ["a.json:2", "broken JSON"]),
        (
            "a.json",
            '{"schema_version": "1.0",\n "sections": 4}',
            ["a.json:1", "this is not a routine", "setdown check"],
        ),
        ("a.json", "[1, 2]", ["a.json"]),
        ("a.json", "\udcff", ["a.json:1", "not UTF-8"]),
        ("a.vtt", "nothing of the kind", ["a.vtt"]),
    ],
)
def test_bad_input(run, tmp_path, name, content, words):
    """Each is refused with the file, the line where there is one, and no output."""
    file = tmp_path / name
    if content is not None:
        file.write_bytes(content.encode("utf-8", "surrogateescape"))
    ran = run("sheet", file)
    assert (ran.code, ran.out) == (2, "")
    for word in words:
        assert word in ran.err.replace("No such", "no such")


def test_a_folder_and_contrary_options(run, routine_file):
    """A folder is no routine, and two forms at once are none."""
    assert "this is a folder" in run("sheet", routine_file.parent).err
    ran = run("sheet", routine_file, "--csv", "--table")
    assert (ran.code, ran.out) == (2, "")


def test_an_output_that_cannot_be_written(run, routine_file, tmp_path):
    """A folder, and a place in no folder."""
    assert "this is a folder" in run("sheet", routine_file, "-o", tmp_path).err
    assert "its folder does not exist" in run("sheet", routine_file, "-o", tmp_path / "no" / "a.csv").err
    assert run("sheet", routine_file, "-o", os.devnull).code == 0
