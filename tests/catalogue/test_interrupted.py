"""Stopped at any moment, and used by several at once: nothing is lost, doubled or broken."""

from __future__ import annotations

import multiprocessing
import os
import random
import signal
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest

from catalogue_state import read_state
from gold_routines import list_gold, write_folder
from make_routine import VTT
from setdown.catalogue import add as add_module
from setdown.catalogue.add import add_classes, list_sources
from setdown.catalogue.find import find_classes
from setdown.catalogue.query import Query, Wanted
from setdown.catalogue.run import run_in_processes
from setdown.catalogue.store import open_store
from setdown.catalogue.verify import check_catalogue

KILLS = 50
SQUATS = Wanted(frozenset({"squat", "goblet-squat"}), "squat")


def add_all(file: Path, folder: Path, started: object = None) -> None:
    """Index the folder with small transactions, so that a kill falls between and into many of them."""
    add_module.BATCH = 3
    if started is not None:
        started.set()
    with closing(open_store(file, create=True)) as store:
        report = add_classes(store, list_sources([str(folder)]))
        assert not report.failed


@pytest.fixture(scope="module")
def folder(tmp_path_factory) -> Path:
    """Twenty reviewed classes, and one transcript that has to be extracted."""
    made = write_folder(tmp_path_factory.mktemp("killed") / "classes", list_gold(20))
    (made / "wren.vtt").write_text(VTT)
    return made


@pytest.mark.slow
def test_killed_at_fifty_random_moments(folder, tmp_path):
    """kill -9 at 50 moments spread over the whole run, each followed by a complete run: row for row the catalogue of an
    undisturbed run, and sound at once after the kill."""
    context = multiprocessing.get_context("fork")
    whole = tmp_path / "whole.setdown"
    begin = time.perf_counter()
    calm = context.Process(target=add_all, args=(whole, folder))
    calm.start()
    calm.join()
    length = time.perf_counter() - begin
    with closing(open_store(whole)) as store:
        expected = read_state(store)
    assert len(expected["class"]) == 21
    chance = random.Random(20240305)
    partial = 0
    for number in range(KILLS):
        file = tmp_path / f"{number}.setdown"
        process = context.Process(target=add_all, args=(file, folder))
        process.start()
        time.sleep(chance.uniform(0, length))
        os.kill(process.pid, signal.SIGKILL)
        process.join()
        if file.exists():
            with closing(open_store(file, create=True)) as store:
                assert check_catalogue(store) == []
                partial += 0 < store.execute("SELECT count(*) FROM class").fetchone()[0] < 21
        add_all(file, folder)
        with closing(open_store(file)) as store:
            assert read_state(store) == expected
            assert check_catalogue(store) == []
        for path in tmp_path.glob(f"{number}.setdown*"):
            path.unlink()
    assert partial >= 5  # the kills did fall into the middle of the work


@pytest.mark.slow
def test_killed_replacing_and_pruning(folder, tmp_path):
    """The same while classes are replaced and taken out: after each kill every class is whole, old or new."""
    context = multiprocessing.get_context("fork")
    copy = tmp_path / "classes"
    copy.mkdir()
    for path in folder.iterdir():
        (copy / path.name).write_bytes(path.read_bytes())
    file = tmp_path / "c.setdown"
    add_all(file, copy)
    chance = random.Random(7)
    for number in range(10):
        for path in sorted(copy.glob("*.routine.json"))[::2]:
            text = path.read_text()
            path.write_text(text.replace('"title": "', f'"title": "{number} ', 1))
        process = context.Process(target=add_all, args=(file, copy))
        process.start()
        time.sleep(chance.uniform(0, 0.3))
        os.kill(process.pid, signal.SIGKILL)
        process.join()
        with closing(open_store(file)) as store:
            assert check_catalogue(store) == []
            assert store.execute("SELECT count(*) FROM class").fetchone() == (21,)
    add_all(file, copy)
    add_all(tmp_path / "whole.setdown", copy)
    with closing(open_store(file)) as store, closing(open_store(tmp_path / "whole.setdown")) as calm:
        look = "SELECT location, title, fingerprint, sets FROM class ORDER BY location"
        assert store.execute(look).fetchall() == calm.execute(look).fetchall()


