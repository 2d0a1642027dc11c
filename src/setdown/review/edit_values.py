"""Change values of one set, from what was typed into the cells of its row."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from setdown.lexicon import Lexicon
from setdown.model.routine import Exercise, Group, Load, Mark, Query, Routine, Section, Set
from setdown.review.cell_load import find_usual_unit, parse_basis, parse_load, parse_rel, parse_unit
from setdown.review.cells import (
    is_nothing,
    parse_arrangement,
    parse_count,
    parse_finisher,
    parse_reps,
    parse_seconds,
    parse_section,
    parse_side,
    parse_text,
)
from setdown.review.place import Placed, find_placed, list_placed, make_group, make_section, put_together, swap_set
from setdown.review.refused import EditRefusedError
from setdown.review.settle import rebuild, settle_edit

LOAD_CELLS = ("load", "unit", "basis", "rel")
COUNT_FIELDS = ("round", "side", "reps", "counted", "work_s")
VALUE_FIELDS = ("exercise", *COUNT_FIELDS, *LOAD_CELLS, "tempo", "effort", "finisher", "rest_after_s", "start", "end")
PLACE_FIELDS = ("section", "group", "arrangement")
EDITABLE = VALUE_FIELDS + PLACE_FIELDS  # what a cell may be of
NEW_GROUP = "new"


def set_field(
    routine: Routine, set_id: str, field: str, text: str, mark: Mark, lexicon: Lexicon, *, confirm: bool = False
) -> Routine:
    """The routine with one cell of a set's row as typed; ``field`` is one of ``EDITABLE``.

    The value gets the origin ``edited`` and ``mark``, open queries about it are settled. What was typed and is the
    value already changes nothing, unless ``confirm`` says that a person vouches for it.

    Raises:
        EditRefusedError: no such set or field, not a value of the field, or one that makes the routine wrong.
    """
    return set_fields(routine, set_id, {field: text}, mark, lexicon, confirm=confirm)


def set_fields(
    routine: Routine, set_id: str, cells: Mapping[str, str], mark: Mark, lexicon: Lexicon, *, confirm: bool = False
) -> Routine:
    """The same for several cells of one row at once (``start`` and ``end``, ``load`` and ``unit``). Raises likewise."""
    changed = change_cells(routine, set_id, cells, mark, lexicon, confirm=confirm)
    if changed is routine:
        return routine
    field, value = next(iter(cells.items()))
    return settle_edit(routine, changed, field=field, value=value, set=set_id)


def change_cells(
    routine: Routine, set_id: str, cells: Mapping[str, str], mark: Mark, lexicon: Lexicon, *, confirm: bool = False
) -> Routine:
    """As ``set_fields``, but whether the routine is still right is not looked at: for several rows at once."""
    _, placed = find_placed(routine, set_id)
    for field in cells:
        if field not in EDITABLE:
            raise EditRefusedError(f"{field!r} cannot be edited", field=field, set=set_id, expected=", ".join(EDITABLE))
    try:
        values = read_cells({k: v for k, v in cells.items() if k in VALUE_FIELDS}, placed.one, routine, lexicon)
        one = put_values(placed.one, values, mark, confirm=confirm)
        changed = routine
        if one is not placed.one:
            changed = put_together(routine, _land(swap_set(list_placed(routine), one), one))
            changed = settle_queries(changed, one.id, find_edited(placed.one, one, mark), cells, mark)
        for field in PLACE_FIELDS:
            if field in cells:
                changed = PLACERS[field](changed, set_id, cells[field], mark)
    except EditRefusedError as error:
        error.set = error.set or set_id
        raise
    return changed


def read_cells(cells: Mapping[str, str], one: Set, routine: Routine, lexicon: Lexicon) -> dict[str, Any]:
    """Typed cells as values of a set, by field of the set."""
    values: dict[str, Any] = {}
    for field, text in cells.items():
        if field not in LOAD_CELLS:
            values[field] = READERS[field](text, one, lexicon)
    if any(cell in cells for cell in LOAD_CELLS):
        values["load"] = _read_load(cells, one, routine)
    return values


def put_values(one: Set, values: Mapping[str, Any], mark: Mark, *, confirm: bool = False) -> Set:
    """A set with values that a person decided; ``one`` itself when none of them is new."""
    edited = {field: value for field, value in values.items() if confirm or getattr(one, field) != value}
    if not edited:
        return one
    names = list(edited)
    if "load" in edited:
        names.append("basis")
    return rebuild(
        one,
        edited
        | {
            "origin": one.origin | dict.fromkeys(names, "edited"),
            "confidence": one.confidence | dict.fromkeys(names, 1.0),
            "edited": one.edited | dict.fromkeys(edited, mark),
        },
        set=one.id,
    )


def find_edited(before: Set, after: Set, mark: Mark) -> list[str]:
    """Fields that ``mark`` was put on."""
    return [f for f, made in after.edited.items() if made is mark or before.edited.get(f) != made]


def settle_queries(routine: Routine, set_id: str, fields: list[str], cells: Mapping[str, str], mark: Mark) -> Routine:
    """Open queries about these fields of a set become accepted: the answer has been given."""

    def settle(query: Query) -> Query:
        field = query.field.split(".")[0]
        if query.set != set_id or query.state != "open" or field not in fields:
            return query
        if field == "round" and query.code == "rounds-differ":  # that one asks about the group
            return query
        answer = " ".join(cells[c] for c in (LOAD_CELLS if field == "load" else (field,)) if cells.get(c))
        return query.model_copy(update={"state": "accepted", "answer": answer.strip(), "settled": mark})

    return routine.model_copy(update={"queries": [settle(q) for q in routine.queries]})


def read_exercise(text: str, said: str, lexicon: Lexicon) -> Exercise:
    """A movement by the lexicon's name or id; a name that the lexicon does not know is kept as it is typed."""
    name = " ".join(text.split())
    if is_nothing(name) or not name.isprintable() or len(name) > 200:
        expected = "the name of a movement, at most 200 characters"
        raise EditRefusedError(f"exercise is {text!r}", field="exercise", value=text, expected=expected)
    known = lexicon.look_up(name) or lexicon.look_up(name.lower())
    return Exercise(id=known.id, name=known.name, said=said) if known else Exercise(id="", name=name, said=said)


