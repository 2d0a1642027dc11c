"""Add, delete, split, join and move sets."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from typing import Any, Literal

from setdown.lexicon import Lexicon
from setdown.model.routine import Coaching, Evidence, Group, Mark, Query, Routine, Section, Set
from setdown.model.timecode import format_clock
from setdown.review.cells import is_nothing, parse_section
from setdown.review.edit_values import (
    EDITABLE,
    NEW_GROUP,
    PLACE_FIELDS,
    change_cells,
    read_cells,
    read_exercise,
    set_arrangement,
    set_group,
    set_section,
)
from setdown.review.place import (
    Placed,
    find_placed,
    list_ids,
    list_placed,
    make_group,
    make_id,
    make_section,
    put_together,
)
from setdown.review.refused import EditRefusedError
from setdown.review.settle import rebuild, settle_edit


def add_set(routine: Routine, cells: Mapping[str, str], mark: Mark, lexicon: Lexicon) -> Routine:
    """The routine with one more set, from the cells of its row: ``exercise``, ``start`` and ``end`` at least.

    Without ``group`` and ``section`` it joins the group in whose time it lies, or else gets one of its own.

    Raises:
        EditRefusedError: a cell is missing or will not do, or the set does not fit between the others.
    """
    changed, set_id = insert_set(routine, cells, mark, lexicon)
    return settle_edit(routine, changed, set=set_id)


def insert_set(routine: Routine, cells: Mapping[str, str], mark: Mark, lexicon: Lexicon) -> tuple[Routine, str]:
    """As ``add_set``, with the new set's id, but whether the routine is still right is not looked at."""
    for field in ("exercise", "start", "end"):
        if is_nothing(cells.get(field, "")):
            raise EditRefusedError(f"a new set needs {field}", field=field, expected="exercise, start and end")
    for field in cells:
        if field not in EDITABLE:
            raise EditRefusedError(f"{field!r} cannot be edited", field=field, expected=", ".join(EDITABLE))
    exercise = read_exercise(cells["exercise"], "", lexicon)
    blank = Set(id="new", exercise=exercise, start=0, end=0)
    given = {k: v for k, v in cells.items() if k not in PLACE_FIELDS and not is_nothing(v)}
    values = read_cells(given, blank, routine, lexicon)
    name = exercise.id or "set"
    digest = hashlib.sha256(f"{exercise.name}|{values['start']}|{values.get('side')}".encode()).hexdigest()[:8]
    fields = ["exercise", *(f for f in values if f != "exercise"), *(["basis"] if "load" in values else [])]
    one = rebuild(
        blank,
        values
        | {
            "id": make_id(f"{name}-{digest}", list_ids(routine)),
            "origin": dict.fromkeys(fields, "edited"),
            "confidence": dict.fromkeys(fields, 1.0),
            "edited": {"set": mark} | dict.fromkeys((f for f in fields if f != "basis"), mark),
        },
    )
    placed = list_placed(routine)
    section, group = _find_home(routine, placed, one, cells)
    changed = put_together(routine, [*placed, Placed(one, section, group)])
    if not is_nothing(cells.get("section", "")):
        changed = set_section(changed, one.id, cells["section"], mark)
    if not is_nothing(cells.get("group", "")):
        changed = set_group(changed, one.id, cells["group"], mark)
    if not is_nothing(cells.get("arrangement", "")):
        changed = set_arrangement(changed, one.id, cells["arrangement"], mark)
    return changed, one.id


def delete_set(routine: Routine, set_id: str, mark: Mark) -> Routine:
    """The routine without the set and the queries about it. Who deleted it is in the edit log."""
    return settle_edit(routine, remove_set(routine, set_id), set=set_id)


def remove_set(routine: Routine, set_id: str) -> Routine:
    """As ``delete_set``, but whether the routine is still right is not looked at."""
    find_placed(routine, set_id)
    changed = put_together(routine, [p for p in list_placed(routine) if p.one.id != set_id])
    return changed.model_copy(update={"queries": [q for q in routine.queries if q.set != set_id]})


