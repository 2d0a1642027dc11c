"""Bringing a catalogue up to date with folders: what is new, changed, unchanged, bad and gone.

Classes are put in as they come, a few to a transaction: a process that is stopped at any moment leaves a sound
catalogue, and the next one goes on from there, because what is in it is known by the hash of its files.
"""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from setdown import __version__
from setdown.catalogue.entry import Indexed
from setdown.catalogue.places import Place, settle_place
from setdown.catalogue.run import Runner, run_here
from setdown.catalogue.sources import ClassFiles, find_classes_in
from setdown.catalogue.store import write
from setdown.catalogue.together import keep_together
from setdown.catalogue.work import Job, OwnLexicon, load_own
from setdown.catalogue.write import put_class, remove_class, remove_unused
from setdown.errors import SetdownError

BATCH = 16  # classes in a transaction
BATCH_S = 2.0  # or as many as came in so many seconds


@dataclass
class AddReport:
    """What became of the classes. ``failed`` have a reason each, as have the files ``passed_over`` that need not be
    transcripts and are none; ``gone`` are in the catalogue but not in the folders.

    ``stale`` is how many unchanged classes were made with another lexicon or version. ``seconds`` is the time of all
    workers together, ``extraction_s`` the part of it spent on extraction.
    """

    added: int = 0
    replaced: int = 0
    unchanged: int = 0
    passed_over: list[SetdownError] = field(default_factory=list)
    failed: list[SetdownError] = field(default_factory=list)
    gone: list[str] = field(default_factory=list)
    pruned: int = 0
    stale: int = 0
    notices: list[tuple[str, str]] = field(default_factory=list)
    seconds: float = 0.0
    extraction_s: float = 0.0

    @property
    def looked_at(self) -> int:
        """How many classes there were."""
        return self.added + self.replaced + self.unchanged + len(self.failed) + len(self.passed_over)


def list_sources(places: Sequence[str]) -> list[ClassFiles]:
    """The classes in folders, files and addresses. Raises what ``find_classes_in`` raises."""
    return list(find_classes_in([settle_place(place) for place in places]))


def add_classes(
    connection: sqlite3.Connection,
    sources: Sequence[ClassFiles],
    *,
    run: Runner = run_here,
    own: tuple[OwnLexicon, ...] = (),
    told: Callable[[Indexed], None] = lambda done: None,
) -> AddReport:
    """Index the classes that are new or changed; ``told`` is called with each as it is done, in the order of sources.

    Raises:
        SetdownError: the lexicon cannot be used.
        sqlite3.Error: the catalogue cannot be written.
    """
    lexicon = load_own(own).fingerprint
    report = AddReport()
    current = (lexicon, __version__)
    batch: list[Indexed] = []
    since = time.monotonic()
    for done in run(_list_jobs(connection, sources, lexicon, own)):
        _count(report, done)
        if done.entry is None:
            told(done)
            continue
        batch.append(done)
        if len(batch) >= BATCH or time.monotonic() - since >= BATCH_S:
            _put(connection, batch, report, told)
            since = time.monotonic()
    _put(connection, batch, report, told)
    with write(connection):
        keep_together(connection)
    report.stale = _count_stale(connection, sources, current)
    return report


def find_gone(connection: sqlite3.Connection, places: Sequence[str], sources: Iterable[ClassFiles]) -> list[str]:
    """The locations of classes in the catalogue that were in these places and are there no more."""
    there = {files.location for files in sources}
    roots = [settle_place(place) for place in places]
    known = connection.execute("SELECT location FROM class ORDER BY location")
    return [location for (location,) in known if location not in there and any(_is_in(location, r) for r in roots)]


def prune_classes(connection: sqlite3.Connection, locations: Iterable[str]) -> int:
    """Take classes out of the catalogue; how many were in it."""
    with write(connection):
        found = 0
        for location in locations:
            row = connection.execute("SELECT id FROM class WHERE location = ?", (location,)).fetchone()
            if row is not None:
                remove_class(connection, row[0])
                found += 1
        remove_unused(connection)
        keep_together(connection)
    return found


def _list_jobs(
    connection: sqlite3.Connection, sources: Sequence[ClassFiles], lexicon: str, own: tuple[OwnLexicon, ...]
) -> Iterator[Job]:
    """The jobs, each made when it is about to be done: by then another process may have put the class in."""
    look = "SELECT fingerprint FROM class WHERE location = ?"
    for files in sources:
        row = connection.execute(look, (files.location,)).fetchone()
        yield Job(files, row[0] if row else "", lexicon, own)


def _count(report: AddReport, done: Indexed) -> None:
    report.seconds += done.seconds
    report.extraction_s += done.extraction_s
    if done.error is not None:
        (report.passed_over if done.passed_over else report.failed).append(done.error)
    elif done.entry is None:
        report.unchanged += 1


def _put(
    connection: sqlite3.Connection, batch: list[Indexed], report: AddReport, told: Callable[[Indexed], None]
) -> None:
    if not batch:
        return
    outcomes = []
    with write(connection):
        for done in batch:
            assert done.entry is not None
            outcomes.append(put_class(connection, done.entry))
    for done, outcome in zip(batch, outcomes, strict=True):
        setattr(report, outcome, getattr(report, outcome) + 1)
        assert done.entry is not None
        report.notices += [(done.location, notice) for notice in done.entry.notices]
        told(done)
    batch.clear()


def _count_stale(connection: sqlite3.Connection, sources: Sequence[ClassFiles], current: tuple[str, str]) -> int:
    wanted = {files.location for files in sources}
    rows = connection.execute("SELECT location FROM class WHERE lexicon <> ? OR version <> ?", current)
    return sum(location in wanted for (location,) in rows)


def _is_in(location: str, root: Place) -> bool:
    return location.startswith(root.rstrip("/") + "/") or location == root or root.startswith(location + ".")
