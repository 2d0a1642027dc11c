"""``setdown catalogue``: what is printed, what is written, exit codes."""

from __future__ import annotations

import csv
import io
import json
import re
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from gold_routines import list_gold, write_folder
from own_lexicon import rename_first_movement

SAMPLES = Path(__file__).resolve().parents[2] / "samples"


@pytest.fixture
def studio(run, tmp_path) -> Path:
    """A catalogue of twelve annotated classes."""
    write_folder(tmp_path / "in", list_gold(12))
    file = tmp_path / "studio.setdown"
    ran = run("catalogue", "add", tmp_path / "in", "-c", file)
    assert (ran.code, ran.out) == (0, "12 added, 0 replaced, 0 unchanged\n")
    return file


def test_add_tells_what_became_of_the_files(run, studio, tmp_path):
    """Counts on standard output, bad and gone files by name on standard error; 1 when something needs attention."""
    folder = tmp_path / "in"
    again = run("catalogue", "add", folder, "-c", studio)
    assert (again.code, again.out, again.err) == (0, "0 added, 0 replaced, 12 unchanged\n", "")
    (folder / "bad.vtt").write_text("nothing")
    (folder / "notes.txt").write_text("buy milk")
    gone = sorted(folder.glob("*.vtt"))[1]
    gone.unlink()
    gone.with_name(gone.stem + ".routine.json").unlink()
    ran = run("catalogue", "add", folder, "-c", studio)
    assert ran.code == 1
    assert ran.out == "0 added, 0 replaced, 11 unchanged, 1 could not be used, 1 files are no transcripts, 1 gone\n"
    assert f"{folder}/bad.vtt" in ran.err
    assert "notes.txt was passed over" in ran.err
    assert f"--prune takes them out:\n  {gone.with_suffix('')}\n" in ran.err
    (folder / "bad.vtt").unlink()
    pruned = run("catalogue", "add", folder, "-c", studio, "--prune", "--quiet")
    assert (pruned.code, pruned.out) == (0, "")
    assert run("catalogue", "check", "-c", studio).out == "11 classes, nothing is wrong\n"


def test_add_tells_its_time_when_asked(run, studio, tmp_path):
    """One line on standard error: how many, how fast, and the share of the work that is extraction."""
    (tmp_path / "in" / "quay.vtt").write_bytes((SAMPLES / "quayside-strength.vtt").read_bytes())
    ran = run("catalogue", "add", tmp_path / "in", "-c", studio, "--timing")
    told = re.fullmatch(
        r"setdown: 13 classes in [\d.]+ s, [\d.]+ a second; (\d+) % of the work was extraction\n", ran.err
    )
    assert told
    assert 0 < int(told[1]) <= 100
    assert ran.out == "1 added, 0 replaced, 12 unchanged\n"


def test_add_with_nothing_to_add(run, tmp_path):
    """An empty folder is 1, a folder that is not there is 2, only bad files are 2."""
    (tmp_path / "empty").mkdir()
    assert run("catalogue", "add", tmp_path / "empty", "-c", tmp_path / "c").code == 1
    ran = run("catalogue", "add", tmp_path / "nowhere", "-c", tmp_path / "c")
    assert (ran.code, "no such folder" in ran.err) == (2, True)
    (tmp_path / "empty" / "bad.vtt").write_text("nothing")
    assert run("catalogue", "add", tmp_path / "empty", "-c", tmp_path / "c").code == 2


def test_find_as_a_table(run, studio, tmp_path):
    """A line for the class, its file, and a line for each moment with its link."""
    one = next(g for g in list_gold(12) if any(x.exercise.id == "goblet-squat" for _, _, x in g.routine.iter_sets()))
    ran = run("catalogue", "find", "-m", "gobble its quat", "-c", studio, "--limit", "0")
    assert ran.code == 0
    assert "'gobble its quat' was taken for 'goblet squat'" in ran.err
    assert one.routine.title in ran.out
    assert f"{tmp_path}/in/{one.name}.vtt" in ran.out
    assert "goblet squat, " in ran.out
    linked = run("catalogue", "find", "--pattern", "squat", "-c", studio, "--limit", "0")
    assert re.search(rf"  +\d+:\d\d  .*squat.*  file://{tmp_path}/in/\S+\.mp4#t=[\d.]+\n", linked.out)