def _read_exercise(text: str, one: Set, lexicon: Lexicon) -> Exercise:
    return one.exercise if text == one.exercise.name else read_exercise(text, one.exercise.said, lexicon)


def _read_optional_seconds(field: str) -> Callable[[str, Set, Lexicon], float | None]:
    return lambda text, one, lexicon: None if is_nothing(text) else parse_seconds(text, field)


def _read_counted(text: str, one: Set, lexicon: Lexicon) -> int | None:
    return None if is_nothing(text) else parse_count(text, "counted", 0, 1000)


READERS: dict[str, Callable[[str, Set, Lexicon], Any]] = {
    "exercise": _read_exercise,
    "round": lambda text, one, lexicon: parse_count(text, "round", 1, 200),
    "side": lambda text, one, lexicon: parse_side(text),
    "reps": lambda text, one, lexicon: parse_reps(text),
    "counted": _read_counted,
    "work_s": _read_optional_seconds("work_s"),
    "tempo": lambda text, one, lexicon: parse_text(text, "tempo"),
    "effort": lambda text, one, lexicon: parse_text(text, "effort"),
    "finisher": lambda text, one, lexicon: parse_finisher(text, one.finisher),
    "rest_after_s": _read_optional_seconds("rest_after_s"),
    "start": lambda text, one, lexicon: parse_seconds(text, "start"),
    "end": lambda text, one, lexicon: parse_seconds(text, "end"),
}


def _read_load(cells: Mapping[str, str], one: Set, routine: Routine) -> Load | None:
    load = parse_load(cells["load"], one.load, find_usual_unit(routine)) if "load" in cells else one.load
    parts: dict[str, Any] = {}
    if "unit" in cells:
        parts["unit"] = parse_unit(cells["unit"])
    if "basis" in cells:
        parts["basis"] = parse_basis(cells["basis"])
    if "rel" in cells:
        parts["rel"] = parse_rel(cells["rel"])
    if load is None:
        given = [name for name, value in parts.items() if value is not None and name != "rel"]
        if given:
            problem = f"there is no load to give a {given[0]} to"
            raise EditRefusedError(problem, field=given[0], value=cells[given[0]], expected="a load as well")
        return Load(rel=parts["rel"]) if parts.get("rel") else None
    load = rebuild(load, parts)
    if load.value is None and load.rel is None:
        return None
    if load.value is None and (load.unit or load.basis):
        load = Load(rel=load.rel)
    return load


def _land(placed: list[Placed], one: Set) -> list[Placed]:
    """The places after a set was moved in time: among the sets of another group it becomes one of them."""
    ordered = sorted(placed, key=lambda p: p.one.start)
    at = next(k for k, p in enumerate(ordered) if p.one.id == one.id)
    before = ordered[at - 1] if at else None
    after = ordered[at + 1] if at + 1 < len(ordered) else None
    beside = {p.group.id for p in (before, after) if p}
    alone = sum(p.group.id == ordered[at].group.id for p in ordered) == 1
    if before and after and before.group.id == after.group.id:
        ordered[at] = Placed(one, before.section, before.group)
    elif ordered[at].group.id not in beside and not alone:
        home = before or after
        assert home is not None
        ordered[at] = Placed(one, home.section, home.group)
    elif alone and before and after and before.section.id == after.section.id:
        ordered[at] = Placed(one, before.section, ordered[at].group)
    return ordered


