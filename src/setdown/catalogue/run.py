"""Many classes through one function, in this process, in several, or on a cluster: answers in the order of the jobs.

Only a few jobs are under way at a time, so memory does not grow with their number. A process that dies takes no other
job with it: what was under way is done again, one at a time, and a job that kills its process again is an error.
"""

from __future__ import annotations

import gc
import itertools
import multiprocessing
import multiprocessing.connection
import os
import signal
import threading
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from typing import Any

from setdown.catalogue.entry import Indexed
from setdown.catalogue.work import Job, index_class
from setdown.errors import SetdownError

AHEAD = 8  # jobs under way for each worker: one that takes long does not leave the others idle
Work = Callable[[Job], Indexed]
Runner = Callable[[Iterable[Job]], Iterator[Indexed]]


def run_here(jobs: Iterable[Job], work: Work = index_class) -> Iterator[Indexed]:
    """One after the other, in this process."""
    return map(work, jobs)


def run_in_processes(jobs: Iterable[Job], workers: int, work: Work = index_class) -> Iterator[Indexed]:
    """In several processes of this machine; their answers in the order of the jobs."""
    waiting: deque[tuple[Job, Future[Indexed]]] = deque()
    todo = iter(jobs)
    pool = _start_pool(workers)
    try:
        while True:
            for job in itertools.islice(todo, workers * AHEAD - len(waiting)):
                waiting.append((job, _submit(pool, work, job)))
            if not waiting:
                return
            future = waiting[0][1]
            if isinstance(future.exception(), BrokenProcessPool):
                pool.shutdown(wait=True, cancel_futures=True)
                for job, future in waiting:
                    yield future.result() if _is_answered(future) else _run_alone(job, work)
                waiting.clear()
                pool = _start_pool(workers)
            else:
                yield future.result()
                waiting.popleft()
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _submit(pool: ProcessPoolExecutor, work: Work, job: Job) -> Future[Indexed]:
    try:
        return pool.submit(work, job)
    except BrokenProcessPool as error:
        broken: Future[Indexed] = Future()
        broken.set_exception(error)
        return broken


def _run_alone(job: Job, work: Work) -> Indexed:
    """In a process of its own, after a process died that this job may have killed."""
    with _start_pool(1) as pool:
        try:
            return pool.submit(work, job).result()
        except BrokenProcessPool:
            problem = "the process that read this file died"
            hint = "It may be too large for this machine's memory"
            error = SetdownError(problem, source=job.files.transcript or job.files.routine, hint=hint)
            return Indexed(job.files.location, error=error)


def _is_answered(future: Future[Indexed]) -> bool:
    return future.done() and not future.cancelled() and future.exception() is None


def _start_pool(workers: int) -> ProcessPoolExecutor:
    # Started anew rather than forked: the same on every system, and safe beside the thread of a progress bar.
    context: Any = multiprocessing.get_context("spawn")
    return ProcessPoolExecutor(workers, mp_context=context, initializer=prepare_worker)


def prepare_worker() -> None:
    """Ctrl-C is the first process's to answer; the lexicon's objects need no walking for garbage; no worker stays
    behind when the first process is killed."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    gc.set_threshold(100_000, 25, 25)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    """A killed process cannot tell its workers to end, and they would wait for work for ever."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        multiprocessing.connection.wait([parent.sentinel])
        os.kill(os.getpid(), signal.SIGTERM)
