"""One writer at a time: a lock on an open file, which the system lets go when the process ends, however it ends."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl


@contextmanager
def lock_stream(descriptor: int) -> Iterator[None]:
    """Hold the lock of an open file; waits for another process that holds it."""
    if sys.platform == "win32":
        msvcrt.locking(descriptor, msvcrt.LK_LOCK, 1)
        try:
            yield
        finally:
            msvcrt.locking(descriptor, msvcrt.LK_UNLCK, 1)
    else:
        fcntl.flock(descriptor, fcntl.LOCK_EX)
        try:
            yield
        finally:
            fcntl.flock(descriptor, fcntl.LOCK_UN)
