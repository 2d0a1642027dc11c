"""``explain``, ``schema``, ``lexicon`` and ``version``."""

from __future__ import annotations

import json

import pytest

from setdown import __version__
from setdown.check import read_published_schema


def test_explain_shows_the_words_and_the_set(run, vtt):
    """The words around the moment are quoted with their times, under the headings in order."""
    ran = run("explain", vtt, "--at", "1:01")
    assert ran.code == 0
    lines = ran.out.splitlines()
    assert lines[0] == "wren.vtt at 1:01"
    headings = [line for line in lines[1:] if line and not line.startswith(" ")]
    assert headings == ["said", "recognised", "work", "also possible", "set"]
    said = " ".join(line.split("  ")[-1] for line in lines[lines.index("said") + 1 : lines.index("recognised")])
    assert "goblet squats" in said
    assert run("explain", vtt, "--at", "61").out == ran.out


@pytest.mark.parametrize("at", ["soon", "", "1:75", "-5", "1:2:3:4", "inf", "nan", "1:"])
def test_explain_wants_a_time(run, vtt, at):
    """What is no time is refused with the ways to write one."""
    ran = run("explain", vtt, f"--at={at}")
    assert (ran.code, ran.out) == (2, "")
    assert "12:40" in ran.err


def test_explain_bad_input(run, vtt, tmp_path):
    """A time after the end, a missing file, a folder, no time at all."""
    ran = run("explain", vtt, "--at", "9:59:59")
    assert (ran.code, "expected: at most 3:54" in ran.err) == (2, True)
    assert "missing.vtt" in run("explain", tmp_path / "missing.vtt", "--at", "1:00").err
    assert run("explain", tmp_path, "--at", "1:00").code == 2
    assert run("explain", vtt).code == 2


def test_schema_is_the_published_one(run, tmp_path):
    """Printed or written, it is the shipped copy; the model gives the same; another file is not overwritten."""
    ran = run("schema")
    assert (ran.code, ran.out) == (0, read_published_schema())
    assert json.loads(ran.out)["$schema"].startswith("https://json-schema.org/draft/2020-12/")
    assert run("schema", "--from-model").out == ran.out
    target = tmp_path / "s.json"
    assert run("schema", "-o", target).code == 0
    assert target.read_text(encoding="utf-8") == ran.out
    target.write_text("{}")
    refused = run("schema", "-o", target)
    assert (refused.code, target.read_text()) == (2, "{}")
    assert run("schema", "-o", target, "--replace").code == 0
    assert run("schema", "-o", tmp_path).code == 2


def test_lexicon_find(run):
    """A name is found with a reason; words that name nothing are exit code 1."""
    ran = run("lexicon", "find", "goblet", "squat")
    assert ran.code == 0
    assert "goblet" in ran.out
    assert run("lexicon", "find", "goblet squat").out == ran.out
    nothing = run("lexicon", "find", "zzzz qqqq")
    assert nothing.code == 1
    assert nothing.out.startswith("no movement found")
    assert run("lexicon", "find").code == 2
    assert run("lexicon", "find", "squat", "--lexicon", "no-such-file.csv").code == 2


def test_lexicon_lint(run, repository, tmp_path):
    """The lexicon of the project has no findings; a broken one has; what is no folder is refused."""
    ran = run("lexicon", "lint", repository / "lexicon")
    assert (ran.code, ran.out.splitlines()[-1]) == (0, "0 findings")
    assert run("lexicon", "lint", tmp_path / "missing").code == 2
    (tmp_path / "movements").mkdir()
    (tmp_path / "movements" / "a.csv").write_text("id,name\nx,\n")
    assert run("lexicon", "lint", tmp_path).code in (1, 2)


def test_version(run):
    """The version of the package, by either name."""
    assert run("version").out == run("--version").out == f"setdown {__version__}\n"
