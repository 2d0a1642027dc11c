"""The progress bar, as a terminal gets it."""

from __future__ import annotations

import os
import re
import subprocess
import sys

import pytest

from gold_routines import list_gold, write_folder

pty = pytest.importorskip("pty", reason="this system has no pseudo-terminals")

LOOP = """
import time
from setdown.cli.progress import show_progress
with show_progress(4, wanted=True, rate={rate!r}) as advance:
    for name in ("a.vtt", "b [red].vtt", "c.vtt", "d.vtt"):
        time.sleep(0.25)
        advance(name)
"""


def run_in_terminal(*command: str) -> tuple[int, str]:
    """Run a command whose output and errors go to a terminal of 100 columns; the exit code and all that it got."""
    master, terminal = pty.openpty()
    environment = os.environ | {"COLUMNS": "100", "TERM": "xterm"}
    process = subprocess.Popen(command, stdin=terminal, stdout=terminal, stderr=terminal, env=environment)
    os.close(terminal)
    told = bytearray()
    while True:
        try:
            data = os.read(master, 4096)
        except OSError:  # how Linux says that the other end is closed
            break
        if not data:
            break
        told += data
    os.close(master)
    return process.wait(), told.decode("utf-8", "replace")


@pytest.mark.parametrize("rate", ["", "classes"])
def test_it_shows_how_far_how_fast_and_what(rate):
    """Number done of how many, the rate from the second on, the time left, and the file, whose name is no markup."""
    code, told = run_in_terminal(sys.executable, "-c", LOOP.format(rate=rate))
    plain = re.sub(r"\x1b\[[0-9;?]*[a-zA-Z]", "", told)
    assert code == 0, plain
    assert "0/4" in plain
    assert "4/4" in plain
    assert "b [red].vtt" in plain
    assert re.search(r"\b0:00:0\d\b", plain)
    assert bool(re.search(r"\b\d+\.\d classes/s", plain)) == bool(rate)


def test_a_catalogue_is_made_before_a_persons_eyes(tmp_path):
    """``catalogue add`` in a terminal: the bar, what became of the files, and what attention is needed, all of it."""
    folder = write_folder(tmp_path / "in", list_gold(6))
    (folder / "bad.vtt").write_text("nothing")
    command = [sys.executable, "-m", "setdown", "catalogue", "add", str(folder), "-c", str(tmp_path / "c"), "--timing"]
    code, told = run_in_terminal(*command)
    plain = re.sub(r"\x1b\[[0-9;?]*[a-zA-Z]", "", told)
    assert code == 1, plain
    assert "/7" in plain
    assert "6 added, 0 replaced, 0 unchanged, 1 could not be used" in plain
    assert "bad.vtt" in plain
    assert re.search(r"7 classes in [\d.]+ s", plain)