def set_section(routine: Routine, set_id: str, text: str, mark: Mark) -> Routine:
    """Put a set into the section of this kind beside it, or into a new one. It leaves its group with other sets."""
    kind = parse_section(text)
    placed = list_placed(routine)
    at, own = find_placed(routine, set_id)
    if own.section.kind == kind:
        return routine
    beside = [placed[k].section for k in (at - 1, at + 1) if 0 <= k < len(placed)]
    section = next((s for s in beside if s.kind == kind), None)
    if section is None:
        bare = [s for s in routine.sections if s.kind == kind and not any(g.sets for g in s.groups)]
        near = [s for s in bare if s.start <= own.one.end and own.one.start <= s.end]
        section = near[0] if near else make_section(routine, kind, own.one)
    alone = sum(p.group.id == own.group.id for p in placed) == 1
    group = own.group if alone else make_group(routine, own.group)
    placed[at] = Placed(_mark_place(own.one, "section", mark), section, group)
    return put_together(routine, placed)


def set_group(routine: Routine, set_id: str, text: str, mark: Mark) -> Routine:
    """Put a set into a group: by its number in the class or its id; ``new`` gives it one of its own.

    A group that loses a set from its middle to ``new`` becomes two.
    """
    placed = list_placed(routine)
    at, own = find_placed(routine, set_id)
    groups = [(s, g) for s in routine.sections for g in s.groups]
    asked = text.strip().lower()
    if asked == NEW_GROUP:
        members = [k for k, p in enumerate(placed) if p.group.id == own.group.id]
        if len(members) == 1:
            return routine
        fresh = make_group(routine, own.group)
        placed[at] = Placed(_mark_place(own.one, "group", mark), own.section, fresh)
        if members[0] < at < members[-1]:
            rest = make_group(routine, own.group, also=[fresh.id])
            for k in members:
                if k > at:
                    placed[k] = Placed(placed[k].one, placed[k].section, rest)
        return put_together(routine, placed)
    found = [(s, g) for number, (s, g) in enumerate(groups, 1) if text.strip() == g.id or asked == str(number)]
    if not found:
        expected = f"a group from 1 to {len(groups)}, or {NEW_GROUP}"
        raise EditRefusedError(f"group is {text!r}", field="group", value=text, set=set_id, expected=expected)
    section, group = found[0]
    if group.id == own.group.id:
        return routine
    placed[at] = Placed(_mark_place(own.one, "group", mark), section, group)
    return put_together(routine, placed)


def set_arrangement(routine: Routine, set_id: str, text: str, mark: Mark) -> Routine:
    """Change the arrangement of a set's group."""
    _, own = find_placed(routine, set_id)
    return change_group(routine, own.group.id, {"arrangement": text}, mark)


def change_group(routine: Routine, group_id: str, cells: Mapping[str, str], mark: Mark) -> Routine:
    """Change ``arrangement``, ``rounds`` or ``rest_s`` of a group, as typed.

    Raises:
        EditRefusedError: no such group or field, not a value of the field, or fewer rounds than its sets count to.
    """
    found = [g for s in routine.sections for g in s.groups if g.id == group_id]
    if not found:
        raise EditRefusedError(f"there is no group {group_id!r}", field="group", value=group_id)
    group = found[0]
    values: dict[str, Any] = {}
    for field, text in cells.items():
        if field == "arrangement":
            values[field] = parse_arrangement(text)
        elif field == "rounds":
            highest = max((one.round for one in group.sets), default=1)
            values[field] = parse_count(text, field, highest, 200)
        elif field == "rest_s":
            values[field] = None if is_nothing(text) else parse_seconds(text, field)
        else:
            problem = f"{field!r} of a group cannot be edited"
            raise EditRefusedError(problem, field=field, expected="arrangement, rounds, rest_s")
    values = {field: value for field, value in values.items() if getattr(group, field) != value}
    if not values:
        return routine
    changed = rebuild(group, values | {"edited": group.edited | dict.fromkeys(values, mark)})

    def swap(section: Section) -> Section:
        groups: list[Group] = [changed if g.id == group_id else g for g in section.groups]
        return section.model_copy(update={"groups": groups})

    return routine.model_copy(update={"sections": [swap(s) for s in routine.sections]})


def _mark_place(one: Set, field: str, mark: Mark) -> Set:
    return one.model_copy(update={"edited": one.edited | {field: mark}})


PLACERS: dict[str, Callable[[Routine, str, str, Mark], Routine]] = {
    "section": set_section,
    "group": set_group,
    "arrangement": set_arrangement,
}
