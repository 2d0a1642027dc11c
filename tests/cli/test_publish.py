"""``setdown publish``: files, refusals and exit codes."""

from __future__ import annotations

import json
import shutil
import sys
from pathlib import Path

import pytest

from setdown.cli.main import run_command

SAMPLES = Path(__file__).parent.parent.parent / "samples"


@pytest.fixture
def folder(tmp_path):
    """A routine beside its transcript."""
    for name in ("quayside-strength.vtt", "quayside-strength.routine.json"):
        shutil.copy(SAMPLES / name, tmp_path / name)
    return tmp_path


def test_everything_is_made_by_one_command(folder, capsys):
    """Unless --as names some of it; figures too, where Matplotlib is."""
    pytest.importorskip("matplotlib", reason="Matplotlib is not installed")
    routine = folder / "quayside-strength.routine.json"
    assert run_command(["publish", str(routine), "-o", str(folder / "out"), "--draft"]) == 0
    endings = {path.name.removeprefix("quayside-strength.draft.") for path in (folder / "out").iterdir()}
    assert endings >= {"plan.md", "plan.html", "sheet.csv", "chapters.vtt", "chapters.txt", "captions.vtt", "sets.vtt"}
    assert endings >= {"captions.srt", "captions.changes.csv", "captions.reading.txt", "jsonld", "figure-time.svg"}
    assert str(folder / "out" / "quayside-strength.draft.plan.md") in capsys.readouterr().out


def test_a_draft_is_refused(folder, capsys):
    """With exit code 2, and a word on what to do."""
    assert run_command(["publish", str(folder / "quayside-strength.routine.json"), "-o", str(folder / "out")]) == 2
    assert "--draft" in capsys.readouterr().err
    assert not list((folder).glob("out/*"))


def test_some_outputs_by_name_and_by_comma(folder):
    """Both ways to ask."""
    out = folder / "out"
    line = ["publish", str(folder / "quayside-strength.routine.json"), "-o", str(out), "--draft"]
    assert run_command([*line, "--as", "plan", "--as", "sheet,track", "--units", "kg", "--detail", "short"]) == 0
    assert len(list(out.iterdir())) == 3
    assert "5.4\u00a0kg" in (out / "quayside-strength.draft.plan.md").read_text(encoding="utf-8")


def test_files_that_differ_are_not_written_over(folder, capsys):
    """Unless --replace is given."""
    line = ["publish", str(folder / "quayside-strength.routine.json"), "-o", str(folder), "--draft", "--as", "plan"]
    assert run_command(line) == 0
    assert run_command(line) == 0  # the same again
    plan = folder / "quayside-strength.draft.plan.md"
    plan.write_text("mine", encoding="utf-8")
    assert run_command(line) == 2
    assert plan.read_text(encoding="utf-8") == "mine"
    assert run_command([*line, "--replace"]) == 0


def test_a_transcript_that_is_another_is_refused(folder, capsys):
    """A named one is an error; one beside the routine that has changed is not used, and that is said."""
    routine, beside = folder / "quayside-strength.routine.json", folder / "quayside-strength.vtt"
    beside.write_text(beside.read_text(encoding="utf-8") + "\n", encoding="utf-8")
    line = ["publish", str(routine), "-o", str(folder), "--draft", "--as"]
    assert run_command([*line, "plan"]) == 0
    assert "changed" in capsys.readouterr().err
    assert run_command([*line, "captions"]) == 2
    assert run_command([*line, "captions", "--transcript", str(beside)]) == 2
    assert "not the transcript" in capsys.readouterr().err


def test_one_bad_routine_does_not_stop_the_others(folder, capsys):
    """Exit code 1: finished with findings."""
    (folder / "bad.routine.json").write_text("{", encoding="utf-8")
    line = ["publish", str(folder / "bad.routine.json"), str(folder / "quayside-strength.routine.json")]
    assert run_command([*line, "-o", str(folder), "--draft", "--as", "chapters"]) == 1
    assert (folder / "quayside-strength.draft.chapters.txt").is_file()


@pytest.mark.parametrize("wrong", [["--as", "poster"], ["--units", "stone"], ["--detail", "long"]])
def test_what_is_not_known_is_refused(folder, capsys, wrong):
    """And the known values are listed."""
    assert run_command(["publish", str(folder / "quayside-strength.routine.json"), "--draft", *wrong]) == 2
    assert "expected" in capsys.readouterr().err


def test_a_title_or_name_cannot_leave_the_folder(folder):
    """The source in a routine may be anything; the documents are named after the routine's file, safely."""
    routine = json.loads((folder / "quayside-strength.routine.json").read_text(encoding="utf-8"))
    routine["source"]["name"] = "../../../etc/passwd"
    strange = folder / "..evil  name.routine.json"
    strange.write_text(json.dumps(routine), encoding="utf-8")
    out = folder / "out"
    assert run_command(["publish", str(strange), "-o", str(out), "--draft", "--as", "plan"]) == 0
    assert [path.name for path in out.iterdir()] == ["evil-name.draft.plan.md"]


def test_without_matplotlib_everything_else_is_made(folder, capsys, monkeypatch):
    """In a plain installation all but the figures is made, and how to have them is said once; asked for, they fail."""
    monkeypatch.setitem(sys.modules, "matplotlib", None)
    line = ["publish", str(folder / "quayside-strength.routine.json"), "-o", str(folder / "out"), "--draft"]
    assert run_command(line) == 0
    assert capsys.readouterr().err.count("setdown[figures]") == 1
    names = [path.name for path in (folder / "out").iterdir()]
    assert any(name.endswith(".jsonld") for name in names)
    assert not any("figure" in name for name in names)
    assert run_command([*line, "--as", "figures"]) == 2
    assert "hint: " in capsys.readouterr().err
