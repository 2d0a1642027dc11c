"""Queries of three routines as one list, and clashes as queries."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from itertools import count

from setdown.model.routine import Query, Routine, Set
from setdown.model.timecode import format_clock
from setdown.review.merge_facets import choose
from setdown.review.merge_sets import Clash

CLASH_CODE = "versions-differ"

Key = tuple[str, str, str, int]


def merge_queries(
    base: Routine,
    edited: Routine,
    new: Routine,
    ids: tuple[Mapping[str, str], Mapping[str, str], Mapping[str, str]],
    sets: Mapping[str, Set],
    *,
    other_transcript: bool,
) -> list[Query]:
    """Queries that go on. ``ids`` say of each routine's sets which merged set they are; ``sets`` are those by id.

    A person's answers stay. A query that extraction does not ask any more goes, unless a person dealt with it. One that
    it asks anew about a value that a person decided is answered by that.
    """
    was, mine, theirs = (_list_keyed(routine, known) for routine, known in zip((base, edited, new), ids, strict=True))
    kept: dict[Key, Query] = {}
    for key in dict.fromkeys([*theirs, *mine]):
        b, e, n = was.get(key), mine.get(key), theirs.get(key)
        if key[1] and key[1] not in sets:
            continue
        if e is not None and n is not None:
            kept[key] = _merge_one(b, e, n)
        elif e is not None and e != b:
            kept[key] = e.model_copy(update={"evidence": []}) if other_transcript else e
        elif n is not None and b is None:
            kept[key] = _settle_known(n, sets.get(n.set))
    return [kept[key] for key in _order(list(theirs), list(mine), kept)]


def ask_about_clash(clash: Clash, set_id: str, one: Set | None) -> Query:
    """The query for a clash: both values, the person's first."""
    who = clash.by or "an edit"
    if one is None:
        at = format_clock(round(clash.start * 1000))
        digest = hashlib.sha256(f"{clash.exercise}|{clash.start}|{clash.mine}".encode()).hexdigest()[:8]
        message = f"At {at} the new extraction has {clash.theirs}; here it is: {clash.mine}."
        return Query(id=f"{CLASH_CODE}:{digest}", code=CLASH_CODE, severity="should", message=message)
    if not clash.field:
        message = f"{who} edited this set ({clash.mine}); the new extraction has no such set."
        return Query(id=f"{CLASH_CODE}:{set_id}", code=CLASH_CODE, severity="must", set=set_id, message=message)
    message = f"{clash.field}: {who} has {clash.mine}, the new extraction has {clash.theirs}."
    return Query(
        id=f"{CLASH_CODE}:{set_id}:{clash.field}",
        code=CLASH_CODE,
        severity="must",
        set=set_id,
        field=clash.field,
        message=message,
        suggestions=[clash.mine, clash.theirs],
        evidence=list(one.evidence.get(clash.field, [])),
    )


def _list_keyed(routine: Routine, ids: Mapping[str, str]) -> dict[Key, Query]:
    """The queries by what they ask about which merged set; those that ask the same are counted."""
    found: dict[Key, Query] = {}
    for query in routine.queries:
        if query.set and query.set not in ids:
            continue
        code, about, field = query.code, ids.get(query.set, ""), query.field if query.set else query.id
        number = next(k for k in count() if (code, about, field, k) not in found)
        found[code, about, field, number] = _turn(query, ids)
    return found


def _turn(query: Query, ids: Mapping[str, str]) -> Query:
    """The query about the merged set, whose id may be another one; its own id names the set too."""
    if not query.set or ids[query.set] == query.set:
        return query
    now = ids[query.set]
    return query.model_copy(update={"set": now, "id": query.id.replace(query.set, now)})


def _list_answer(query: Query) -> tuple[object, ...]:
    return query.state, query.answer, query.settled


def _merge_one(b: Query | None, e: Query, n: Query) -> Query:
    if e == n or b == n:
        return e
    answered = choose(_list_answer(b) if b else None, _list_answer(e), _list_answer(n)) != "new"
    answer = {"state": e.state, "answer": e.answer, "settled": e.settled} if answered else {}
    return n.model_copy(update=answer)


def _settle_known(query: Query, one: Set | None) -> Query:
    mark = one.edited.get(query.field) if one else None
    if mark is None or query.state != "open":
        return query
    return query.model_copy(update={"state": "accepted", "settled": mark})


def _order(theirs: Sequence[Key], mine: Sequence[Key], kept: Mapping[Key, Query]) -> list[Key]:
    """The new extraction's order; what is only in the edited routine follows what it followed there."""
    order = [key for key in theirs if key in kept]
    before: Key | None = None
    for key in mine:
        if key in kept:
            if key not in order:
                order.insert(order.index(before) + 1 if before is not None else 0, key)
            before = key
    return order
