"""The catalogue as a static site: one page that searches, one page a class. Opens from the disk, needs no server.

The index of the search is in the page itself, as JSON that is no script; pages load nothing. Their policy allows the
one script and the one style by hash. Text of a class reaches a page only through the template's escaping or as
``textContent``. Folders of this machine are not in the site: only names, and relative links to recordings beneath it.
"""

from __future__ import annotations

import base64
import hashlib
import os
import sqlite3
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any
from urllib.parse import quote, unquote, urlsplit

from jinja2 import Environment, StrictUndefined
from markupsafe import Markup

from setdown.catalogue.describe import unpack_routine
from setdown.catalogue.links import find_address
from setdown.catalogue.needs import Need, read_needs
from setdown.catalogue.store import read
from setdown.files import write_file
from setdown.lexicon import Lexicon
from setdown.measure.performed import EASING_PATTERNS
from setdown.model.routine import Routine

CleanText = Callable[[str], str]
RenderPlan = Callable[[Routine], bytes | None]
NameFile = Callable[[str], str]
PAGES = "classes"
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@dataclass(frozen=True, slots=True)
class SiteReport:
    """``pages`` is how many classes have a page, ``without`` how many have none because they are drafts."""

    classes: int
    pages: int
    without: int


def write_site(
    connection: sqlite3.Connection,
    folder: Path,
    lexicon: Lexicon,
    *,
    render: RenderPlan,
    clean: CleanText,
    name: NameFile,
    replace: bool = False,
) -> SiteReport:
    """Write the site into a folder, which is made.

    ``render`` gives the page of a routine, None when it is to have none; ``clean`` makes a text harmless on one line;
    ``name`` makes the name of a file of a text.

    Raises:
        SetdownError: a file is there and differs and ``replace`` is not set.
        OSError: a file cannot be written.
    """
    with read(connection):
        (folder / PAGES).mkdir(parents=True, exist_ok=True)
        needs = read_needs(connection)
        index = _Index(connection, lexicon, clean)
        classes: list[dict[str, Any]] = []
        pages = 0
        for row in _read_classes(connection):
            routine = unpack_routine(row[10])
            page = render(routine)
            file = ""
            if page is not None:
                mark = hashlib.sha256(row[1].encode("utf-8", "surrogatepass")).hexdigest()[:8]  # titles may be alike
                file = f"{PAGES}/{name(row[2])}-{mark}.html"
                write_file(folder / file, add_way_back(page), replace=replace)
                pages += 1
            classes.append(index.describe(row, needs[row[9]], file, folder))
        data = {"classes": classes, "movements": index.movements, "muscles": index.muscles, "kit": index.kit}
        for file, text in (("index.html", render_index(data)), ("all.html", render_all(data))):
            write_file(folder / file, text.encode("utf-8"), replace=replace)
        return SiteReport(len(classes), pages, len(classes) - pages)


def render_index(data: dict[str, Any]) -> str:
    """The page that searches."""
    script, style = _load("site.js"), _load("site.css")
    text: str = _template("site.html.j2").render(
        data=data,
        summary=tell_summary(data["classes"]),
        script=Markup(script),
        style=Markup(style),
        script_hash=_hash(script),
        style_hash=_hash(style),
    )
    return text


def render_all(data: dict[str, Any]) -> str:
    """The plain list, for readers without scripts."""
    style = _load("site.css")
    told = [one | {"about": _tell_about(one), "date": _tell_day(one["date"])} for one in data["classes"]]
    page = _template("all.html.j2")
    summary = tell_summary(data["classes"])
    text: str = page.render(
        data=data | {"classes": told}, summary=summary, style=Markup(style), style_hash=_hash(style)
    )
    return text


def tell_summary(classes: Sequence[dict[str, Any]]) -> str:
    """``150 classes · 61 hours · 128 instructors · 20 Nov 2023 to 6 Jun 2024``; what is not known is left out."""
    days = sorted(one["date"] for one in classes if one["date"])
    instructors = len({one["by"] for one in classes if one["by"]})
    hours = round(sum(one["minutes"] for one in classes) / 60)
    parts = [
        _count(len(classes), "class", "classes"),
        _count(hours, "hour") if hours else "",
        _count(instructors, "instructor") if instructors else "",
        " to ".join(dict.fromkeys((_tell_day(days[0]), _tell_day(days[-1])))) if days else "",
    ]
    return " · ".join(part for part in parts if part)


def add_way_back(page: bytes) -> bytes:
    """The page of a plan with a link to the catalogue above it, which is not printed."""
    look = b".home{margin:0 0 1.8rem;font-size:.9rem}.home a{color:inherit}@media print{.home{display:none}}"
    style = b"<style>" + look + b"</style>"
    link = b'<nav class="home" lang="en"><a href="../index.html">All classes</a></nav>'
    for mark, more in ((b"</head>", style + b"\n</head>"), (b"<main>", b"<main>\n" + link)):
        page = page.replace(mark, more, 1)
    return page


