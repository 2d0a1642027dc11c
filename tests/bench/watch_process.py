"""A command run to its end, with what it used: seconds, seconds of processor, and memory over time."""

from __future__ import annotations

import subprocess
import threading
import time
from collections.abc import Sequence
from dataclasses import dataclass, field

import psutil

EVERY_S = 1.0


@dataclass
class Usage:
    """``seconds`` on the clock, ``processor_s`` of all its processes together, ``errors`` what it wrote there.

    ``memory``: seconds since the start and MB resident, all its processes together. What they share counts in each.
    """

    seconds: float = 0.0
    processor_s: float = 0.0
    errors: str = ""
    memory: list[tuple[float, float]] = field(default_factory=list)

    def find_peak(self, first: float, last: float) -> float:
        """The most memory in MB between two shares of the time, 0..1."""
        inside = [mb for at, mb in self.memory if first * self.seconds <= at <= last * self.seconds]
        return max(inside, default=0.0)


def watch_command(command: Sequence[str]) -> Usage:
    """Run a command; it must succeed. Its standard output is thrown away."""
    usage = Usage()
    before = _read_processor_s()
    start = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, encoding="utf-8")
    done = threading.Event()

    def look() -> None:
        root = psutil.Process(process.pid)
        while not done.wait(EVERY_S):
            usage.memory.append((time.perf_counter() - start, sum(map(_read_mb, _list_tree(root)))))

    watcher = threading.Thread(target=look, daemon=True)
    watcher.start()
    _, usage.errors = process.communicate()
    usage.seconds = time.perf_counter() - start
    done.set()
    watcher.join()
    if process.returncode:
        raise SystemExit(f"{' '.join(command)} ended with {process.returncode}:\n{usage.errors}")
    usage.processor_s = _read_processor_s() - before
    return usage


def _read_processor_s() -> float:
    """Of the children that have ended, and of theirs."""
    times = psutil.Process().cpu_times()
    return float(times.children_user + times.children_system)


def _list_tree(root: psutil.Process) -> list[psutil.Process]:
    try:
        return [root, *root.children(recursive=True)]
    except psutil.NoSuchProcess:
        return []


def _read_mb(process: psutil.Process) -> float:
    try:
        return float(process.memory_info().rss) / 1e6
    except psutil.NoSuchProcess:
        return 0.0
