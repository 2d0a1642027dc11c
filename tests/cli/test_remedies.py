"""Each refusal of the system comes with a next step."""

from __future__ import annotations

import errno
import os

import pytest

from setdown.cli.outcome import describe_failure
from setdown.cli.remedies import suggest_step
from setdown.errors import SetdownError


@pytest.mark.parametrize(
    "command",
    [
        "sheet {}",
        "check {}",
        "extract {}",
        "measure {}",
        "publish {}",
        "explain {} --at 1",
        "signoff {} --by Ana",
        "revise {} --log",
        "review {} --no-open",
        "diff {} {}",
        "merge - {} {}",
        "lexicon learn {}",
        "score {} {}",
    ],
)
def test_a_name_mistyped_is_put_right(run, routine_file, monkeypatch, command):
    """Every command that reads a file names the one that was meant."""
    monkeypatch.chdir(routine_file.parent)
    ran = run(*command.format("wern.routine.json", "wern.routine.json").split())
    assert ran.code == 2
    assert "Did you mean wren.routine.json?" in ran.err


def test_where_no_name_is_near(tmp_path):
    """The folder that is missing is named; else how to see what is there, ready for a shell."""
    folder = tmp_path / "my class"
    folder.mkdir()
    assert suggest_step(FileNotFoundError(errno.ENOENT, "no", str(tmp_path / "gone" / "a.vtt"))).endswith("gone")
    assert f"ls '{folder}'" in suggest_step(FileNotFoundError(errno.ENOENT, "no", str(folder / "a.vtt")))


@pytest.mark.parametrize(
    ("number", "step"),
    [
        (errno.EACCES, "ls -ld a.vtt"),
        (errno.ENOSPC, "Make room"),
        (errno.EROFS, "another place"),
        (errno.ENAMETOOLONG, "shorter"),
        (errno.EADDRINUSE, "--port 0"),
        (errno.EMFILE, "--jobs 1"),
    ],
)
def test_a_step_for_each_refusal(number, step):
    """Of the refusals that POSIX names (errno.h), those that a user of this command meets."""
    told = describe_failure(OSError(number, os.strerror(number), "a.vtt"))
    assert step in told.hint
    wrapped = SetdownError("cannot be read", source="a.vtt")
    wrapped.__cause__ = OSError(number, os.strerror(number), "a.vtt")
    assert step in describe_failure(wrapped).hint


def test_a_hint_that_is_there_stays():
    """Who raised the error knows best."""
    error = SetdownError("no", hint="do this")
    error.__cause__ = OSError(errno.ENOSPC, "full")
    assert describe_failure(error).hint == "do this"
    assert describe_failure(OSError("odd")).hint == ""
