"""Differences as a page that needs nothing else: no script, no other file, and a policy that lets nothing in."""

from __future__ import annotations

import base64
import hashlib
from dataclasses import dataclass
from importlib import resources

from jinja2 import Environment, StrictUndefined
from markupsafe import Markup

from setdown.model.routine import Group, Routine, Section, Set
from setdown.model.timecode import format_clock
from setdown.review.compare import show_cells
from setdown.review.difference import RoutineDifference, SetDifference
from setdown.review.wording import describe_difference

HEADINGS = {
    "exercise": "Movement",
    "start": "From",
    "end": "To",
    "round": "Round",
    "side": "Side",
    "reps": "Reps",
    "work_s": "Seconds",
    "load": "Load",
    "finisher": "Finisher",
    "tempo": "Tempo",
    "section": "Section",
    "group": "Group",
}
NUMBERS = frozenset({"start", "end", "round", "reps", "work_s", "group"})


@dataclass(frozen=True, slots=True)
class Cell:
    field: str
    before: str
    after: str
    changed: bool


@dataclass(frozen=True, slots=True)
class Row:
    """One set; ``fate`` is empty for one that is the same in both."""

    number: str
    fate: str
    at: float
    cells: tuple[Cell, ...]


def render_difference(found: RoutineDifference, old: Routine, new: Routine, *, names: tuple[str, str]) -> str:
    """The page, as HTML. ``names`` are those of the two files."""
    style = _read("difference.css")
    rows = [] if found.same else _list_rows(found, old, new)
    fields = [f for n, f in enumerate(HEADINGS) if any(row.cells[n].before or row.cells[n].after for row in rows)]
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True)
    return environment.from_string(_read("difference.html")).render(
        found=found,
        title=found.new_title or found.old_title or names[1],
        old_name=names[0],
        new_name=names[1],
        old_sets=len(old.iter_sets()),
        new_sets=len(new.iter_sets()),
        lines=describe_difference(found),
        headings={field: HEADINGS[field] for field in fields},
        numbers=NUMBERS,
        rows=rows,
        style=Markup(style),  # ours, not the class's
        style_hash=f"sha256-{digest}",
    )


def _read(name: str) -> str:
    return resources.files("setdown.review").joinpath("templates", name).read_text(encoding="utf-8")


def _list_rows(found: RoutineDifference, old: Routine, new: Routine) -> list[Row]:
    changed = {d.new_number: d for d in found.sets if d.new_number is not None}
    gone = {d.old_number: d for d in found.sets if d.fate == "removed"}
    rows = [_make_row(n, *place, new, changed.get(n)) for n, place in enumerate(new.iter_sets(), 1)]
    rows += [_make_row(n, *place, old, gone[n]) for n, place in enumerate(old.iter_sets(), 1) if n in gone]
    return sorted(rows, key=lambda row: row.at)


def _make_row(
    number: int, section: Section, group: Group, one: Set, routine: Routine, told: SetDifference | None
) -> Row:
    groups = [g.id for s in routine.sections for g in s.groups]
    cells = show_cells(section, one) | {"group": str(groups.index(group.id) + 1)}
    changes = {c.field: c.before for c in told.changes} if told and told.fate == "changed" else {}
    fate = told.fate if told else ""
    label = str(number) if fate != "removed" else f"was {number}"
    shown = tuple(
        Cell(field, _show(field, changes.get(field, "")), _show(field, cells[field]), field in changes)
        for field in HEADINGS
    )
    return Row(label, fate, one.start, shown)


def _show(field: str, text: str) -> str:
    if field in ("start", "end") and text:
        return format_clock(round(float(text) * 1000))
    return text.replace("_", " ") if field == "section" else text