@pytest.mark.slow
def test_workers_end_with_a_killed_process(folder, tmp_path):
    """After kill -9 of a run with two processes, neither of them stays behind."""
    command = [sys.executable, "-m", "setdown", "catalogue", "add", folder, "-c", tmp_path / "c.setdown", "--jobs", "2"]
    process = subprocess.Popen(list(map(str, command)), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    deadline = time.monotonic() + 60
    children: list[int] = []
    while len(children) < 2 and time.monotonic() < deadline and process.poll() is None:
        time.sleep(0.05)
        children = list_children(process.pid)
    process.kill()
    process.wait()
    assert len(children) >= 2
    deadline = time.monotonic() + 60
    while any(is_alive(child) for child in children) and time.monotonic() < deadline:
        time.sleep(0.1)
    assert [child for child in children if is_alive(child)] == []
    add_all(tmp_path / "c.setdown", folder)
    with closing(open_store(tmp_path / "c.setdown")) as store:
        assert check_catalogue(store) == []


def list_children(pid: int) -> list[int]:
    listed = Path(f"/proc/{pid}/task/{pid}/children")
    if not listed.exists():
        pytest.skip("this system does not list the children of a process")
    return [int(child) for child in listed.read_text().split()]


def is_alive(pid: int) -> bool:
    """Whether a process runs; one that has ended and waits for its parent to notice does not."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] not in ("Z", "X")
    except (FileNotFoundError, ProcessLookupError):
        return False


def add_apart(file: Path, folder: Path, answers: object) -> None:
    try:
        add_module.BATCH = 2
        with closing(open_store(file, create=True)) as store:
            report = add_classes(store, list_sources([str(folder)]))
        answers.put(("added", report.added + report.unchanged, [str(error) for error in report.failed]))
    except Exception as error:
        answers.put(("error", repr(error), []))


def find_apart(file: Path, answers: object) -> None:
    """Ask twenty times while others write: every answer is a whole class, and there are never fewer than before."""
    try:
        seen = 0
        for _ in range(20):
            with closing(open_store(file, create=True)) as store:
                found = find_classes(store, Query(movements=(SQUATS,), limit=0))
                find_classes(store, Query(words="breathe", limit=0))
            if len(found) < seen or any(not answer.hits for answer in found):
                raise AssertionError(f"{len(found)} classes after {seen}")
            seen = len(found)
        answers.put(("found", seen, []))
    except Exception as error:
        answers.put(("error", repr(error), []))


@pytest.mark.slow
def test_two_adds_and_ten_finds_at_once(folder, tmp_path):
    """On a catalogue that is not there yet: no error, nothing lost, nothing twice."""
    context = multiprocessing.get_context("fork")
    file = tmp_path / "c.setdown"
    answers = context.Queue()
    jobs = [context.Process(target=add_apart, args=(file, folder, answers)) for _ in range(2)]
    jobs += [context.Process(target=find_apart, args=(file, answers)) for _ in range(10)]
    for job in jobs:
        job.start()
    told = [answers.get(timeout=300) for _ in jobs]
    for job in jobs:
        job.join()
    assert [one for one in told if one[0] == "error"] == []
    assert [one[1:] for one in told if one[0] == "added"] == [(21, []), (21, [])]
    add_all(tmp_path / "calm.setdown", folder)
    with closing(open_store(file)) as store, closing(open_store(tmp_path / "calm.setdown")) as calm:
        assert check_catalogue(store) == []
        look = "SELECT location, fingerprint, title, sets FROM class ORDER BY location"
        assert store.execute(look).fetchall() == calm.execute(look).fetchall()


def test_an_error_in_the_middle_leaves_the_last_state(folder, tmp_path):
    """An exception while a batch is written takes back that batch and nothing else."""
    file = tmp_path / "c.setdown"
    told = 0

    def fail(done: object) -> None:
        nonlocal told
        told += 1
        if told == 7:
            raise KeyboardInterrupt

    add_module.BATCH = 3
    with closing(open_store(file, create=True)) as store:
        with pytest.raises(KeyboardInterrupt):
            add_classes(store, list_sources([str(folder)]), told=fail)
        assert store.execute("SELECT count(*) FROM class").fetchone() == (9,)
        assert check_catalogue(store) == []


def test_stopping_early_ends_the_processes(folder):
    """Whoever stops asking for answers does not leave processes behind."""
    from setdown.catalogue.work import Job

    before = set(multiprocessing.active_children())
    answers = run_in_processes((Job(files, "", "") for files in list_sources([str(folder)])), 2)
    next(answers)
    answers.close()
    assert set(multiprocessing.active_children()) <= before
