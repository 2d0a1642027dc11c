"""The page as an ASGI application: its files, its recording and its API, behind the guard."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import FileResponse, HTMLResponse, JSONResponse
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.staticfiles import StaticFiles

from setdown.errors import SetdownError
from setdown.model.timecode import format_clock
from setdown.page.api import make_router
from setdown.page.desk import Desk, StaleRevisionError
from setdown.page.guard import Guard, Ticket
from setdown.page.media import Recording

HERE = Path(__file__).parent


def make_app(
    desk: Desk,
    *,
    key: str,
    hosts: Iterable[str],
    recording: Recording | None = None,
    ticket: Ticket | None = None,
) -> Guard:
    """The guarded application for one routine, served under ``/KEY/``."""
    return Guard(make_page(desk, recording), key=key, hosts=hosts, ticket=ticket)


def make_page(desk: Desk, recording: Recording | None = None) -> FastAPI:
    """The application without its guard."""
    app = FastAPI(title="Setdown review page", docs_url=None, redoc_url=None, openapi_url=None)
    app.include_router(make_router(desk), prefix="/api")
    app.add_exception_handler(StaleRevisionError, _refuse_stale)
    app.add_exception_handler(SetdownError, _refuse)
    app.add_exception_handler(OSError, _refuse_unwritable)
    app.add_exception_handler(RequestValidationError, _refuse_body)
    app.add_exception_handler(HTTPException, _refuse_request)
    templates = Environment(loader=FileSystemLoader(HERE / "templates"), autoescape=True, undefined=StrictUndefined)
    page = templates.get_template("page.html")

    @app.get("/", include_in_schema=False)
    def show_page() -> HTMLResponse:
        routine = desk.routine
        source = routine.source
        about = [a for a in (source.instructor, source.date, format_clock(round(source.duration_s * 1000))) if a]
        element = recording.element if recording else ""
        modules = sorted(file.name for file in (HERE / "static").glob("*.js"))
        text = page.render(title=routine.title, status=routine.status, about=about, media=element, modules=modules)
        return HTMLResponse(text)

    if recording is not None:

        @app.api_route("/media", methods=["GET", "HEAD"], include_in_schema=False)
        def send_recording() -> FileResponse:
            return FileResponse(recording.path, media_type=recording.media_type)

    app.mount("/static", StaticFiles(directory=HERE / "static"), name="static")
    return app


def _answer(status: int, message: str, **more: object) -> Response:
    return JSONResponse({"message": message, **more}, status)


def _refuse_stale(request: Request, error: Exception) -> Response:
    assert isinstance(error, StaleRevisionError)
    return _answer(409, str(error), file=error.file, revision=error.revision)


def _refuse(request: Request, error: Exception) -> Response:
    assert isinstance(error, SetdownError)
    message = error.problem[:1].upper() + error.problem[1:]
    if error.expected:
        message += f"; expected {error.expected}"
    return _answer(422, f"{message}. {error.hint}".rstrip(". ") + ".")


def _refuse_unwritable(request: Request, error: Exception) -> Response:
    assert isinstance(error, OSError)
    return _answer(422, f"The file cannot be written: {error.strerror or error}. Nothing is lost: your edits are kept.")


def _refuse_body(request: Request, error: Exception) -> Response:
    assert isinstance(error, RequestValidationError)
    first = error.errors()[0] if error.errors() else {}
    where = ".".join(str(part) for part in first.get("loc", ()) if part != "body")
    return _answer(422, f"This is not what the page sends: {where or 'the request'}: {first.get('msg', 'malformed')}.")


def _refuse_request(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    response = _answer(error.status_code, str(error.detail))
    response.headers.update(error.headers or {})
    return response
