"""``setdown check``: findings, open queries, and what the exit code makes of them."""

from __future__ import annotations

import pytest

from make_routine import VTT


def test_a_sound_routine(run, routine_file):
    """Notes and queries that can wait are listed; the exit code is 0; the last line sums up."""
    ran = run("check", routine_file)
    assert ran.code == 0
    lines = ran.out.splitlines()
    assert lines[-1] == (
        f"{routine_file}: 4 sets, 0 findings, 1 notes, 2 open queries (0 must be answered), "
        "no transcript, quotes not compared"
    )
    assert "note unlikely-work" in lines[0]
    assert "query should load-unsure at 1:02 (goblet squat): Ten of what?  [10 lb | 10 kg]" in lines[1]
    assert len(run("check", routine_file, "--quiet").out.splitlines()) == 1


def test_the_transcript_beside_it_is_used(run, routine_file):
    """When the transcript lies beside the routine, every quote is compared with it."""
    (routine_file.parent / "wren.vtt").write_bytes(VTT.encode())
    assert "quotes compared" in run("check", routine_file).out
    text = routine_file.read_text().replace('"quote": "goblet squats"', '"quote": "goblet squash"')
    routine_file.write_text(text)
    ran = run("check", routine_file)
    line = next(n for n, row in enumerate(text.splitlines(), 1) if "goblet squash" in row)
    assert ran.code == 1
    first = ran.out.splitlines()[0]
    path = "$.sections[1].groups[0].sets[0].evidence.exercise[0]"
    assert first.endswith(f"[{path}]")
    assert "must not-in-transcript" in first
    assert 0 <= line - int(first.removeprefix(f"{routine_file}:").split(":")[0]) < 10


def test_a_transcript_elsewhere_is_named(run, routine_file, vtt):
    """--transcript names it; one of another class is a finding."""
    assert "quotes compared" in run("check", routine_file, "--transcript", vtt).out
    vtt.write_bytes(VTT.encode() + b"\n")
    ran = run("check", routine_file, "--transcript", vtt)
    assert (ran.code, "other-transcript" in ran.out) == (1, True)


def test_a_query_that_must_be_answered(run, routine_file):
    """It is listed even when quiet, and the exit code is 1 until it is accepted or dismissed."""
    text = routine_file.read_text().replace('"severity": "should"', '"severity": "must"', 1)
    routine_file.write_text(text)
    ran = run("check", routine_file, "--quiet")
    assert ran.code == 1
    assert "query must load-unsure" in ran.out
    routine_file.write_text(text.replace('"state": "open"', '"state": "accepted"', 1))
    assert run("check", routine_file).code == 0


def test_many_routines(run, routine_file, tmp_path):
    """Each has its lines; one that cannot be read does not stop the others."""
    broken = tmp_path / "broken.json"
    broken.write_text('{\n\n "a": }')
    ran = run("check", broken, routine_file, tmp_path / "missing.json")
    assert ran.code == 1
    assert f"{broken}:3: broken JSON" in ran.err
    assert "missing.json" in ran.err
    assert f"{routine_file}: 4 sets" in ran.out


@pytest.mark.parametrize("name", ["missing.json", ".", "broken.json"])
def test_nothing_usable(run, tmp_path, name):
    """A missing file, a folder and broken JSON are code 2, by name."""
    (tmp_path / "broken.json").write_text("{")
    ran = run("check", tmp_path / name)
    assert (ran.code, ran.out) == (2, "")
    assert str(tmp_path / name) in ran.err


def test_what_is_no_routine(run, tmp_path):
    """JSON that is no routine can be checked: it has findings."""
    file = tmp_path / "a.json"
    file.write_text('{"title": 3}')
    ran = run("check", file)
    assert ran.code == 1
    assert "$.title" in ran.out
    assert "no routine" in ran.out.splitlines()[-1]


def test_one_transcript_for_many_routines_is_refused(run, routine_file, vtt):
    """A transcript belongs to one routine."""
    ran = run("check", routine_file, routine_file, "--transcript", vtt)
    assert (ran.code, "--transcript is for one routine" in ran.err) == (2, True)


def test_what_was_just_extracted_is_sound(run, vtt):
    """A routine fresh from its transcript has no finding that counts."""
    run("extract", vtt, "-o", vtt.with_suffix(".routine.json"))
    ran = run("check", vtt.with_suffix(".routine.json"))
    assert " 0 findings" in ran.out
    assert "quotes compared" in ran.out
