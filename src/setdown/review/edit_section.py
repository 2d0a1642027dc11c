"""Change a section itself: what part of the class it is, and from when to when it lasts."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from setdown.model.routine import Routine, Section
from setdown.review.cells import parse_seconds, parse_section
from setdown.review.refused import EditRefusedError
from setdown.review.settle import rebuild, settle_edit


def change_section(routine: Routine, section_id: str, cells: Mapping[str, str]) -> Routine:
    """Change ``kind``, ``start`` or ``end`` of a section, as typed. A neighbour that begins or ends there moves along.

    Raises:
        EditRefusedError: no such section or field, not a value of the field, or times that leave sets outside.
    """
    at = next((n for n, s in enumerate(routine.sections) if s.id == section_id), None)
    if at is None:
        raise EditRefusedError(f"there is no section {section_id!r}", field="section", value=section_id)
    sections = list(routine.sections)
    old = sections[at]
    for field, text in cells.items():
        if field == "kind":
            sections[at] = rebuild(sections[at], {"kind": parse_section(text)}, value=text)
        elif field in ("start", "end"):
            seconds = parse_seconds(text, field)
            _refuse_sets_outside(old, field, seconds, text)
            sections[at] = rebuild(sections[at], {field: seconds}, value=text)
            _move_neighbour(sections, at, old, field, seconds, text)
        else:
            raise EditRefusedError(f"{field!r} of a section cannot be edited", field=field, expected="kind, start, end")
    if sections == routine.sections:
        return routine
    field, text = next(iter(cells.items()))
    return settle_edit(routine, routine.model_copy(update={"sections": sections}), field=field, value=text)


def _refuse_sets_outside(section: Section, field: str, seconds: float, text: str) -> None:
    sets = [one for group in section.groups for one in group.sets]
    outside = [one for one in sets if (one.start < seconds if field == "start" else one.end > seconds)]
    if outside:
        problem = f"{outside[0].exercise.name} would be outside its section"
        raise EditRefusedError(problem, field=field, value=text, hint="Move the set to another section first")


def _move_neighbour(sections: list[Section], at: int, old: Section, field: str, seconds: float, text: str) -> None:
    beside = at - 1 if field == "start" else at + 1
    if not 0 <= beside < len(sections):
        return
    other, touches = sections[beside], "end" if field == "start" else "start"
    if getattr(other, touches) != getattr(old, field):
        return
    _refuse_sets_outside(other, touches, seconds, text)
    changes: dict[str, Any] = {touches: seconds}
    if (touches == "end" and seconds < other.start) or (touches == "start" and seconds > other.end):
        problem = "nothing would be left of the section beside it"
        raise EditRefusedError(problem, field=field, value=text)
    sections[beside] = rebuild(other, changes, value=text)
