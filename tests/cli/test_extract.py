"""``setdown extract``: where routines go, what is said about each, and what a bad file does."""

from __future__ import annotations

import json
import tempfile
from pathlib import Path

import pytest

from make_routine import VTT
from setdown.check import parse_routine


def copy_vtt(folder: Path, *names: str) -> list[Path]:
    """The small transcript under several names."""
    files = [folder / name for name in names]
    for file in files:
        file.write_bytes(VTT.encode())
    return files


def list_names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_one_transcript_goes_to_standard_output(run, vtt):
    """The routine, and nothing else, is on standard output; the result line is a message."""
    ran = run("extract", vtt)
    assert ran.code == 0
    routine = parse_routine(ran.out)
    assert routine.source.name == "wren.vtt"
    sets, queries = len(routine.iter_sets()), len(routine.queries)
    assert ran.err == f"wren.vtt  {sets} sets  {queries} queries  3.9 min\n"
    assert run("extract", vtt, "--quiet").err == ""


def test_same_input_gives_the_same_bytes(run, run_apart, vtt):
    """Twice here, and in another process with another hash seed: not a byte differs."""
    first = run("extract", vtt).out
    assert run("extract", vtt).out == first
    assert run_apart("extract", vtt, PYTHONHASHSEED="7").out == first
    assert run_apart("extract", vtt, PYTHONHASHSEED="8", LC_ALL="C", PYTHONUTF8="0").out == first


def test_output_to_a_file_and_again(run, vtt, tmp_path):
    """Written once; the same again leaves it untouched and is done; another needs --replace."""
    target = tmp_path / "out.json"
    assert run("extract", vtt, "-o", target).code == 0
    before = target.stat()
    again = run("extract", vtt, "-o", target)
    assert (again.code, "unchanged" in again.out) == (0, True)
    assert target.stat().st_mtime_ns == before.st_mtime_ns
    target.write_text("edited by hand")
    refused = run("extract", vtt, "-o", target)
    assert (refused.code, refused.out) == (2, "")
    assert "exists and differs" in refused.err
    assert "--replace" in refused.err
    assert target.read_text() == "edited by hand"
    assert run("extract", vtt, "-o", target, "--replace").code == 0
    assert parse_routine(target.read_text(encoding="utf-8"))


def test_many_transcripts_into_a_folder(run, tmp_path):
    """One routine and one line each, in the order given; the folder is made."""
    files = copy_vtt(tmp_path, "b.vtt", "a.vtt", "c.rolling.vtt")
    folder = tmp_path / "deep" / "routines"
    ran = run("extract", *files, "-o", folder)
    assert ran.code == 0
    assert [line.split()[0] for line in ran.out.splitlines()] == ["b.vtt", "a.vtt", "c.rolling.vtt"]
    assert list_names(folder) == ["a.routine.json", "b.routine.json", "c.rolling.routine.json"]
    assert run("extract", *files, "-o", folder, "--quiet").out == ""


def test_one_transcript_into_a_folder(run, vtt, tmp_path):
    """A folder that is there, or a name that ends like one, takes the routine under the transcript's name."""
    (tmp_path / "here").mkdir()
    assert run("extract", vtt, "-o", tmp_path / "here").code == 0
    assert run("extract", vtt, "-o", f"{tmp_path}/new/").code == 0
    assert list_names(tmp_path / "here") == list_names(tmp_path / "new") == ["wren.routine.json"]


def test_a_bad_file_does_not_stop_the_others(run, tmp_path):
    """The bad one is told with its reason; the others are written; the exit code is 1."""
    good = copy_vtt(tmp_path, "a.vtt", "z.vtt")
    bad = tmp_path / "m.vtt"
    bad.write_bytes(b"\x00\x01\x02\x03" * 200)
    folder = tmp_path / "out"
    ran = run("extract", good[0], bad, tmp_path / "missing.vtt", good[1], "-o", folder)
    assert ran.code == 1
    assert list_names(folder) == ["a.routine.json", "z.routine.json"]
    assert [line.split()[0] for line in ran.out.splitlines()] == ["a.vtt", "z.vtt"]
    assert "m.vtt" in ran.err
    assert "missing.vtt" in ran.err
    assert "2 of 4 transcripts gave no routine" in ran.err


