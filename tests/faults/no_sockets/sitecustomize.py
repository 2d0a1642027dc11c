"""Loaded by Python itself before anything else, in every process whose PYTHONPATH names this folder, workers as well.

Every socket but a local one, and every question for a name, raises and is written down with what asked for it. An audit
hook (PEP 578) cannot be taken back or gone round from Python, whatever library makes the socket.
"""

from __future__ import annotations

import os
import socket
import sys
import traceback

LOCAL = getattr(socket, "AF_UNIX", None)
NAMES = ("socket.getaddrinfo", "socket.gethostbyname", "socket.gethostbyaddr", "socket.getnameinfo")


class SocketForbiddenError(OSError):
    """Something wanted to use the network."""


def forbid(event: str, values: tuple[object, ...]) -> None:
    """The hook: ``socket.__new__`` comes with (socket, family, type, protocol)."""
    if event in NAMES or (event == "socket.__new__" and values[1] != LOCAL):
        asked = " < ".join(f"{frame.filename}:{frame.name}" for frame in reversed(traceback.extract_stack()[:-1]))
        with open(os.environ["SOCKETS_ASKED"], "a", encoding="utf-8") as log:  # noqa: PTH123 # no import of pathlib
            log.write(f"{event} {asked}\n")
        raise SocketForbiddenError("no sockets here")


if "SOCKETS_ASKED" in os.environ:
    sys.addaudithook(forbid)
