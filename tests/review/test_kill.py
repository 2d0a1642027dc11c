"""A process that saves is killed at any moment: the file is the old or the new one, whole, and the log fits it."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections import Counter
from itertools import pairwise
from pathlib import Path
from random import Random

import pytest

from make_edits import read_samples
from setdown.check import parse_routine
from setdown.document import format_routine
from setdown.files import TEMP_PREFIX
from setdown.model.routine import Mark, Routine
from setdown.review.history import fingerprint, log_path
from setdown.review.store import open_routine, read_revision, save_routine

LOOP = Path(__file__).parent / "saving_loop.py"
KILLS = 200


@pytest.fixture
def breeder():
    """A process that starts, on each line that it is sent, another one that saves."""
    if not hasattr(os, "fork"):
        pytest.skip("this system cannot fork")
    with subprocess.Popen([sys.executable, LOOP], stdin=subprocess.PIPE, stdout=subprocess.PIPE) as process:
        yield process
        process.stdin.close()


@pytest.mark.slow
def test_killed_while_saving(tmp_path, breeder):
    """At 200 random moments; the file is always whole, and nothing that was said to be saved is ever lost."""
    rng = Random(7)
    path = tmp_path / "class.routine.json"
    routine = read_samples()["slipway-stretch"].model_copy(update={"title": "Title 0"})
    path.write_text(format_routine(routine), encoding="utf-8")
    states = Counter()
    for _ in range(KILLS):
        told = kill_while_saving(breeder, path, rng)
        found = parse_routine(path.read_text(encoding="utf-8"))  # raises when it is not whole
        number = int(found.title.split()[-1])
        assert found.model_copy(update={"title": "Title 0"}) == routine
        assert told <= number <= told + 1  # what it said was saved, or the next one that it had no time to tell of
        states[check_log(path, found)] += 1
        states["a temporary file is left"] += bool(sweep(path.parent))
    save_again(path)
    print(states)
    assert states.total() - states["a temporary file is left"] == KILLS
    # The kills did hit the middle of things, not only the time between two saves.
    assert len(states) > 1, states


def kill_while_saving(breeder, path: Path, rng: Random) -> int:
    """Start saving, kill it after some saves and a moment; the last number that it told of."""
    number = int(parse_routine(path.read_text(encoding="utf-8")).title.split()[-1])
    breeder.stdin.write(f"{path}\n".encode())
    breeder.stdin.flush()
    child = int(breeder.stdout.readline().split()[1])
    for _ in range(rng.randint(0, 3)):
        number = int(breeder.stdout.readline())
    time.sleep(rng.uniform(0, 0.01))
    os.kill(child, signal.SIGKILL)
    while not (line := breeder.stdout.readline()).startswith(b"ended"):
        number = int(line)
    return number


def sweep(folder: Path) -> list[Path]:
    """Take away what killed processes left; no reader looks at it."""
    scraps = list(folder.glob(TEMP_PREFIX + "*"))
    for scrap in scraps:
        scrap.unlink()
    return scraps


def check_log(path: Path, found: Routine) -> str:
    """The log's whole lines follow each other and lead to the file, or to one revision that had not reached it."""
    data = log_path(path).read_bytes()
    *whole, torn = data.split(b"\n")
    lines = [json.loads(line) for line in whole]
    assert [line["revision"] for line in lines] == list(range(len(lines)))
    assert all(a["after"] == b["before"] for a, b in pairwise(lines))
    now = fingerprint(found)
    assert not lines or now in (lines[-1]["after"], lines[-1]["before"])
    if torn:
        return "the log's last line is torn"
    return "as it was saved" if not lines or now == lines[-1]["after"] else "the last revision did not reach the file"


def save_again(path: Path) -> None:
    """Work goes on after a kill, and every state can still be had back."""
    opened = open_routine(path)
    changed = opened.routine.model_copy(update={"title": "Title 9999"})
    saved = save_routine(opened, changed, Mark(by="Bo", at="2025-03-03T09:00:00Z"), ["title"])
    assert read_revision(path, saved.revision) == saved.routine
    assert read_revision(path, 0).title == "Title 0"