def split_set(routine: Routine, set_id: str, at: float, mark: Mark) -> Routine:
    """Two sets out of one, at a time in seconds. Both keep the values; what was said goes to the half it was said in.

    Raises:
        EditRefusedError: the time is not inside the set.
    """
    position, own = find_placed(routine, set_id)
    one = own.one
    at = round(at, 3)
    if not one.start < at < one.end:
        expected = f"a time between {format_clock(round(one.start * 1000))} and {format_clock(round(one.end * 1000))}"
        raise EditRefusedError(
            "the time is not inside the set", field="at", value=f"{at:g}", set=set_id, expected=expected
        )
    second_id = make_id(f"{one.exercise.id or 'set'}-{_digest(one.id, at)}", list_ids(routine))
    first = rebuild(one, _keep_half(one, lambda time: time < at, mark) | {"end": at, "rest_after_s": 0.0})
    second = rebuild(one, _keep_half(one, lambda time: time >= at, mark) | {"id": second_id, "start": at})
    first = first.model_copy(update={"edited": one.edited | {"end": mark}})
    second = second.model_copy(update={"edited": one.edited | {"set": mark, "start": mark}})
    placed = list_placed(routine)
    placed[position : position + 1] = [Placed(first, own.section, own.group), Placed(second, own.section, own.group)]
    return settle_edit(routine, put_together(routine, placed), set=set_id)


def join_sets(routine: Routine, first_id: str, second_id: str, mark: Mark) -> Routine:
    """One set out of two neighbours: the values are the first one's, and the second's where that had none.

    Raises:
        EditRefusedError: they are not neighbours in time.
    """
    placed = list_placed(routine)
    positions = sorted((find_placed(routine, first_id)[0], find_placed(routine, second_id)[0]))
    if positions[1] - positions[0] != 1:
        problem = "only two sets that follow each other can be joined"
        raise EditRefusedError(problem, field="set", value=second_id, set=first_id)
    a, b = placed[positions[0]].one, placed[positions[1]].one
    changes: dict[str, Any] = {"end": max(a.end, b.end), "margin_s": max(a.margin_s, b.margin_s)}
    origin, confidence, edited = dict(a.origin), dict(a.confidence), b.edited | a.edited
    for field in ("side", "reps", "work_s", "load", "tempo", "effort", "finisher", "counted"):
        if getattr(a, field) is None and getattr(b, field) is not None:
            changes[field] = getattr(b, field)
            for name in (field, *(["basis"] if field == "load" else [])):
                origin |= {name: b.origin[name]} if name in b.origin else {}
                confidence |= {name: b.confidence[name]} if name in b.confidence else {}
    edited = {k: m for k, m in edited.items() if k in a.edited or k in changes}
    changes |= {
        "coaching": [*a.coaching, *b.coaching],
        "evidence": {f: [*a.evidence.get(f, []), *b.evidence.get(f, [])] for f in {**a.evidence, **b.evidence}},
        "origin": origin | {"end": "edited"},
        "confidence": confidence | {"end": 1.0},
        "edited": edited | {"end": mark},
        "rest_after_s": b.rest_after_s,
    }
    joined = rebuild(a, changes, set=a.id)
    placed[positions[0] : positions[1] + 1] = [Placed(joined, *_place_of(placed[positions[0]]))]
    changed = put_together(routine, placed)
    return settle_edit(
        routine, changed.model_copy(update={"queries": _turn_queries(routine, b.id, a.id)}), set=first_id
    )


def move_set(routine: Routine, set_id: str, group: str, mark: Mark) -> Routine:
    """Put a set into another group (its number in the class or its id), or into ``new``, one of its own.

    Raises:
        EditRefusedError: no such group, or the set would stand between sets of another group.
    """
    return settle_edit(routine, set_group(routine, set_id, group, mark), field="group", value=group, set=set_id)


