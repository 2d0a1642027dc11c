"""Run the command, inside this process or as a user would."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from make_routine import VTT, make_routine
from setdown.cli.main import run_command
from setdown.document import format_routine


@dataclass(frozen=True)
class Ran:
    """What a command printed, and its exit code."""

    code: int
    out: str
    err: str


@pytest.fixture
def run(capfdbinary, monkeypatch) -> Callable[..., Ran]:
    """Run a command line in this process; a traceback in its messages fails the test at once."""
    monkeypatch.delenv("SETDOWN_TRACEBACK", raising=False)
    monkeypatch.setenv("COLUMNS", "100")

    def run_here(*arguments: object) -> Ran:
        capfdbinary.readouterr()
        code = run_command([str(a) for a in arguments])
        out, err = capfdbinary.readouterr()
        ran = Ran(code, out.decode(), err.decode())
        assert "Traceback" not in ran.err + ran.out
        assert "defect" not in ran.err, ran.err
        return ran

    return run_here


@pytest.fixture
def run_apart() -> Callable[..., Ran]:
    """Run a command line in a process of its own."""

    def run_there(*arguments: object, cwd: Path | None = None, **variables: str) -> Ran:
        done = subprocess.run(
            [sys.executable, "-m", "setdown", *map(str, arguments)],
            capture_output=True,
            cwd=cwd,
            env=os.environ | variables,
            stdin=subprocess.DEVNULL,
            check=False,
        )
        return Ran(done.returncode, done.stdout.decode(), done.stderr.decode())

    return run_there


@pytest.fixture
def vtt(tmp_path) -> Path:
    """A small transcript."""
    file = tmp_path / "wren.vtt"
    file.write_bytes(VTT.encode())
    return file


@pytest.fixture
def routine_file(tmp_path) -> Path:
    """A routine that fits the small transcript, in a folder without it."""
    file = tmp_path / "routines" / "wren.routine.json"
    file.parent.mkdir()
    file.write_text(format_routine(make_routine()), encoding="utf-8")
    return file