def test_nothing_usable_is_code_2(run, tmp_path):
    """When no transcript gives a routine, the exit code is 2."""
    assert run("extract", tmp_path / "x.vtt", tmp_path / "y.vtt", "-o", tmp_path / "out").code == 2


@pytest.mark.slow
def test_several_processes_give_the_same_in_the_same_order(run, run_apart, tmp_path):
    """With --jobs the lines, the messages and the files are those of one process, a bad file included."""
    files = copy_vtt(tmp_path, "d.vtt", "b.vtt", "c.vtt", "a.vtt")
    (tmp_path / "b.vtt").write_text("nothing of the kind")
    one = run_apart("extract", *files, "-o", tmp_path / "one")
    two = run_apart("extract", *files, "-o", tmp_path / "two", "--jobs", "2")
    assert one.code == two.code == 1
    assert two.out == one.out.replace(str(tmp_path / "one"), str(tmp_path / "two"))
    assert two.err == one.err
    assert list_names(tmp_path / "one") == list_names(tmp_path / "two")
    for name in list_names(tmp_path / "one"):
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes()


def test_two_transcripts_for_one_name_are_refused(run, tmp_path):
    """class.vtt and class.srt, or the same name in two folders: nothing is written, both are named."""
    files = copy_vtt(tmp_path, "class.vtt", "class.srt", "Other.vtt")
    (tmp_path / "more").mkdir()
    [other] = copy_vtt(tmp_path / "more", "other.vtt")
    for first, second in ((files[0], files[1]), (files[2], other), (files[0], files[0])):
        ran = run("extract", first, second, "-o", tmp_path / "out")
        assert ran.code == 2
        assert f"{first} and {second} would both be written to" in ran.err
        assert not (tmp_path / "out").exists()


def test_a_transcript_is_never_written_over(run, vtt, tmp_path):
    """-o with the name of the transcript itself is refused, also with --replace and through a link."""
    (tmp_path / "link.vtt").symlink_to(vtt)
    for target in (vtt, tmp_path / "link.vtt"):
        ran = run("extract", vtt, "-o", target, "--replace")
        assert (ran.code, "over a transcript" in ran.err) == (2, True)
    assert vtt.read_bytes() == VTT.encode()


def test_file_names_stay_in_the_folder(run, tmp_path):
    """The name of a transcript in another folder leads to no other folder."""
    (tmp_path / "in").mkdir()
    copy_vtt(tmp_path / "in", "..a.vtt")
    assert run("extract", tmp_path / "in" / ".." / "in" / "..a.vtt", "-o", f"{tmp_path}/out/").code == 0
    assert list_names(tmp_path / "out") == ["..a.routine.json"]


def test_what_the_user_tells_is_in_the_routine(run, vtt):
    """Title, instructor, day, recording and tags come from the options."""
    options = [
        "--title",
        "Ten",
        "--instructor",
        "Wren",
        "--date",
        "2024-03-05",
        "--media",
        "x.mp4",
        "--tag",
        "a",
        "--tag",
        "b",
    ]
    document = json.loads(run("extract", vtt, *options).out)
    source = document["source"]
    assert document["title"] == "Ten"
    assert (source["instructor"], source["date"], source["media"]) == ("Wren", "2024-03-05", "x.mp4")
    assert source["tags"] == ["a", "b"]


@pytest.mark.parametrize(
    ("options", "problem"),
    [
        (["--title", "x"], "--title is for one transcript"),
        (["--media", "x"], "--media is for one transcript"),
        ([], "cannot share standard output"),
    ],
)
def test_options_that_cannot_hold_for_many(run, tmp_path, options, problem):
    """A title for two classes, or two documents on one output, are refused."""
    files = copy_vtt(tmp_path, "a.vtt", "b.vtt")
    ran = run("extract", *files, *options, *(["-o", tmp_path / "out"] if options else []))
    assert (ran.code, problem in ran.err) == (2, True)