class _Index:
    """Collects names once: a class refers to movements and muscles by number."""

    def __init__(self, connection: sqlite3.Connection, lexicon: Lexicon, clean: CleanText) -> None:
        self._connection, self._clean = connection, clean
        self._kit_names = {id: piece.name for id, piece in lexicon.kit.items()}
        self._muscle_names = {id: muscle.name for id, muscle in lexicon.muscles.items()}
        rows = connection.execute("SELECT id, name FROM movement ORDER BY name, id").fetchall()
        self._movement_of: dict[int, int] = {}
        self.movements: list[str] = []
        for id, text in rows:
            shown = clean(text)
            if not self.movements or self.movements[-1] != shown:
                self.movements.append(shown)
            self._movement_of[id] = len(self.movements) - 1
        easing = ", ".join(f"'{pattern}'" for pattern in sorted(EASING_PATTERNS))
        self._muscles_of = (
            "SELECT muscle FROM class_movement JOIN movement ON movement.id = class_movement.movement_id "
            "JOIN movement_muscle ON movement_muscle.movement_id = movement.id AND grouped = 1 AND first = 1 "
            f"WHERE class_id = ? AND pattern NOT IN ({easing}) "
            "GROUP BY muscle ORDER BY SUM(counted_halves) DESC, muscle"
        )
        every = connection.execute("SELECT DISTINCT muscle FROM movement_muscle WHERE grouped = 1 AND first = 1")
        names = sorted((clean(self._muscle_names.get(id, id)), id) for (id,) in every)
        self.muscles = [text for text, _ in names]
        self._muscle_of = {id: n for n, (_, id) in enumerate(names)}
        pieces = {
            piece for said, needed in read_needs(connection).values() for piece in (*said, *frozenset().union(*needed))
        }
        self.kit = sorted(clean(self._kit_names.get(piece, piece)) for piece in pieces)

    def describe(self, row: tuple[Any, ...], need: Need, page: str, folder: Path) -> dict[str, Any]:
        """What the search knows of one class; its muscles are those it works, the ones with most sets first."""
        moves: dict[int, list[int]] = {}
        sets = self._connection.execute(
            "SELECT movement_id, start_ms FROM performed WHERE class_id = ? ORDER BY start_ms", (row[0],)
        )
        for movement, start in sets:
            moves.setdefault(self._movement_of[movement], []).append(start // 1000)
        said, needed = need
        kit = [[piece] for piece in sorted(said)] + [sorted(group) for group in needed]
        return {
            "title": self._clean(row[2]) or "Untitled class",
            "by": self._clean(row[3]),
            "date": row[4],
            "minutes": round(row[6] / 60_000, 1),
            "sets": row[7],
            "draft": row[5] == "draft",
            "kit": [[self._clean(self._kit_names.get(piece, piece)) for piece in choice] for choice in kit],
            "muscles": [self._muscle_of[id] for (id,) in self._connection.execute(self._muscles_of, (row[0],))],
            "moves": [[movement, *starts] for movement, starts in moves.items()],
            "page": page,
            "media": make_relative(find_address(row[8], row[11]), folder),
        }


def make_relative(address: str, folder: Path) -> str:
    """An address of the web as it is; a file of this machine as seen from the site, so that no folder is told."""
    if not address.startswith("file:"):
        return address.partition("#")[0]
    path = unquote(urlsplit(address).path)
    return quote(Path(os.path.relpath(path, os.path.abspath(folder))).as_posix())  # noqa: PTH100


def _read_classes(connection: sqlite3.Connection) -> Iterator[tuple[Any, ...]]:
    yield from connection.execute(
        "SELECT class.id, location, title, instructor, date, status, duration_ms, sets, media, kit_need_id, "
        "document.routine, CASE transcript WHEN '' THEN class.routine ELSE transcript END "
        "FROM class JOIN document ON class_id = class.id ORDER BY date DESC, location"
    )


def _tell_about(one: dict[str, Any]) -> str:
    return ", ".join(" or ".join(choice) for choice in one["kit"]) or "no kit"


def _count(number: int, one: str, several: str = "") -> str:
    return f"{number:,} {one if number == 1 else several or one + 's'}"


def _tell_day(day: str) -> str:
    if not day:
        return "no date"
    found = date.fromisoformat(day)
    return f"{found.day} {MONTHS[found.month - 1]} {found.year}"


def _hash(text: str) -> str:
    """As Content Security Policy Level 3 (W3C) names an inline script or style that is allowed."""
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode("utf-8")).digest()).decode("ascii")


@cache
def _load(name: str) -> str:
    return resources.files("setdown.catalogue").joinpath("templates", name).read_text(encoding="utf-8")


@cache
def _template(name: str) -> Any:
    environment = Environment(autoescape=True, undefined=StrictUndefined, keep_trailing_newline=True)
    return environment.from_string(_load(name))
