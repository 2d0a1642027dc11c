"""Work on a real Dask cluster of two worker processes that talk over TCP on this machine."""

from __future__ import annotations

import os
import signal
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from catalogue_state import read_state
from gold_routines import list_gold, write_folder
from own_lexicon import rename_first_movement
from setdown.catalogue.add import add_classes, list_sources
from setdown.catalogue.cluster import make_cluster_runner
from setdown.catalogue.store import open_store
from setdown.catalogue.verify import check_catalogue
from setdown.catalogue.work import Job
from setdown.errors import SetdownError

SAMPLES = Path(__file__).resolve().parents[2] / "samples"


@pytest.fixture(scope="module")
def cluster() -> Iterator[object]:
    """Two worker processes with a thread each, and their nannies, which start another when one dies."""
    distributed = pytest.importorskip("distributed", reason="the extra 'cluster' (dask.distributed) is not installed")
    path = os.environ.get("PYTHONPATH")
    with distributed.LocalCluster(
        n_workers=2,
        threads_per_worker=1,
        processes=True,
        protocol="tcp://",
        host="127.0.0.1",
        dashboard_address=None,
        silence_logs=50,
        env={"PYTHONPATH": path} if path else {},
    ) as made:
        yield made


@pytest.fixture(scope="module")
def folder(tmp_path_factory) -> Path:
    """Two hundred classes, some of them to be extracted, and a bad one."""
    made = tmp_path_factory.mktemp("cluster") / "classes"
    gold = list_gold(20)
    for copy in range(10):
        write_folder(made / f"{copy:02d}", gold)
    for name in ("quayside-strength.vtt", "slipway-stretch.txt", "quayside-strength.meta.toml"):
        for copy in range(3):
            (made / f"{copy:02d}" / name).write_bytes((SAMPLES / name).read_bytes())
    (made / "bad.vtt").write_text("nothing")
    return made


def add(file: Path, folder: str, **options):
    with closing(open_store(file, create=True)) as store:
        report = add_classes(store, list_sources([folder]), **options)
        assert check_catalogue(store) == []
        return report, read_state(store)


@pytest.fixture(scope="module")
def at_home(folder, tmp_path_factory):
    """What this process alone makes of the folder."""
    return add(tmp_path_factory.mktemp("home") / "c", str(folder))


@pytest.mark.slow
def test_the_same_as_at_home(cluster, folder, at_home, tmp_path):
    """Row for row the catalogue that one process makes, bad file and all; the second time nothing is done."""
    run = make_cluster_runner(cluster.scheduler_address)
    assert cluster.scheduler_address.startswith("tcp://127.0.0.1:")
    told: list[str] = []
    report, state = add(tmp_path / "c", str(folder), run=run, told=lambda done: told.append(done.location))
    assert state == at_home[1]
    assert (report.added, len(report.failed)) == (206, 1)
    assert [error.problem for error in report.failed] == [error.problem for error in at_home[0].failed]
    again, _ = add(tmp_path / "c", str(folder), run=run)
    assert (again.added, again.replaced, again.unchanged) == (0, 0, 206)


@pytest.mark.slow
def test_a_worker_is_killed_midway(cluster, folder, at_home, tmp_path):
    """kill -9 of one of the two worker processes while classes are under way: nothing is lost, nothing is doubled."""
    workers = {address: info["pid"] for address, info in _ask_pids(cluster).items()}
    assert len(workers) == 2
    victim = sorted(workers.values())[0]
    killed = threading.Event()
    locations: list[str] = []

    def kill_midway(done: object) -> None:
        locations.append(done.location)
        if len(locations) == 60:
            os.kill(victim, signal.SIGKILL)
            killed.set()

    run = make_cluster_runner(cluster.scheduler_address)
    report, state = add(tmp_path / "c", str(folder), run=run, told=kill_midway)
    assert killed.is_set()
    assert not _is_running(victim)
    assert (report.added, len(report.failed)) == (206, 1)
    assert len(locations) == len(set(locations)) == 207
    assert state == at_home[1]


@pytest.mark.slow
def test_places_of_fsspec(cluster, tmp_path):
    """A file: address is read by the workers through fsspec, with the result of the plain folder."""
    folder = write_folder(tmp_path / "in", list_gold(4))
    run = make_cluster_runner(cluster.scheduler_address)
    with (
        closing(open_store(tmp_path / "far", create=True)) as far,
        closing(open_store(tmp_path / "near", create=True)) as near,
    ):
        assert add_classes(far, list_sources([f"file://{folder}"]), run=run).added == 4
        assert add_classes(near, list_sources([str(folder)])).added == 4
        assert far.execute("SELECT * FROM performed").fetchall() == near.execute("SELECT * FROM performed").fetchall()
        [(location,)] = far.execute("SELECT min(location) FROM class").fetchall()
        assert location.startswith("file://")


@pytest.mark.slow
def test_a_lexicon_of_ones_own_travels(cluster, tmp_path):
    """The workers use the movements that were given here: row for row what this process makes with them."""
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / "quay.vtt").write_bytes((SAMPLES / "quayside-strength.vtt").read_bytes())
    add(tmp_path / "plain", str(tmp_path / "in"))
    with closing(open_store(tmp_path / "plain")) as store:
        renamed = rename_first_movement(store, "quay")
    run = make_cluster_runner(cluster.scheduler_address)
    _, far = add(tmp_path / "far", str(tmp_path / "in"), run=run, own=renamed.own)
    _, near = add(tmp_path / "near", str(tmp_path / "in"), own=renamed.own)
    assert far == near
    named = {name for row in far["movement"] for name in row if isinstance(name, str)}
    assert renamed.name in named
    assert renamed.was not in named


@pytest.mark.slow
def test_workers_with_another_lexicon_are_told(cluster, folder):
    """Their answers are refused rather than mixed in."""
    [files, *_] = list_sources([str(folder / "00" / "quayside-strength.vtt")])
    [answer] = make_cluster_runner(cluster.scheduler_address)([Job(files, "", "0123456789ab")])
    assert "another lexicon" in answer.error.problem


def test_no_scheduler_answers():
    """A wrong address is told as one, within the time that a connection may take."""
    pytest.importorskip("distributed", reason="the extra 'cluster' (dask.distributed) is not installed")
    import setdown.catalogue.cluster as module

    before, module.CONNECT_S = module.CONNECT_S, 1
    try:
        with pytest.raises(SetdownError, match="no scheduler answers"):
            next(make_cluster_runner("tcp://127.0.0.1:9")([]))
    finally:
        module.CONNECT_S = before


def test_without_the_extra(monkeypatch):
    """What to install is said, and that --jobs works without."""
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(SetdownError, match=r"dask\.distributed") as refused:
        make_cluster_runner("tcp://127.0.0.1:9")
    assert "setdown[cluster]" in refused.value.hint
    assert "--jobs" in refused.value.hint


def _ask_pids(cluster: object) -> dict[str, dict[str, int]]:
    import distributed

    with distributed.Client(cluster.scheduler_address, set_as_default=False) as client:
        return client.run(lambda: {"pid": os.getpid()})


def _is_running(pid: int) -> bool:
    deadline = time.monotonic() + 30
    while time.monotonic() < deadline:
        try:
            os.kill(pid, 0)
        except ProcessLookupError:
            return False
        time.sleep(0.05)
    return True