def shift_set(routine: Routine, set_id: str, direction: Literal["earlier", "later"], mark: Mark) -> Routine:
    """Let a set change places with its neighbour: the spans of time stay, what was done in them is exchanged.

    Raises:
        EditRefusedError: there is no neighbour on that side.
    """
    placed = list_placed(routine)
    at, _ = find_placed(routine, set_id)
    low, high = (at - 1, at) if direction == "earlier" else (at, at + 1)
    if low < 0 or high >= len(placed):
        end = "first" if low < 0 else "last"
        problem = f"the set is the {end} of the class"
        raise EditRefusedError(problem, field="order", value=direction, set=set_id)
    a, b = placed[low], placed[high]
    placed[low] = Placed(_take_span(b.one, a.one, mark), *_place_of(a))
    placed[high] = Placed(_take_span(a.one, b.one, mark), *_place_of(b))
    return settle_edit(routine, put_together(routine, placed), field="order", value=direction, set=set_id)


def _place_of(placed: Placed) -> tuple[Section, Group]:
    return placed.section, placed.group


def _digest(text: str, at: float) -> str:
    return hashlib.sha256(f"{text}|{at}".encode()).hexdigest()[:8]


def _take_span(one: Set, of: Set, mark: Mark) -> Set:
    finisher = one.finisher.model_copy(update={"start": None, "end": None}) if one.finisher else None
    keys = ("start", "end")
    changes: dict[str, Any] = {"start": of.start, "end": of.end, "margin_s": of.margin_s, "finisher": finisher}
    changes |= {"rest_after_s": of.rest_after_s, "origin": one.origin | dict.fromkeys(keys, "edited")}
    changes |= {"confidence": one.confidence | dict.fromkeys(keys, 1.0)}
    return rebuild(one, changes | {"edited": one.edited | dict.fromkeys(keys, mark)}, set=one.id)


def _keep_half(one: Set, inside: Callable[[float], bool], mark: Mark) -> dict[str, Any]:
    """Coaching and finisher of one half of a set; words said before the set (its name) stay with both halves."""

    def keep(pieces: list[Evidence]) -> list[Evidence]:
        return [e for e in pieces if inside(e.at) or not one.start <= e.at <= one.end] or pieces

    coaching: list[Coaching] = [c for c in one.coaching if inside(min(max(c.evidence.at, one.start), one.end))]
    finisher = one.finisher
    if finisher is not None:
        begins = finisher.start if finisher.start is not None else one.end
        stays = inside(begins)
        ends_here = finisher.end is None or inside(finisher.end)
        timeless = finisher.model_copy(update={"start": None, "end": None})
        finisher = None if not stays else finisher if ends_here else timeless
    key = "end" if inside(one.start) else "start"
    origin = one.origin | {key: "edited"}
    if finisher is None:
        origin.pop("finisher", None)
    return {
        "coaching": coaching,
        "finisher": finisher,
        "counted": None,
        "evidence": {f: keep(pieces) for f, pieces in one.evidence.items()},
        "origin": origin,
        "confidence": one.confidence | {key: 1.0},
    }


def _turn_queries(routine: Routine, gone: str, kept: str) -> list[Query]:
    """Queries about a set that was joined into another are about that one now; the same question is asked once."""
    asked = {(q.code, q.field) for q in routine.queries if q.set == kept}
    found = []
    for query in routine.queries:
        if query.set == gone:
            if (query.code, query.field) in asked:
                continue
            query = query.model_copy(update={"set": kept})
        found.append(query)
    return found


def _find_home(routine: Routine, placed: list[Placed], one: Set, cells: Mapping[str, str]) -> tuple[Section, Group]:
    """Section and group for a new set: those around it, or a new group in the section that it lies in."""
    before = next((p for p in reversed(placed) if p.one.start <= one.start), None)
    after = next((p for p in placed if p.one.start > one.start), None)
    if before and after and before.group.id == after.group.id:
        return _place_of(before)
    fresh = make_group(routine)
    beside = [p.section for p in (before, after) if p]
    if beside:
        wanted = cells.get("section", "")
        kind = None if is_nothing(wanted) else parse_section(wanted)
        inside = [s for s in beside if s.kind == kind] or [s for s in beside if s.start <= one.start < s.end]
        return (inside or beside)[0], fresh
    kind = parse_section(cells["section"]) if not is_nothing(cells.get("section", "")) else "main"
    return make_section(routine, kind, one), fresh


__all__ = [
    "NEW_GROUP",
    "add_set",
    "change_cells",
    "delete_set",
    "insert_set",
    "join_sets",
    "move_set",
    "remove_set",
    "shift_set",
    "split_set",
]
