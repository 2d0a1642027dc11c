"""Work on a Dask cluster that is there already: the same jobs and the same answers, in the same order.

``dask.distributed`` comes with the extra ``cluster``. Every worker needs the same version of setdown, and must be able
to read the places: a shared folder, or an address that fsspec reads. Jobs have no side effects, so one whose worker
dies is simply done again by another; a job that kills worker after worker becomes an error of its own.
"""

from __future__ import annotations

import importlib
import itertools
from collections import deque
from collections.abc import Iterable, Iterator
from typing import Any

from setdown.catalogue.entry import Indexed
from setdown.catalogue.run import Runner
from setdown.catalogue.work import Job, index_class
from setdown.errors import SetdownError

AHEAD = 8  # jobs under way for each thread of a worker
LEAST_AHEAD = 16
CONNECT_S = 30


def make_cluster_runner(address: str) -> Runner:
    """A runner on the cluster whose scheduler has this address (``tcp://host:port``).

    Raises:
        SetdownError: dask.distributed is not installed.
    """
    try:
        distributed: Any = importlib.import_module("distributed")
    except ImportError as error:
        hint = 'pip install "setdown[cluster]" brings it; --jobs works on this machine without'
        raise SetdownError("a scheduler needs dask.distributed, which is not installed", hint=hint) from error

    def run(jobs: Iterable[Job]) -> Iterator[Indexed]:
        try:
            client = distributed.Client(address, timeout=CONNECT_S, set_as_default=False)
        except (OSError, ValueError, TimeoutError) as error:
            expected = "the address of a Dask scheduler, such as tcp://10.0.0.5:8786"
            problem = f"no scheduler answers at {address}"
            raise SetdownError(problem, expected=expected) from error
        with client:
            yield from _run(client, jobs)

    return run


def _run(client: Any, jobs: Iterable[Job]) -> Iterator[Indexed]:
    waiting: deque[tuple[Job, Any]] = deque()
    todo = iter(jobs)
    while True:
        ahead = max(AHEAD * sum(client.nthreads().values()), LEAST_AHEAD)
        for job in itertools.islice(todo, max(ahead - len(waiting), 0)):
            # A key of its own for every job: two runs at once on one cluster do not take each other's answers.
            waiting.append((job, client.submit(index_class, job, pure=False, retries=1)))
        if not waiting:
            return
        job, future = waiting.popleft()
        try:
            answer = future.result()
        except Exception as error:  # index_class does not raise: this is the cluster's own trouble with this job
            problem = f"the cluster could not work on this file ({type(error).__name__}: {error})"
            source = job.files.transcript or job.files.routine
            answer = Indexed(job.files.location, error=SetdownError(problem, source=source))
        future.release()
        yield answer
