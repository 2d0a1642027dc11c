"""``setdown score``: the reference's figures on the command line."""

from __future__ import annotations

import csv
import json
import random
import subprocess
import sys
from pathlib import Path

import pytest

from make_routine import VTT, make_routine
from setdown.document import format_routine
from setdown.sheet import format_sheet_csv, routine_to_rows

REFERENCE = Path(__file__).parent.parent / "evaluate" / "reference_score.py"


def run_reference(*arguments: object) -> str:
    command = [sys.executable, str(REFERENCE), *map(str, arguments)]
    return subprocess.run(command, capture_output=True, check=True, encoding="utf-8").stdout


@pytest.fixture
def folders(tmp_path, gold_folder):
    """Five gold sheets, and predictions that lose and shift rows; one is missing."""
    gold, pred = tmp_path / "gold", tmp_path / "pred"
    gold.mkdir()
    pred.mkdir()
    rng = random.Random(3)
    for file in sorted(gold_folder.glob("*.gold.csv"))[:5]:
        (gold / file.name).write_bytes(file.read_bytes())
        with file.open(newline="", encoding="utf-8") as stream:
            rows = list(csv.DictReader(stream))
        with (pred / file.name.replace(".gold", "")).open("w", newline="", encoding="utf-8") as stream:
            writer = csv.DictWriter(stream, list(rows[0]))
            writer.writeheader()
            writer.writerows(dict(r, start=float(r["start"]) + rng.gauss(0, 9)) for r in rows if rng.random() < 0.8)
    sorted(pred.iterdir())[2].unlink()
    return gold, pred


def test_two_sheets(run, folders):
    """The line and the JSON are the reference's, to the byte, at any tolerance."""
    gold, pred = (sorted(folder.iterdir())[0] for folder in folders)
    for tol in ("30", "5", "0.5"):
        assert run("score", gold, pred, "--tol", tol).out == run_reference(gold, pred, "--tol", tol)
        assert run("score", gold, pred, "--tol", tol, "--json").out == run_reference(gold, pred, "--tol", tol, "--json")


def test_two_folders(run, folders):
    """A line a class and the total, as the reference prints them; a missing file counts as empty and is told."""
    gold, pred = folders
    ran = run("score", gold, pred, "--suffix", ".csv")
    assert ran.out == run_reference("--dir", gold, pred, ".csv")
    assert (ran.code, "1 of 5 files are missing" in ran.err) == (1, True)


def test_several_suffixes_give_a_table(run, folders, tmp_path):
    """One line a suffix, the same totals as alone; the history gets a row for each."""
    gold, pred = folders
    for file in list(pred.iterdir()):
        file.with_suffix(".late.csv").write_bytes(file.read_bytes())
    history = tmp_path / "scores.csv"
    both = ["--suffix", ".csv", "--suffix", ".late.csv"]
    ran = run("score", gold, pred, *both, "--history", history, "--what", "0.1.0")
    lines = ran.out.splitlines()
    assert [line.split("`")[1] for line in lines[2:]] == [".csv", ".late.csv"]
    assert lines[2].replace(".csv", "") == lines[3].replace(".late.csv", "")
    with history.open() as stream:
        assert [(r["what"], r["captions"]) for r in csv.DictReader(stream)] == [
            ("0.1.0", ".csv"),
            ("0.1.0", ".late.csv"),
        ]
    told = json.loads(run("score", gold, pred, *both, "--json").out)
    assert list(told) == [".csv", ".late.csv"]
    assert len(told[".csv"]["classes"]) == 5
    assert told[".csv"]["total"] == told[".late.csv"]["total"]


def test_routines_and_transcripts_are_scored_as_their_sheet(run, vtt, tmp_path):
    """Scoring a routine or a transcript gives what scoring its sheet gives."""
    gold = tmp_path / "wren.gold.csv"
    gold.write_text(format_sheet_csv(routine_to_rows(make_routine())), encoding="utf-8", newline="")
    routine = tmp_path / "wren.routine.json"
    routine.write_text(format_routine(make_routine()), encoding="utf-8")
    assert json.loads(run("score", gold, routine, "--json").out)["effort_saved"] == 1
    run("sheet", vtt, "-o", tmp_path / "wren.csv")
    assert run("score", gold, vtt).out == run("score", gold, tmp_path / "wren.csv").out
    assert run("score", tmp_path, tmp_path, "--suffix", ".vtt").out.splitlines()[0].startswith("wren ")


def test_a_transcript_that_cannot_be_used_counts_as_empty(run, tmp_path, folders):
    """It is told, the others are scored, and the exit code is 1."""
    gold, pred = folders
    name = sorted(gold.iterdir())[0].name.removesuffix(".gold.csv")
    (pred / f"{name}.vtt").write_text("nothing of the kind")
    other = sorted(gold.iterdir())[1].name.removesuffix(".gold.csv")
    (pred / f"{other}.vtt").write_bytes(VTT.encode())
    ran = run("score", gold, pred, "--suffix", ".vtt", "--json")
    assert (ran.code, f"{name}.vtt" in ran.err) == (1, True)
    assert json.loads(ran.out)[".vtt"]["classes"][name]["pred"] == 0


def test_rows_are_listed(run, folders):
    """--rows lists each gold row with what answers it."""
    gold, pred = (sorted(folder.iterdir())[0] for folder in folders)
    lines = run("score", gold, pred, "--rows").out.splitlines()
    assert sum(line.startswith("gold ") for line in lines) == len(gold.read_text().splitlines()) - 1


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["GOLD", "missing.csv"], "missing.csv"),
        (["missing.csv", "GOLD"], "missing.csv"),
        (["FOLDER", "GOLD"], "a folder can only be scored against a folder"),
        (["GOLD", "FOLDER"], "a folder can only be scored against a folder"),
        (["GOLD", "GOLD", "--tol", "0"], "more than 0"),
        (["GOLD", "GOLD", "--tol", "nan"], "more than 0"),
        (["GOLD", "GOLD", "--tol", "x"], "--tol"),
        (["GOLD", "GOLD", "--suffix", ".csv"], "for folders"),
        (["FOLDER", "FOLDER"], "--suffix"),
        (["FOLDER", "FOLDER", "--suffix", ".srt"], "none of the files is here"),
        (["EMPTY", "FOLDER", "--suffix", ".csv"], "no gold.csv files"),
        (["FOLDER", "FOLDER", "--suffix", ".csv", "--history", "h.csv"], "--what"),
        (["GOLD", "BROKEN"], "broken.csv:2"),
        (["BROKEN", "GOLD"], "broken.csv:2"),
    ],
)
def test_bad_input(run, tmp_path, folders, arguments, words):
    """Each is refused with what it is about, nothing on standard output, and exit code 2."""
    gold, _ = folders
    (tmp_path / "empty").mkdir()
    broken = tmp_path / "broken.csv"
    broken.write_text("start,end,section,group,exercise\nlater,2,main,1,row\n")
    names = {"GOLD": sorted(gold.iterdir())[0], "FOLDER": gold, "EMPTY": tmp_path / "empty", "BROKEN": broken}
    ran = run("score", *(names.get(a, a) for a in arguments))
    assert (ran.code, ran.out) == (2, "")
    assert words in ran.err
