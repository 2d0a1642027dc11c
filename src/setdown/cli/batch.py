"""Extract many transcripts, in this process or in several: results in the order of the input, failures among them."""

from __future__ import annotations

import contextlib
import signal
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from setdown.cli.outcome import describe_failure
from setdown.document import format_routine
from setdown.errors import SetdownError
from setdown.files import write_file
from setdown.model.transcript import ClassInfo

if TYPE_CHECKING:
    from concurrent.futures import Future

Job = TypeVar("Job")
Answer = TypeVar("Answer")


@dataclass(frozen=True, slots=True)
class ExtractJob:
    """One transcript, and where its routine goes (``None``: into the result)."""

    source: str
    target: Path | None
    format: str | None = None
    info: ClassInfo | None = None
    lexicon_files: tuple[Path, ...] = ()
    replace: bool = False


@dataclass(frozen=True, slots=True)
class ExtractResult:
    """What became of a job. ``error`` is set when the transcript could not be used or the routine not written."""

    source: str
    target: Path | None
    error: SetdownError | None = None
    text: str = ""
    sets: int = 0
    queries: int = 0
    minutes: float = 0.0
    outcome: str = ""


def extract_job(job: ExtractJob) -> ExtractResult:
    """Extract one transcript and write its routine. Whatever goes wrong becomes the result's ``error``."""
    from setdown.pipeline import extract

    try:
        if Path(job.source).is_dir():
            hint = f"Name the files in it: {Path(job.source) / '*.vtt'}"
            raise SetdownError("this is a folder", source=job.source, expected="a transcript file", hint=hint)
        routine = extract(job.source, format=job.format, info=job.info, lexicon_files=job.lexicon_files)
        text = format_routine(routine)
        outcome = write_file(job.target, text.encode("utf-8"), replace=job.replace) if job.target else ""
    except Exception as error:
        return ExtractResult(job.source, job.target, describe_failure(error, job.source))
    return ExtractResult(
        source=job.source,
        target=job.target,
        text="" if job.target else text,
        sets=len(routine.iter_sets()),
        queries=sum(query.state == "open" for query in routine.queries),
        minutes=routine.source.duration_s / 60,
        outcome=outcome,
    )


def run_jobs(work: Callable[[Job], Answer], jobs: Sequence[Job], workers: int) -> Iterator[Answer]:
    """``work`` of every job, in order. With more than one worker, ``work`` must not raise and all must pickle.

    Raises:
        SetdownError: a worker process died.
    """
    if workers <= 1 or len(jobs) <= 1:
        yield from map(work, jobs)
        return
    import multiprocessing  # only here: one transcript is the usual case
    from concurrent.futures import ProcessPoolExecutor
    from concurrent.futures.process import BrokenProcessPool

    # Started anew rather than forked: the same on every system, and safe beside the thread of a progress bar.
    context: Any = multiprocessing.get_context("spawn")
    pool = ProcessPoolExecutor(min(workers, len(jobs)), mp_context=context)
    try:
        with _ignore_interrupts():
            futures: list[Future[Answer]] = [pool.submit(work, job) for job in jobs]
        for future in futures:
            yield future.result()
    except BrokenProcessPool as error:
        raise SetdownError("a worker process died", hint="Try again with --jobs 1") from error
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


@contextlib.contextmanager
def _ignore_interrupts() -> Iterator[None]:
    """Workers started in here never see Ctrl-C: they finish the file they are at, and this process stops the rest."""
    try:
        before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    except ValueError:  # not the main thread, which alone may say what signals do
        yield
        return
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
