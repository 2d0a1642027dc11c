"""What ``setdown catalogue add`` does and tells."""

from __future__ import annotations

import time
from collections.abc import Iterator, Sequence
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING

from setdown.cli.outcome import DONE, FINDINGS, UNUSABLE, format_failure
from setdown.cli.progress import show_progress
from setdown.cli.terminal import say, warn

if TYPE_CHECKING:
    from setdown.catalogue.add import AddReport
    from setdown.catalogue.entry import Indexed
    from setdown.catalogue.run import Runner
    from setdown.catalogue.work import OwnLexicon

SHOWN = 20  # of a list that may be long


def add_folders(
    places: Sequence[str],
    catalogue: Path,
    jobs: int,
    prune: bool,
    scheduler: str,
    quiet: bool,
    lexicon: Sequence[str],
    timing: bool = False,
) -> int:
    """Bring the catalogue up to date with the places; the exit code."""
    from setdown.catalogue.add import add_classes, find_gone, list_sources, prune_classes
    from setdown.catalogue.store import open_store

    begin = time.perf_counter()
    own = read_own(lexicon)
    sources = list_sources(places)
    with closing(open_store(catalogue, create=True)) as store:
        with show_progress(len(sources), wanted=not quiet and len(sources) > 1, rate="classes") as advance:

            def tell(done: Indexed) -> None:
                advance(done.location.rpartition("/")[2])
                if done.error is not None and not done.passed_over:
                    warn(format_failure(done.error))

            report = add_classes(store, sources, run=choose_runner(jobs, scheduler), own=own, told=tell)
        report.gone = find_gone(store, places, sources)
        if prune:
            report.pruned = prune_classes(store, report.gone)
    _tell(report, prune, quiet)
    if timing:
        warn(f"setdown: {describe_timing(report, time.perf_counter() - begin)}")
    if not report.looked_at and not report.gone:
        warn("setdown: there is no transcript and no routine in " + ", ".join(places))
        return FINDINGS
    if report.failed and len(report.failed) == report.looked_at:
        return UNUSABLE
    return FINDINGS if report.failed or (report.gone and not prune) else DONE


def describe_timing(report: AddReport, seconds: float) -> str:
    """How long it took from the first look at the folders on, and how much of the workers' time was extraction."""
    rate = report.looked_at / seconds if seconds > 0 else 0.0
    share = report.extraction_s / report.seconds if report.seconds > 0 else 0.0
    told = f"{report.looked_at} classes in {seconds:.1f} s, {rate:.1f} a second"
    return f"{told}; {100 * share:.0f} % of the work was extraction"


def choose_runner(jobs: int, scheduler: str) -> Runner:
    """Where the work is done: here, in processes of this machine, or on a cluster."""
    from setdown.catalogue.run import run_here, run_in_processes

    if scheduler:
        from setdown.catalogue.cluster import make_cluster_runner

        return make_cluster_runner(scheduler)
    if jobs == 1:
        return run_here

    def run(work: object) -> Iterator[Indexed]:
        return run_in_processes(work, jobs)  # type: ignore[arg-type]

    return run


def read_own(files: Sequence[str]) -> tuple[OwnLexicon, ...]:
    """The bytes of a coach's own lexicon files. Raises OSError for one that cannot be read."""
    return tuple((Path(file).name, Path(file).read_bytes()) for file in files)


def _tell(report: AddReport, prune: bool, quiet: bool) -> None:
    parts = [f"{report.added} added", f"{report.replaced} replaced", f"{report.unchanged} unchanged"]
    if report.failed:
        parts.append(f"{len(report.failed)} could not be used")
    if report.passed_over:
        parts.append(f"{len(report.passed_over)} files are no transcripts")
    if report.gone:
        parts.append(f"{report.pruned} taken out" if prune else f"{len(report.gone)} gone")
    if not quiet:
        say(", ".join(parts))
    for error in report.passed_over[:SHOWN]:
        warn(f"setdown: {error.source} was passed over: {error.problem}")
    if len(report.passed_over) > SHOWN:
        warn(f"setdown: {len(report.passed_over) - SHOWN} more files were passed over")
    for location, notice in report.notices:
        warn(f"setdown: {location}: {notice}")
    if report.gone and not prune:
        shown = "".join(f"\n  {location}" for location in report.gone[:SHOWN])
        more = f"\n  and {len(report.gone) - SHOWN} more" if len(report.gone) > SHOWN else ""
        warn(f"setdown: the files of these classes are gone; --prune takes them out:{shown}{more}")
    if report.stale:
        problem = f"{report.stale} classes were made with another lexicon or version"
        warn(f"setdown: {problem}; 'setdown catalogue renew' shows what would change")