@pytest.mark.parametrize(
    ("options", "word"),
    [
        (["--date", "5.3.2024"], "YYYY-MM-DD"),
        (["--format", "papyrus"], "papyrus"),
        (["--jobs", "0"], "--jobs"),
        (["--jobs", "many"], "--jobs"),
        (["--lexicon", "no-such-file.csv"], "no-such-file.csv"),
        (["--unknown"], "--unknown"),
        (["-o", "no/such/folder/a.json"], "its folder does not exist"),
    ],
)
def test_options_that_make_no_sense(run, vtt, options, word):
    """Each is refused with the option or value it is about, and exit code 2."""
    ran = run("extract", vtt, *options)
    assert (ran.code, ran.out) == (2, "")
    assert word in ran.err


def test_bad_input(run, tmp_path):
    """A missing file, a folder and an empty file are each refused by name."""
    (tmp_path / "empty.vtt").write_bytes(b"")
    for name in ("missing.vtt", ".", "empty.vtt"):
        ran = run("extract", tmp_path / name)
        assert (ran.code, ran.out) == (2, "")
        assert str(tmp_path / name) in ran.err
    assert run("extract").code == 2
    assert run("extract", "").code == 2


def test_many_into_a_file_is_refused(run, tmp_path):
    """-o names a file that is there, but there are two transcripts."""
    files = copy_vtt(tmp_path, "a.vtt", "b.vtt")
    (tmp_path / "out.json").write_text("{}")
    ran = run("extract", *files, "-o", tmp_path / "out.json")
    assert (ran.code, "expected: a folder" in ran.err) == (2, True)


def test_a_folder_without_leave_to_write(run, vtt, tmp_path, monkeypatch):
    """The system refuses the write (root may write anywhere, so its refusal is simulated): a message, no traceback."""

    def refuse(**where):
        raise PermissionError(13, "Permission denied", str(where["dir"]))

    monkeypatch.setattr(tempfile, "mkstemp", refuse)
    ran = run("extract", vtt, "-o", tmp_path / "a.json")
    assert (ran.code, ran.out) == (2, "")
    assert f"setdown: {tmp_path}: permission denied\n" in ran.err
    assert list_names(tmp_path) == ["wren.vtt"]


def test_an_output_below_a_file_cannot_be_written(run, vtt, tmp_path):
    """Also for root: a path through a file is refused without a traceback."""
    (tmp_path / "file").write_text("")
    assert run("extract", vtt, "-o", tmp_path / "file" / "a.json").code == 2
    assert run("extract", vtt, "-o", f"{tmp_path}/file/").code == 2


def test_standard_input(vtt, tmp_path):
    """- reads standard input, alone."""
    import subprocess
    import sys

    command = [sys.executable, "-m", "setdown", "extract", "-"]
    done = subprocess.run(command, input=VTT.encode(), capture_output=True, check=False)
    assert done.returncode == 0
    assert parse_routine(done.stdout.decode()).source.cue_count == 6
    refused = subprocess.run([*command, str(vtt), "-o", str(tmp_path / "out")], capture_output=True, check=False)
    assert (refused.returncode, b"alone" in refused.stderr) == (2, True)


def test_names_with_odd_characters(run, tmp_path):
    """Spaces, brackets of markup, and control characters in a file name are shown harmlessly."""
    files = copy_vtt(tmp_path, "a b [red].vtt", "x\x1b[31my.vtt", "ünï.vtt")
    ran = run("extract", *files, "-o", tmp_path / "out")
    assert ran.code == 0
    assert "a b [red].vtt" in ran.out
    assert "ünï.vtt" in ran.out
    assert "\x1b" not in ran.out
    assert "\\x1b[31my" in ran.out