def test_find_as_json_and_csv(run, studio, tmp_path):
    """The same moments in both; links open the recording at the moment."""
    options = ["catalogue", "find", "--muscle", "quads", "--section", "main", "-c", studio, "--limit", "0"]
    answers = json.loads(run(*options, "--as", "json").out)
    rows = list(csv.DictReader(io.StringIO(run(*options, "--as", "csv").out)))
    moments = [(a["title"], m["start"], m["movement"], m["link"]) for a in answers for m in a["moments"]]
    assert moments
    for row, (title, start, movement, link) in zip(rows, moments, strict=True):
        assert (row["title"], row["movement"], row["link"]) == (title, movement, link)
        assert float(row["start_s"]) == pytest.approx(start, abs=1e-3)
    links = [link for *_, link in moments if link]
    assert links
    assert all(link.startswith(f"file://{tmp_path}/in/") and "#t=" in link for link in links)


@pytest.mark.parametrize(
    ("options", "word"),
    [
        (["-m", "qqqq"], "no movement is called"),
        (["--muscle", "elbow grease"], "no muscle is called"),
        (["--pattern", "zigzag zag"], "no pattern is called"),
        (["--section", "middle"], "warm_up"),
        (["--finisher", "fireworks"], "pulses"),
        (["--load", "10"], "no unit"),
        (["--minutes", "soon"], "20-25"),
        (["--instructor", "zzzz"], "no instructor"),
        (["--from", "yesterday"], "YYYY-MM-DD"),
        (["--said", "**"], "no word"),
        (["--only-kit", "anvil of doom"], "no piece of kit"),
        (["--as", "xml"], "table, json, csv"),
        (["--like", "nowhere"], "no class is called"),
        (["--like", "x", "--repeats"], "two questions"),
        (["--limit", "-1"], "--limit"),
    ],
)
def test_questions_that_make_no_sense(run, studio, options, word):
    """Each is refused by name with what would be right; exit code 2."""
    ran = run("catalogue", "find", "-c", studio, *options)
    assert (ran.code, ran.out) == (2, "")
    assert word in ran.err


def test_no_answer_is_code_1(run, studio):
    """And it is said."""
    ran = run("catalogue", "find", "-c", studio, "--said", "photosynthesis")
    assert (ran.code, ran.out) == (1, "no class answers\n")


def test_like_and_repeats(run, studio):
    """Likeness stands in front; no annotated class repeats another."""
    title = list_gold(1)[0].routine.title
    ran = run("catalogue", "find", "--like", title, "-c", studio, "--limit", "3")
    assert ran.code == 0
    first = [line for line in ran.out.splitlines() if line[:1].isdigit()]
    assert len(first) == 3
    assert [line[:4] for line in first] == sorted((line[:4] for line in first), reverse=True)
    assert run("catalogue", "find", "--repeats", "-c", studio).code == 1


def test_balance(run, studio, tmp_path):
    """A table, JSON with the same totals, CSV with a row for each week and muscle, and a picture."""
    pytest.importorskip("matplotlib", reason="the extra 'figures' is not installed")
    picture = tmp_path / "b.svg"
    ran = run("catalogue", "balance", "-c", studio, "--picture", picture)
    assert ran.code == 0
    assert "sets for each muscle group" in ran.out
    assert "not worked for 4 weeks" in ran.out
    assert picture.read_text().startswith("<svg")
    document = json.loads(run("catalogue", "balance", "-c", studio, "--as", "json").out)
    rows = list(csv.DictReader(io.StringIO(run("catalogue", "balance", "-c", studio, "--as", "csv").out)))
    for name, sets in document["weeks"][0]["muscles"].items():
        [row] = [r for r in rows if (r["week"], r["kind"], r["name"]) == (document["weeks"][0]["week"], "muscle", name)]
        assert float(row["sets"]) == sets
    picture.write_text("mine")
    refused = run("catalogue", "balance", "-c", studio, "--picture", picture)
    assert (refused.code, picture.read_text()) == (2, "mine")
    assert run("catalogue", "balance", "-c", studio, "--picture", tmp_path / "b.gif").code == 2
    assert run("catalogue", "balance", "-c", studio, "--from", "2030-01-01").code == 1


