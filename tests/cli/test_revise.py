"""``setdown revise``, ``merge``, ``signoff`` and ``lexicon learn`` as their users run them."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from make_routine import make_routine
from setdown.check import parse_routine
from setdown.document import format_routine


@pytest.fixture
def sheet(run, routine_file) -> Path:
    file = routine_file.with_name("wren.csv")
    run("sheet", routine_file, "--csv", "-o", file)
    return file


def change(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


def test_a_sheet_goes_back(run, routine_file, sheet):
    """What changed is told; the file holds it, with who; the log lists it, and undoes it."""
    change(sheet, "goblet squat,,10,,10,lb", "goblet squat,,12,,7.5,kg")
    ran = run("revise", routine_file, sheet, "--by", "Ana Lund")
    assert ran.code == 0, ran.err
    assert "set 1, goblet squat: reps 10 → 12; load 10 lb per hand → 7.5 kg per hand\n" in ran.out
    assert ran.out.endswith("saved as revision 1\n")
    one = parse_routine(routine_file.read_text(encoding="utf-8")).iter_sets()[0][2]
    assert (str(one.reps), one.edited["reps"].by) == ("12", "Ana Lund")
    listed = run("revise", routine_file, "--log").out
    assert "revision 1, " in listed
    assert " by Ana Lund\n  set 1, goblet squat: reps 10 → 12;" in listed
    undone = run("revise", routine_file, "--undo", 1, "--by", "Bo")
    assert undone.code == 0, undone.err
    assert parse_routine(routine_file.read_text(encoding="utf-8")) == make_routine()
    assert "by Bo (undoes revision 1)" in run("revise", routine_file, "--log").out


def test_nothing_is_written_when_a_cell_will_not_do(run, routine_file, sheet):
    """File, line, row and column are named; the routine and its folder are as they were."""
    change(sheet, "row,left,8-10", "row,left,08-Oct")
    change(sheet, "goblet squat,,10", "goblet squat,,11")
    before = {f.name: f.read_bytes() for f in routine_file.parent.iterdir()}
    ran = run("revise", routine_file, sheet, "--by", "Ana")
    assert (ran.code, ran.out) == (2, "")
    assert f"setdown: {sheet}:3: row 3, column reps (I): reps is '08-Oct'" in ran.err
    assert "hint: A spreadsheet seems to have made a date of it" in ran.err
    assert {f.name: f.read_bytes() for f in routine_file.parent.iterdir()} == before


def test_a_dry_run_writes_nothing(run, routine_file, sheet):
    """It tells what would change."""
    change(sheet, "goblet squat,,10", "goblet squat,,11")
    before = routine_file.read_bytes()
    ran = run("revise", routine_file, sheet, "--by", "Ana", "--dry-run")
    assert "reps 10 → 11" in ran.out
    assert "nothing was written" in ran.out
    assert routine_file.read_bytes() == before


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ([], "say what to do"),
        (["x.csv", "--undo", "1"], "say what to do"),
        (["x.csv"], "needs the name"),
        (["x.csv", "--by", " "], "needs the name"),
        (["x.csv", "--by", "Ana"], "no such file"),
        (["--undo", "1", "--by", "Ana"], "no revision 1 to undo"),
    ],
)
def test_what_revise_needs(run, routine_file, arguments, told):
    """One thing to do, and who does it."""
    ran = run("revise", routine_file, *arguments)
    assert ran.code == 2
    assert told in ran.err


def test_a_routine_that_was_never_edited(run, routine_file):
    """Says so."""
    assert run("revise", routine_file, "--log").out == f"{routine_file}: never edited\n"


def test_differences_and_their_exit_codes(run, routine_file, sheet):
    """0 the same, 1 different, 2 could not be used; in words, as JSON, as a page."""
    old = routine_file.with_name("old.routine.json")
    shutil.copy(routine_file, old)
    same = run("diff", old, routine_file)
    assert (same.code, same.out) == (0, "")
    change(sheet, "goblet squat,,10", "goblet squat,,11")
    run("revise", routine_file, sheet, "--by", "Ana")
    differs = run("diff", old, routine_file)
    assert (differs.code, differs.out) == (1, "set 1, goblet squat: reps 10 → 11\n")
    found = json.loads(run("diff", old, routine_file, "--json").out)
    assert found["sets"][0]["changes"] == [{"field": "reps", "before": "10", "after": "11"}]
    page = routine_file.with_name("changes.html")
    assert run("diff", old, routine_file, "--html", "-o", page).code == 1
    assert page.read_text(encoding="utf-8").startswith("<!doctype html>")
    assert "confidence.reps" in run("diff", old, routine_file, "--noise").out
    assert run("diff", old, "nowhere.json").code == 2
    assert run("diff", old, routine_file, "--json", "--html").code == 2


def test_the_schema_of_differences(run):
    """Printed as it is shipped."""
    assert json.loads(run("schema", "--diff").out)["$id"] == "urn:setdown:schema:diff:1.0"


def test_a_merge_into_a_new_file_and_into_the_edited_one(run, routine_file, sheet):
    """A clash is told and gives exit code 1; a merge over the edited file is a revision that can be undone."""
    base, new = (routine_file.with_name(f"{name}.routine.json") for name in ("base", "new"))
    shutil.copy(routine_file, base)
    again = make_routine()
    again.iter_sets()[1][2].side = "right"
    again.iter_sets()[0][2].reps = None
    new.write_text(format_routine(again), encoding="utf-8")
    change(sheet, "goblet squat,,10", "goblet squat,,11")
    run("revise", routine_file, sheet, "--by", "Ana")
    edited = routine_file.read_bytes()
    merged = routine_file.with_name("merged.routine.json")
    ran = run("merge", base, routine_file, new, "-o", merged)
    assert ran.code == 1
    assert "query must versions-differ: reps: Ana has 11, the new extraction has none." in ran.err
    assert routine_file.read_bytes() == edited
    [first, second, *_] = [x for _, _, x in parse_routine(merged.read_text(encoding="utf-8")).iter_sets()]
    assert (str(first.reps), second.side) == ("11", "right")
    assert run("merge", base, routine_file, new, "-o", merged).code == 1  # the same bytes may be written again
    assert run("merge", "-", routine_file, new, "-o", routine_file).code == 2
    over = run("merge", "-", routine_file, new, "-o", routine_file, "--by", "Ana")
    assert over.code == 1
    assert routine_file.read_bytes() == merged.read_bytes()
    run("revise", routine_file, "--undo", 2, "--by", "Ana")
    assert parse_routine(routine_file.read_text(encoding="utf-8")) == parse_routine(edited.decode())
    assert run("merge", "-", base, new).code == 2  # it has no log


def test_sign_off(run, routine_file, sheet):
    """Refused while a pressing query is open, which is named; then reviewed, then published; a change undoes it."""
    change(routine_file, '"severity": "should"', '"severity": "must"')
    ran = run("signoff", routine_file, "--by", "Ana")
    assert ran.code == 1
    assert "query load-unsure on set 1, goblet squat at 1:02: Ten of what?" in ran.out
    assert "cannot be signed off: 2 open queries first" in ran.out
    change(sheet, ",load-unsure;name-unsure", ",")
    assert run("revise", routine_file, sheet, "--by", "Ana").code == 0
    assert "reviewed, signed by Ana" in run("signoff", routine_file, "--by", "Ana").out
    assert "reviewed already" in run("signoff", routine_file, "--by", "Ana").out
    assert "published, signed by Bo" in run("signoff", routine_file, "--by", "Bo", "--published").out
    change(sheet, "goblet squat,,10", "goblet squat,,11")
    assert "status: published → draft" in run("revise", routine_file, sheet, "--by", "Ana").out
    refused = run("signoff", routine_file, "--by", "Bo", "--published")
    assert (refused.code, "Sign it off as reviewed first" in refused.out) == (1, True)
    assert run("signoff", routine_file).code == 2


def test_learning_from_a_review(run, routine_file, sheet, tmp_path):
    """Entries are printed, and only with --add written behind what is there; the lexicon then knows them."""
    change(routine_file, '"said": "goblet squat"', '"said": "gull bet scott"')
    assert run("lexicon", "learn", routine_file).out == ""
    change(sheet, "goblet squat", "sumo squat")
    run("revise", routine_file, sheet, "--by", "Ana")
    change(routine_file, '"said": "gull bet scott"', '"said": "zoom oh squad"')
    ran = run("lexicon", "learn", routine_file)
    assert ran.code == 0
    assert '[[misheard]]\nheard = "zoom oh squad"\nsaid = "sumo squat"\n' in ran.out
    mine = tmp_path / "mine.toml"
    assert not mine.exists()
    run("lexicon", "learn", routine_file, "--add", mine)
    assert mine.read_text(encoding="utf-8") == ran.out
    assert run("lexicon", "find", "zoom oh squad", "--lexicon", mine).code == 0
    assert run("lexicon", "learn", routine_file, "--lexicon", mine, "--add", mine).out == ""
    assert mine.read_text(encoding="utf-8") == ran.out


def test_control_characters_do_not_reach_the_terminal(run, routine_file, sheet):
    """Neither from a name in a routine nor from a cell."""
    change(routine_file, '"title": "Wren\'s ten"', '"title": "Wren \\u001b[31m"')
    old = routine_file.with_name("old.routine.json")
    old.write_text(format_routine(make_routine()), encoding="utf-8")
    out = run("diff", old, routine_file).out
    assert "\x1b" not in out
    assert "\\x1b[31m" in out
