"""Serving the page: on the loopback address only, until the command is stopped."""

from __future__ import annotations

import socket
from collections.abc import Callable
from dataclasses import dataclass

import uvicorn

from setdown.errors import SetdownError
from setdown.page.guard import Ticket, make_key

LOOPBACK = "127.0.0.1"
NAMES = (LOOPBACK, "localhost")


@dataclass(frozen=True, slots=True)
class Address:
    """Where one run of the page is reached.

    ``url`` holds the key of the run and is for the reviewer's own terminal; ``once`` works one time, for the command
    line of a browser, which every user of the machine can read.
    """

    port: int
    key: str
    ticket: Ticket

    @property
    def hosts(self) -> tuple[str, ...]:
        return tuple(f"{name}:{self.port}" for name in NAMES)

    @property
    def url(self) -> str:
        return f"http://{LOOPBACK}:{self.port}/{self.key}/"

    @property
    def once(self) -> str:
        return f"http://{LOOPBACK}:{self.port}{self.ticket.path}"


def open_socket(port: int = 0) -> socket.socket:
    """A listening socket on 127.0.0.1; port 0 takes any that is free.

    Raises:
        SetdownError: the port is taken, or may not be used.
    """
    # Named as TCP, or asyncio leaves Nagle's algorithm on, and every answer waits 40 ms for the delayed ACK.
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((LOOPBACK, port))
        listener.listen(128)
    except OSError as error:
        listener.close()
        reason = (error.strerror or str(error)).lower()
        raise SetdownError(
            f"port {port} cannot be used: {reason}", hint="Leave out --port to take a free one"
        ) from error
    return listener


def make_address(listener: socket.socket) -> Address:
    """The address of a listening socket, with a new key."""
    return Address(listener.getsockname()[1], make_key(), Ticket())


def run_server(app: object, listener: socket.socket, ready: Callable[[], None] = lambda: None) -> None:
    """Serve until SIGINT or SIGTERM; ``ready`` is called once connections are accepted."""
    config = uvicorn.Config(
        app,  # type: ignore[arg-type]
        log_level="critical",
        access_log=False,  # the address of every request holds the key
        lifespan="off",
        server_header=False,
        proxy_headers=False,
        ws="none",
        timeout_graceful_shutdown=2,
    )
    server = _Server(config)
    server.ready = ready
    server.run(sockets=[listener])


class _Server(uvicorn.Server):
    ready: Callable[[], None]

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        await super().startup(sockets)
        self.ready()