def test_pick(run, studio):
    """A week of classes with the objective in words; JSON has the totals; too few is 1."""
    ran = run("catalogue", "pick", "-n", "4", "-c", studio)
    assert ran.code == 0
    assert "least sum of squares" in ran.out
    document = json.loads(run("catalogue", "pick", "-n", "4", "-c", studio, "--as", "json").out)
    assert len(document["classes"]) == 4
    assert document["proved_best"] is True
    assert run("catalogue", "pick", "-n", "31", "-c", studio).code == 1


def test_export(run, studio, tmp_path):
    """Tables by name; a site with a page for what was reviewed, and for drafts only when asked."""
    ran = run("catalogue", "export", "-c", studio, "-o", tmp_path / "t")
    assert ran.code == 0
    assert [Path(line).name for line in ran.out.splitlines()] == ["classes.csv", "sets.csv", "movements.csv"]
    assert run("catalogue", "export", "-c", studio, "--as", "xlsx").code == 2
    drafts = sum(one.routine.status == "draft" for one in list_gold(12))
    ran = run("catalogue", "export", "-c", studio, "--html", tmp_path / "site")
    assert ran.code == 0
    assert f"12 classes, {12 - drafts} with a plan" in ran.out
    assert f"{drafts} classes are drafts" in ran.err
    ran = run("catalogue", "export", "-c", studio, "--html", tmp_path / "site", "--draft", "--replace")
    assert "12 classes, 12 with a plan" in ran.out


def test_renew(run, tmp_path):
    """Shows, replaces nothing, then puts it in."""
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / "quay.vtt").write_bytes((SAMPLES / "quayside-strength.vtt").read_bytes())
    file = tmp_path / "c"
    run("catalogue", "add", tmp_path / "in", "-c", file)
    with closing(sqlite3.connect(file)) as store:
        renamed = rename_first_movement(store, "quay")
    (tmp_path / "own.toml").write_text(renamed.text)
    assert run("catalogue", "renew", "-c", file).out == "every class was made with this lexicon and version\n"
    own = ["--lexicon", tmp_path / "own.toml"]
    told = run("catalogue", "add", tmp_path / "in", "-c", file, *own)
    assert "setdown catalogue renew" in told.err
    shown = run("catalogue", "renew", "-c", file, *own)
    assert shown.code == 1
    assert re.search(rf"^  set \d+, {renamed.name}.*: was {renamed.was}$", shown.out, re.MULTILINE)
    assert "nothing was replaced" in shown.out
    look = ["catalogue", "find", "-m", renamed.name, "--exact", "-c", file, "--as", "json", *own]

    def list_names() -> set[str]:
        return {moment["movement"] for one in json.loads(run(*look).out) for moment in one["moments"]}

    assert list_names() == {renamed.was}
    assert "1 classes renewed" in run("catalogue", "renew", "-c", file, *own, "--replace").out
    assert list_names() == {renamed.name}


def test_check_of_a_damaged_catalogue(run, studio):
    """What is wrong, line by line; exit code 1."""
    with sqlite3.connect(studio) as broken:
        broken.execute("DELETE FROM document WHERE class_id = 1")
    ran = run("catalogue", "check", "-c", studio)
    assert ran.code == 1
    assert "a class has no routine" in ran.out


@pytest.mark.parametrize("command", ["find", "balance", "pick", "export", "renew", "check"])
def test_without_a_catalogue(run, tmp_path, command):
    """It is said where it was looked for and how one is made; none is made by looking."""
    ran = run("catalogue", command, "-c", tmp_path / "none")
    assert (ran.code, ran.out) == (2, "")
    assert f"{tmp_path}/none" in ran.err
    assert "setdown catalogue add" in ran.err
    assert not (tmp_path / "none").exists()


def test_a_broken_catalogue_is_no_traceback(run, studio):
    """A file that was cut short is told as one that cannot be used."""
    data = studio.read_bytes()
    studio.write_bytes(data[: len(data) // 3])
    for path in studio.parent.glob("studio.setdown-*"):
        path.unlink()
    ran = run("catalogue", "find", "-c", studio, "-m", "squat")
    assert ran.code == 2
    assert str(studio) in ran.err


def test_help_has_examples(run):
    """Every command shows how it is used."""
    for command in ("add", "find", "balance", "pick", "export", "renew", "check"):
        ran = run("catalogue", command, "--help")
        assert ran.code == 0
        assert f"setdown catalogue {command}" in ran.out
