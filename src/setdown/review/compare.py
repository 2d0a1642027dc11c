"""Compare two routines: which set is which, and what is different about each."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from setdown.model.routine import Group, Query, Routine, Section, Set
from setdown.review.align import align_sets
from setdown.review.assign import assign_pairs
from setdown.review.cell_load import show_load
from setdown.review.difference import (
    FieldChange,
    GroupDifference,
    QueryDifference,
    RoutineDifference,
    SetDifference,
    SetFate,
)
from setdown.review.noise import find_noise
from setdown.sheet import format_number

SLACK_S = 0.05  # times that agree to a tenth of a second are the same


@dataclass(frozen=True, slots=True)
class Side:
    """One of the two routines, with what is looked up in it again and again."""

    routine: Routine
    rows: Sequence[tuple[Section, Group, Set]]
    groups: Sequence[Group]
    numbers: dict[int, int]  # id() of a group -> its number in the class


def compare_routines(old: Routine, new: Routine, *, with_noise: bool = False) -> RoutineDifference:
    """What differs. Noise (ids, confidences, evidence, wording of notes) only when it is asked for."""
    a, b = _take_side(old), _take_side(new)
    pairs = align_sets([x for _, _, x in a.rows], [x for _, _, x in b.rows])
    groups = _pair_groups(a, b, pairs)
    sets = _compare_sets(a, b, pairs, groups)
    found = RoutineDifference(
        old_title=old.title,
        new_title=new.title,
        old_status=old.status,
        new_status=new.status,
        same=True,
        about=_compare_about(old, new),
        sets=sets,
        groups=list(_compare_groups(a, b, groups)),
        queries=_compare_queries(a, b, pairs),
        noise=find_noise(old, new, pairs) if with_noise else [],
    )
    same = not (found.about or found.sets or found.groups or found.queries or found.noise)
    return found.model_copy(update={"same": same})


def show_cells(section: Section, one: Set) -> dict[str, str]:
    """The values of a set as text, by field."""
    return {
        "section": section.kind,
        "exercise": one.exercise.name,
        "round": str(one.round),
        "side": one.side or "",
        "reps": str(one.reps) if one.reps else "",
        "counted": "" if one.counted is None else str(one.counted),
        "work_s": format_number(one.work_s),
        "load": show_load(one.load),
        "tempo": one.tempo or "",
        "effort": one.effort or "",
        "finisher": one.finisher.kind if one.finisher else "",
        "start": format_number(one.start),
        "end": format_number(one.end),
    }


def _take_side(routine: Routine) -> Side:
    groups = [g for s in routine.sections for g in s.groups]
    return Side(routine, routine.iter_sets(), groups, {id(g): n for n, g in enumerate(groups, 1)})


def _compare_sets(a: Side, b: Side, pairs: list[tuple[int, int]], groups: dict[int, int]) -> list[SetDifference]:
    partner = {k: n for n, k in pairs}
    gone = set(range(len(a.rows))) - {n for n, _ in pairs}
    found: list[SetDifference] = [_describe(a, n, "removed", old=n) for n in gone]
    for k, (section, group, one) in enumerate(b.rows):
        if k not in partner:
            found.append(_describe(b, k, "added", new=k))
            continue
        n = partner[k]
        old_section, old_group, old_one = a.rows[n]
        changes = list(_compare_cells(show_cells(old_section, old_one), show_cells(section, one), old_one, one))
        before, after = a.numbers[id(old_group)], b.numbers[id(group)]
        if groups.get(before) != after:
            changes.append(FieldChange(field="group", before=str(before), after=str(after)))
        decided = "edited" in (old_one.origin.get("rest_after_s"), one.origin.get("rest_after_s"))
        if decided and _rest(old_one) != _rest(one):
            changes.append(FieldChange(field="rest_after_s", before=_rest(old_one), after=_rest(one)))
        if changes:
            found.append(_describe(b, k, "changed", old=n, new=k, old_id=old_one.id, changes=changes))
    return sorted(found, key=lambda d: (d.at, d.fate))


def _rest(one: Set) -> str:
    return format_number(one.rest_after_s)


def _compare_cells(old: dict[str, str], new: dict[str, str], a: Set, b: Set) -> Iterator[FieldChange]:
    for field, before in old.items():
        after = new[field]
        if field in ("start", "end"):
            if abs(getattr(a, field) - getattr(b, field)) <= SLACK_S:
                continue
        elif before == after:
            continue
        yield FieldChange(field=field, before=before, after=after)


def _describe(
    side: Side,
    position: int,
    fate: SetFate,
    *,
    old: int | None = None,
    new: int | None = None,
    old_id: str = "",
    changes: list[FieldChange] | None = None,
) -> SetDifference:
    _, group, one = side.rows[position]
    before = side.rows[position - 1][2] if position else None
    return SetDifference(
        fate=fate,
        exercise=one.exercise.name,
        round=one.round,
        rounds=group.rounds,
        side=one.side or "",
        old_number=None if old is None else old + 1,
        new_number=None if new is None else new + 1,
        old_id=old_id or (one.id if new is None else ""),
        new_id=one.id if new is not None else "",
        at=one.start,
        after_s=before.end if before else None,
        changes=changes if changes is not None else _list_values(side, position),
    )


def _list_values(side: Side, position: int) -> list[FieldChange]:
    """The values of a set that is only in one routine, as changes from or to nothing: they are in ``after``."""
    section, group, one = side.rows[position]
    cells = show_cells(section, one) | {"group": str(side.numbers[id(group)])}
    return [FieldChange(field=f, before="", after=text) for f, text in cells.items() if text]


def _pair_groups(a: Side, b: Side, pairs: list[tuple[int, int]]) -> dict[int, int]:
    """Group number in the old routine -> in the new one, so that as many sets as possible stay where they are."""
    shared: Counter[tuple[int, int]] = Counter()
    for n, k in pairs:
        shared[a.numbers[id(a.rows[n][1])], b.numbers[id(b.rows[k][1])]] += 1
    scores = np.zeros((len(a.groups), len(b.groups)))
    for (before, after), count in shared.items():
        # Of two groups that keep as many sets the one with the same id, then the earlier one, goes on.
        likeness = 0.1 * (a.groups[before - 1].id == b.groups[after - 1].id) + 0.01 / after
        scores[before - 1, after - 1] = count + likeness
    return {before + 1: after + 1 for before, after in assign_pairs(scores)}


def _compare_groups(a: Side, b: Side, groups: dict[int, int]) -> Iterator[GroupDifference]:
    for before, after in groups.items():
        old, new = a.groups[before - 1], b.groups[after - 1]
        changes = [
            FieldChange(field=field, before=str(getattr(old, field)), after=str(getattr(new, field)))
            for field in ("arrangement", "rounds")
            if getattr(old, field) != getattr(new, field)
        ]
        if old.rest_s != new.rest_s and ("rest_s" in old.edited or "rest_s" in new.edited):
            texts = (format_number(old.rest_s), format_number(new.rest_s))
            changes.append(FieldChange(field="rest_s", before=texts[0], after=texts[1]))
        if changes:
            yield GroupDifference(old_number=before, new_number=after, changes=changes)


def _compare_about(old: Routine, new: Routine) -> list[FieldChange]:
    return [
        FieldChange(field=field, before=before, after=after)
        for (field, before), (_, after) in zip(_show_about(old), _show_about(new), strict=True)
        if before != after
    ]


def _show_about(routine: Routine) -> list[tuple[str, str]]:
    source = routine.source
    kit = ", ".join(
        " ".join(filter(None, (str(part.count) if part.count else "", part.name, *map(show_load, part.loads))))
        for part in routine.equipment
    )
    return [
        ("title", routine.title),
        ("language", routine.language),
        ("status", routine.status),
        ("transcript", source.name),
        ("instructor", source.instructor),
        ("date", source.date),
        ("media", source.media),
        ("tags", ", ".join(source.tags)),
        ("kit", kit),
    ]


def _compare_queries(a: Side, b: Side, pairs: list[tuple[int, int]]) -> list[QueryDifference]:
    new_id = {a.rows[n][2].id: b.rows[k][2].id for n, k in pairs}
    old = {(q.code, new_id.get(q.set, "gone:" + q.set if q.set else ""), q.field): q for q in a.routine.queries}
    new = {(q.code, q.set, q.field): q for q in b.routine.queries}
    found = []
    for key in [*new, *(k for k in old if k not in new)]:
        before, after = old.get(key), new.get(key)
        if before is None or after is None or (before.state, before.answer) != (after.state, after.answer):
            found.append(_describe_query(a, b, before, after))
    return found


def _describe_query(a: Side, b: Side, before: Query | None, after: Query | None) -> QueryDifference:
    side, query = (b, after) if after else (a, before)
    assert query is not None
    where = [(n, one) for n, (_, _, one) in enumerate(side.rows, 1) if one.id == query.set]
    return QueryDifference(
        code=query.code,
        field=query.field,
        set_number=where[0][0] if where else None,
        exercise=where[0][1].exercise.name if where else "",
        before=before.state if before else "",
        after=after.state if after else "",
        answer=after.answer if after else "",
    )
