"""Only the page itself, of this run, on this machine, is answered."""

from __future__ import annotations

import asyncio
from concurrent.futures import ThreadPoolExecutor

import httpx
import pytest
from starlette.applications import Starlette
from starlette.responses import PlainTextResponse
from starlette.routing import Route

from setdown.page.guard import Guard, Ticket, make_key

KEY = "k" * 43
HOST = "127.0.0.1:8123"
OWN = {"host": HOST}


class Client:
    """Sends requests to an application in this process."""

    def __init__(self, app: Guard) -> None:
        self._app = app

    def send(self, request: httpx.Request) -> httpx.Response:
        async def ask() -> httpx.Response:
            async with httpx.AsyncClient(transport=httpx.ASGITransport(self._app)) as client:
                return await client.send(request)

        # In a thread of its own: the browser of other tests keeps a loop running in this one.
        with ThreadPoolExecutor(1) as pool:
            return pool.submit(asyncio.run, ask()).result()

    def request(self, method: str, path: str, **options) -> httpx.Response:
        return self.send(httpx.Request(method, f"http://{HOST}{path}", **options))

    def get(self, path: str, **options) -> httpx.Response:
        return self.request("GET", path, **options)

    def post(self, path: str, **options) -> httpx.Response:
        return self.request("POST", path, **options)


def make_client(ticket: Ticket | None = None) -> Client:
    async def answer(request):
        return PlainTextResponse(f"{request.scope['root_path']} {request.url.path}")

    app = Starlette(routes=[Route("/", answer, methods=["GET", "POST"]), Route("/api/class", answer)])
    guard = Guard(app, key=KEY, hosts=[HOST, "localhost:8123"], ticket=ticket)
    return Client(guard)


@pytest.mark.parametrize("host", [HOST, "localhost:8123"])
def test_the_page_of_this_run_is_answered(host):
    """With the key in the path, on an address that is served."""
    answer = make_client().get(f"/{KEY}/api/class", headers={"host": host})
    assert answer.status_code == 200


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1", "127.0.0.1:8124", "evil.example:8123", "127.0.0.1:8123.evil.example", ""]
)
def test_another_host_is_refused(host):
    """A name that was re-bound to this machine reaches nothing (RFC 9110, 15.5.20: 421 Misdirected Request)."""
    answer = make_client().get(f"/{KEY}/api/class", headers={"host": host})
    assert answer.status_code == 421


@pytest.mark.parametrize(
    "origin",
    [
        "http://evil.example",
        "null",
        "http://127.0.0.1:9999",
        "https://127.0.0.1:8123",
        "http://localhost:8123",
        "file://",
    ],
)
def test_another_origin_is_refused(origin):
    """A page of another site, scheme or port may not ask, even with the key."""
    answer = make_client().post(f"/{KEY}/", headers={"origin": origin})
    assert answer.status_code == 403


def test_its_own_origin_is_answered():
    """What a browser sends with a POST of the page itself."""
    headers = {"origin": f"http://{HOST}", "sec-fetch-site": "same-origin", "sec-fetch-mode": "cors"}
    assert make_client().post(f"/{KEY}/", headers=headers).status_code == 200


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
@pytest.mark.parametrize("mode", ["cors", "no-cors"])
def test_another_site_is_refused_without_an_origin_too(site, mode):
    """An image or script tag elsewhere sends no Origin, but Fetch Metadata tells (W3C Fetch Metadata, 2.4)."""
    headers = {"sec-fetch-site": site, "sec-fetch-mode": mode}
    assert make_client().get(f"/{KEY}/api/class", headers=headers).status_code == 403


def test_a_link_may_be_followed():
    """From a terminal that is itself a web page: only whoever has the key has the link."""
    headers = {"sec-fetch-site": "cross-site", "sec-fetch-mode": "navigate"}
    assert make_client().get(f"/{KEY}/", headers=headers).status_code == 200
    assert make_client().post(f"/{KEY}/", headers=headers).status_code == 403


@pytest.mark.parametrize(
    "path", ["/", "/api/class", f"/{KEY}", f"/{KEY[:-1]}/", f"/{KEY}x/api/class", "//api/class", f"/ä{KEY}/"]
)
def test_without_the_key_nothing_is_answered(path):
    """Missing, shortened, lengthened or in the wrong place."""
    answer = make_client().get(path)
    assert answer.status_code == 403
    assert KEY not in answer.text


def test_every_answer_forbids_what_is_foreign():
    """Also a refusal: the policy allows own files only, no inline script, no frame; nothing is cached or shared."""
    for path in (f"/{KEY}/", "/"):
        headers = make_client().get(path).headers
        policy = {part.split()[0]: part.split()[1:] for part in headers["content-security-policy"].split(";")}
        assert policy["default-src"] == ["'none'"]
        assert policy["script-src"] == policy["style-src"] == policy["connect-src"] == ["'self'"]
        assert policy["frame-ancestors"] == policy["base-uri"] == policy["form-action"] == ["'none'"]
        assert headers["referrer-policy"] == "no-referrer"
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["cache-control"] == "no-store"
        assert not [name for name in headers if name.startswith("access-control-")]
        assert "set-cookie" not in headers


def test_a_preflight_gets_no_leave():
    """Another site that asks for leave to ask (CORS preflight) is refused."""
    headers = {"origin": "http://evil.example", "access-control-request-method": "POST"}
    answer = make_client().request("OPTIONS", f"/{KEY}/", headers=headers)
    assert answer.status_code == 403
    assert "access-control-allow-origin" not in answer.headers


@pytest.mark.parametrize("length", ["50000001", "-1", "many"])
def test_too_much_is_refused(length):
    """By the length that is announced, before anything is read."""
    request = httpx.Request("POST", f"http://{HOST}/{KEY}/", headers={"content-length": length}, content=b"")
    assert make_client().send(request).status_code == 413


def test_an_unannounced_length_is_refused():
    """A body in chunks has no end that could be checked beforehand."""

    async def pieces():
        yield b"x"

    answer = make_client().post(f"/{KEY}/", content=pieces())
    assert answer.status_code == 411


def test_a_ticket_opens_once():
    """The first use leads to the page; afterwards it is worth nothing."""
    ticket = Ticket()
    client = make_client(ticket)
    foreign = client.get(ticket.path, headers={"origin": "http://evil.example"})
    assert foreign.status_code == 403
    first = client.get(ticket.path)
    assert (first.status_code, first.headers["location"]) == (303, f"/{KEY}/")
    assert client.get(ticket.path).status_code == 403


def test_keys_differ():
    """Each run has its own, of 256 bits (43 letters of base64)."""
    keys = {make_key() for _ in range(100)}
    assert len(keys) == 100
    assert {len(key) for key in keys} == {43}
