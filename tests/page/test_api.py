"""The API: no request makes the server fail, none is answered without leave, and what is refused says why."""

from __future__ import annotations

import shutil
from pathlib import Path

import httpx
import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from schemathesis.specs.openapi.checks import positive_data_acceptance

from page.conftest import Served
from setdown.page.app import make_page
from setdown.page.desk import Desk
from setdown.review.store import open_routine

pytestmark = pytest.mark.slow

SAMPLE = "quayside-strength"
GETS = ["class", "transcript", "revision", "movements"]
POSTS = ["edit", "undo", "redo", "save", "signoff", "rejoin", "kept", "compare"]
OPERATIONS = [f"GET /api/{name}" for name in GETS] + [f"POST /api/{name}" for name in POSTS]


@pytest.fixture(scope="module")
def run(repository, tmp_path_factory):
    """One run of the command for all requests of this file."""
    folder = tmp_path_factory.mktemp("api")
    for file in (repository / "samples").glob(f"{SAMPLE}.*"):
        shutil.copy(file, folder)
    run = Served(folder / f"{SAMPLE}.routine.json")
    run.routine = folder / f"{SAMPLE}.routine.json"
    yield run
    assert run.process.poll() is None, "the server is still there after all that was sent"
    run.kill()


@pytest.fixture(scope="module")
def published(repository, tmp_path_factory):
    """The API as it describes itself (OpenAPI 3.1); the description is not served."""
    path = tmp_path_factory.mktemp("schema") / "a.routine.json"
    shutil.copy(repository / "samples" / f"{SAMPLE}.routine.json", path)
    desk = Desk(path, by="Ada Lorrimer")
    described = make_page(desk).openapi()
    desk.close()
    return schemathesis.openapi.from_dict(described)


@pytest.mark.parametrize("operation", OPERATIONS)
def test_no_request_makes_the_server_fail(run, published, operation):
    """Made-up requests, half of them about sets, groups and queries that there are, on the newest revision.

    Left out is the check that every well-formed request is accepted: whether a time lies inside its set is not a matter
    of form. All other checks of Schemathesis hold (no 5xx, statuses, types and bodies as described, and so on).
    """
    method, path = operation.split()

    @settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck), database=None)
    @given(case=ill_and_well_formed(published[path][method]), pick=st.integers(0, 10_000), known=st.booleans())
    def send(case, pick, known):
        if known and isinstance(case.body, dict):
            case.body = aim(case.body, httpx.get(f"{run.url}api/class").json(), pick)
        answer = case.call(base_url=run.url)
        case.validate_response(answer, excluded_checks=[positive_data_acceptance])
        assert answer.status_code < 500
        if answer.status_code >= 400:
            assert answer.json()["message"]

    send()


def ill_and_well_formed(operation):
    """Requests as they are described, and such as are not."""
    well, ill = (operation.as_strategy(generation_mode=mode) for mode in schemathesis.GenerationMode)
    return st.one_of(well, ill) if operation.body or operation.query else well


def test_all_operations_are_tried(published):
    """The list above is what the application describes."""
    described = [f"{method.upper()} {path}" for path, item in published.raw_schema["paths"].items() for method in item]
    assert sorted(described) == sorted(OPERATIONS)


def aim(body: dict, now: dict, pick: int) -> dict:
    """The same request with ids that exist, and the revision that is asked for."""
    parts = {
        "set": list(now["sets"]),
        "first": list(now["sets"]),
        "second": list(now["sets"]),
        "query": list(now["queries"]),
        "section": [section["id"] for section in now["sections"]],
        "group": [group["id"] for section in now["sections"] for group in section["groups"]],
    }
    if "revision" in body:
        body = body | {"revision": now["revision"]}
    if isinstance(body.get("edit"), dict):
        found = {key: ids[pick % len(ids)] for key, ids in parts.items() if key in body["edit"] and ids}
        body = body | {"edit": body["edit"] | found}
    return body


def test_whatever_was_sent_the_file_is_a_routine(run):
    """After all of the above it can be opened, and so can the log of what was saved in between."""
    assert open_routine(run.routine).routine.iter_sets()


PATHS = ["", "api/class", "api/transcript", "api/revision", "api/movements?find=squat", "static/start.js"]


@pytest.mark.parametrize("headers", [{"host": "evil.example"}, {"origin": "http://evil.example"}, {"origin": "null"}])
def test_strangers_are_refused(run, headers):
    """A foreign Host or Origin gets nothing from any address, even with the key."""
    for path in PATHS:
        assert httpx.get(run.url + path, headers=headers).status_code in (403, 421), path
    for path in POSTS:
        answer = httpx.post(f"{run.url}api/{path}", headers=headers, json={"revision": 1})
        assert answer.status_code in (403, 421), path
        assert set(answer.json()) == {"message"}


def test_without_the_key_nothing_is_told(run):
    """Neither the class, nor the API, nor even the page's own files."""
    base = run.url.rsplit("/", 2)[0]
    for path in PATHS:
        for wrong in ("", "x" * 43 + "/"):
            answer = httpx.get(f"{base}/{wrong}{path}")
            assert answer.status_code == 403, path
            assert "Quayside" not in answer.text
    for path in POSTS:
        assert httpx.post(f"{base}/api/{path}", json={"revision": 1}).status_code == 403, path


def test_the_api_is_not_described_to_a_visitor(run):
    """No documentation pages, which would load scripts from elsewhere; no listing of folders; no way out of them."""
    for path in ("docs", "redoc", "openapi.json", "static/", "static/../app.py", "static/%2e%2e/app.py"):
        assert httpx.get(run.url + path).status_code in (403, 404), path


def test_it_listens_on_the_loopback_address_only(run):
    """Whoever is on the same network finds no open port (RFC 1122, 3.2.1.3: 127/8 never leaves the host)."""
    assert run.url.startswith("http://127.0.0.1:")
    port = int(run.url.split(":")[2].split("/")[0])
    listening = list_listeners(port)
    if listening is None:
        pytest.skip("this system has no /proc/net/tcp to look into")
    assert listening == {"0100007F"}  # 127.0.0.1 in the order of the machine's bytes


def list_listeners(port: int) -> set[str] | None:
    """Addresses on which any process listens on the port; 0A is LISTEN (include/net/tcp_states.h)."""
    found = set()
    for table in ("/proc/net/tcp", "/proc/net/tcp6"):
        try:
            rows = [line.split() for line in Path(table).read_text(encoding="ascii").splitlines()[1:]]
        except OSError:
            return None
        found |= {row[1].split(":")[0] for row in rows if int(row[1].split(":")[1], 16) == port and row[3] == "0A"}
    return found
