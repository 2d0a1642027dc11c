"""Who may speak to the page: this machine, this run's key, this page itself. Everything else is refused early.

The page holds private recordings, so a web site that the reviewer has open in another tab must not reach it:

- the ``Host`` must be the address that is served (a name that was re-bound to 127.0.0.1 is refused);
- an ``Origin``, when there is one, must be the page's own, and ``Sec-Fetch-Site``, when there is one, must not be
  another site's;
- every path starts with a key of 256 random bits that is made anew for each run. There are no cookies, so there is
  nothing that a browser would send along by itself.

Answers forbid everything but the page's own files (Content Security Policy Level 3), framing, sniffing and referrers,
and are not kept in a cache. There are no CORS headers.
"""

from __future__ import annotations

import secrets
from collections.abc import Iterable

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import JSONResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; media-src 'self'; connect-src 'self'; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
ALWAYS = {
    "content-security-policy": POLICY,
    "referrer-policy": "no-referrer",
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cache-control": "no-store",
}
LARGEST_BODY = 50_000_000  # bytes; a routine to compare with is the largest thing that is sent
OWN_SITES = ("same-origin", "none")  # 'none': typed, or opened from outside the browser


def make_key() -> str:
    """A key for one run: 256 random bits in letters that a path may hold."""
    return secrets.token_urlsafe(32)


class Ticket:
    """A word that opens the page once: other users of the machine can read the command line that starts the browser."""

    def __init__(self) -> None:
        self._word: str | None = make_key()
        self.path = f"/open/{self._word}"

    def use(self, path: str) -> bool:
        """Whether the path is the ticket's, for the first time."""
        if self._word is None or not secrets.compare_digest(path.encode(), self.path.encode()):
            return False
        self._word = None
        return True


class Guard:
    """ASGI: refuses what does not come from the page, takes the key off the path, and adds ``ALWAYS`` to answers.

    ``hosts`` are the values of ``Host`` that are served, e.g. ``127.0.0.1:8000``.
    """

    def __init__(self, app: ASGIApp, *, key: str, hosts: Iterable[str], ticket: Ticket | None = None) -> None:
        self._app = app
        self._key = key.encode()
        self._prefix = f"/{key}"
        self._hosts = frozenset(hosts)
        self._ticket = ticket

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            return  # there are no web sockets; the server closes it

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                MutableHeaders(scope=message).update(ALWAYS)
            await send(message)

        headers = Headers(scope=scope)
        problem = self._find_problem(headers, scope)
        if problem is None:
            scope = {**scope, "root_path": self._prefix}
            await self._app(scope, receive, send_with_headers)
        elif problem[0] == 403 and self._may_open(headers, scope):
            answer = JSONResponse({"message": "opened"}, 303, {"location": f"{self._prefix}/"})
            await answer(scope, receive, send_with_headers)
        else:
            await JSONResponse({"message": problem[1]}, problem[0])(scope, receive, send_with_headers)

    def _find_problem(self, headers: Headers, scope: Scope) -> tuple[int, str] | None:
        """Status and reason of a refusal."""
        hosts = headers.getlist("host")
        if not hosts or any(host not in self._hosts for host in hosts):
            return 421, "This address is not served here."
        if not self._is_own(headers, scope):
            return 403, "Only the page itself may ask."
        if not self._has_key(scope["path"]):
            return 403, "The key of this run is missing: open the address that the command printed."
        if "transfer-encoding" in headers:
            return 411, "Say how much is sent."
        length = headers.get("content-length", "0")
        if not length.isdecimal() or int(length) > LARGEST_BODY:
            return 413, "That is too much to send."
        return None

    def _is_own(self, headers: Headers, scope: Scope) -> bool:
        own = {f"http://{host}" for host in headers.getlist("host")}
        if any(origin not in own for origin in headers.getlist("origin")):
            return False
        # Following a link to the page (from a terminal that is a web page itself) is fine: the link holds the key.
        if scope["method"] == "GET" and headers.get("sec-fetch-mode") == "navigate":
            return True
        return all(site in OWN_SITES for site in headers.getlist("sec-fetch-site"))

    def _has_key(self, path: str) -> bool:
        first, slash, _ = path[1:].partition("/")
        return secrets.compare_digest(first.encode("utf-8", "replace"), self._key) and bool(slash)

    def _may_open(self, headers: Headers, scope: Scope) -> bool:
        ticket = self._ticket
        return (
            ticket is not None
            and scope["method"] == "GET"
            and self._is_own(headers, scope)
            and ticket.use(scope["path"])
        )
