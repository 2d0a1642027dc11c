"""Sections and groups as the rows of a sheet say: a kind of section, a number of a group, an arrangement."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from setdown.model.routine import Group, Mark, Routine, Section
from setdown.review.cells import is_nothing, parse_arrangement, parse_section
from setdown.review.place import Placed, list_placed, make_group, make_section, put_together
from setdown.review.refused import EditRefusedError
from setdown.review.sheet_cells import SheetRow


@dataclass(frozen=True, slots=True)
class RowPlace:
    """The place that a row gives to a set; ``known`` is false for a new set."""

    set_id: str
    cells: dict[str, str]
    row: SheetRow
    known: bool


def place_rows(original: Routine, routine: Routine, places: Sequence[RowPlace], mark: Mark) -> Routine:
    """The routine with every set where its row puts it; numbers of groups are those of ``original``.

    A number that no group had is a new group. A new set without a number stays where it is.

    Raises:
        EditRefusedError: a cell will not do, rows of one group differ in arrangement, or the rows of a group or section
            do not follow each other.
    """
    numbered = {str(n): g for n, g in enumerate((g for s in original.sections for g in s.groups), 1)}
    by_id = {p.set_id: p for p in places}
    placed = list_placed(routine)
    groups: dict[tuple[str, str], Group] = {}
    sections: list[tuple[str, Section]] = []
    result: list[Placed] = []
    arranged: dict[str, str] = {}
    for at, old in enumerate(placed):
        place = by_id[old.one.id]
        try:
            kind = old.section.kind if is_nothing(place.cells["section"]) else parse_section(place.cells["section"])
            section = _find_section(routine, placed, at, kind, sections)
            number = _read_group(place.cells["group"]) if place.cells["group"] else ""
            group = _find_group(routine, number, section, old, numbered, groups)
            group = _arrange(group, place, arranged, mark)
        except EditRefusedError as error:
            error.set = error.set or place.set_id
            raise
        groups[section.id, number or old.group.id] = group
        moved = {"section": section.kind != old.section.kind, "group": group.id != old.group.id and place.known}
        marks = {field: mark for field, is_so in moved.items() if is_so}
        one = old.one.model_copy(update={"edited": old.one.edited | marks}) if marks else old.one
        result.append(Placed(one, section, group))
    latest = {g.id: g for g in groups.values()}
    return put_together(routine, [Placed(p.one, p.section, latest[p.group.id]) for p in result])


def _read_group(text: str) -> str:
    number = text.strip()
    if number.replace(".0", "").isdigit():
        return str(int(float(number)))
    raise EditRefusedError(f"group is {text!r}", field="group", value=text, expected="a whole number, as in the sheet")


def _find_section(
    routine: Routine, placed: Sequence[Placed], at: int, kind: str, sections: list[tuple[str, Section]]
) -> Section:
    """The section for a set: its own, the one of the set before, or that of the next set of this kind."""
    own = placed[at]
    if sections and sections[-1][0] == kind and (own.section.kind != kind or own.section.id == sections[-1][1].id):
        return sections[-1][1]
    used = {s.id for _, s in sections}
    following = [p.section for p in placed[at:] if p.section.kind == kind and p.section.id not in used]
    if own.section.kind == kind and own.section.id not in used:
        found = own.section
    elif following:
        found = following[0]
    else:
        widened = routine.model_copy(update={"sections": [*routine.sections, *(s for _, s in sections)]})
        found = make_section(widened, parse_section(kind), own.one)
    sections.append((kind, found))
    return found


def _find_group(
    routine: Routine,
    number: str,
    section: Section,
    old: Placed,
    numbered: dict[str, Group],
    groups: dict[tuple[str, str], Group],
) -> Group:
    if not number:
        return next((g for g in groups.values() if g.id == old.group.id), old.group)
    if (section.id, number) in groups:
        return groups[section.id, number]
    taken = {g.id for g in groups.values()}
    known = numbered.get(number)
    if known is not None and known.id != old.group.id:
        home = next((s for s in routine.sections if any(g.id == known.id for g in s.groups)), section)
        there = {key[0] for key in groups if key[1] == number} or {home.id}
        if section.id not in there:
            problem = f"group {number} is in the {home.kind} section, this set in the {section.kind}"
            hint = "A group is in one section: give its rows the same"
            raise EditRefusedError(problem, field="group", value=number, hint=hint)
    if known is not None and known.id not in taken:
        return next((g for s in routine.sections for g in s.groups if g.id == known.id), known)
    return make_group(routine, old.group, also=[*taken, *(g.id for g in numbered.values())])


def _arrange(group: Group, place: RowPlace, arranged: dict[str, str], mark: Mark) -> Group:
    """The group arranged as the row says. Rows of a group say the same, or some keep what it was before."""
    text = place.cells["arrangement"]
    if is_nothing(text):
        return group
    asked = parse_arrangement(text)
    told = arranged.setdefault(group.id, asked)
    if told != asked:
        problem = f"arrangement is {text!r}, but {told!r} in another row of the group"
        hint = "A group has one arrangement: give all its rows the same"
        raise EditRefusedError(problem, field="arrangement", value=text, hint=hint)
    if group.arrangement == asked:
        return group
    return group.model_copy(update={"arrangement": asked, "edited": group.edited | {"arrangement": mark}})
