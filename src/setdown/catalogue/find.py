"""Answering a query from the catalogue.

The condition that fewest classes meet leads: where it is rare its classes are looked up and sorted, where everything is
common the classes are walked from the latest on until enough have answered. ``LEAD`` divides the two.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from setdown.catalogue.needs import Need, list_kit, read_needs
from setdown.catalogue.query import Answer, Hit, Query
from setdown.catalogue.speech import find_said, match_text
from setdown.catalogue.store import read
from setdown.measure.performed import EASING_PATTERNS

LEAD = 4000  # classes up to which a condition leads
TOLERANCE = 1e-6  # kilograms: loads were rounded once when they were converted
_ORDER = "ORDER BY class.date DESC, class.location"
_COLUMNS = (
    "class.id, class.location, class.transcript, class.routine, class.title, class.instructor, class.date, "
    "class.status, class.duration_ms, class.sets, class.media, class.kit_need_id"
)


@dataclass(frozen=True, slots=True)
class Condition:
    """A condition in SQL on ``class`` and its values.

    ``lead`` selects the ids of all classes that meet it, of which there are about ``classes`` (None: not known), and
    perhaps of others: then it is not ``whole``, and the condition is still to be asked.
    """

    sql: str
    values: tuple[object, ...] = ()
    classes: int | None = None
    lead: str = ""
    lead_values: tuple[object, ...] = ()
    whole: bool = True


def find_classes(connection: sqlite3.Connection, query: Query) -> list[Answer]:
    """The classes that answer, at most ``query.limit``, with the sets that count.

    Raises:
        SetdownError: the words cannot be looked for.
    """
    with read(connection):
        needs = read_needs(connection)
        conditions = list_conditions(connection, query, needs)
        if conditions is None:
            return []
        rows = connection.execute(*_build(conditions, query.limit)).fetchall()
        return [_make_answer(connection, row, needs, query) for row in rows]


def find_ids(connection: sqlite3.Connection, query: Query) -> frozenset[int]:
    """The ids of all classes that answer, whatever the limit. Raises what ``find_classes`` raises."""
    with read(connection):
        conditions = list_conditions(connection, query, read_needs(connection))
        if conditions is None:
            return frozenset()
        return frozenset(id for (id,) in connection.execute(*_build(conditions, 0, "class.id")))


def read_answers(connection: sqlite3.Connection, ids: Sequence[int], query: Query) -> list[Answer]:
    """These classes, with the sets that count for the query."""
    with read(connection):
        needs = read_needs(connection)
        inside = ", ".join(map(str, ids))
        rows = connection.execute(f"SELECT {_COLUMNS} FROM class WHERE id IN ({inside})").fetchall()
        return [_make_answer(connection, row, needs, query) for row in rows]


def _make_answer(connection: sqlite3.Connection, row: tuple[Any, ...], needs: dict[int, Need], query: Query) -> Answer:
    return Answer(
        id=row[0],
        location=row[1],
        source=row[2] or row[3],
        title=row[4],
        instructor=row[5],
        date=row[6],
        status=row[7],
        minutes=row[8] / 60_000,
        sets=row[9],
        media=row[10],
        kit=list_kit(needs[row[11]]),
        hits=tuple(list_hits(connection, row[0], query)),
    )


def list_conditions(connection: sqlite3.Connection, query: Query, needs: dict[int, Need]) -> list[Condition] | None:
    """The conditions of a query, None when it can be seen at once that no class meets them."""
    conditions = list(_list_plain(query))
    if query.kit or query.only_kit is not None:
        fitting = [id for id, need in needs.items() if fits_kit(need, query.kit, query.only_kit)]
        if not fitting:
            return None
        conditions.append(_count_in(connection, "kit_need_id", fitting))
    if query.instructors is not None:
        if not query.instructors:
            return None
        conditions.append(_count_in(connection, "instructor", query.instructors))
    if query.words:
        text = match_text(query.words)
        lead = "SELECT rowid FROM words WHERE words MATCH ?"
        found = _count_at_most(connection, lead, (text,))
        conditions.append(Condition(f"class.id IN ({lead})", (text,), found, lead, (text,)))
    if query.asks_of_sets:
        for wanted in list_wanted(query):
            condition = _ask_of_sets(connection, wanted)
            if condition is None:
                return None
            conditions.append(condition)
    return conditions


def list_wanted(query: Query) -> list[Query]:
    """Queries that each ask for one set: for every value of a repeated condition, that value and any of the others."""
    wanted = []
    if len(query.movements) > 1:
        wanted += [replace(query, movements=(value,)) for value in query.movements]
    if len(query.muscles) > 1:
        wanted += [replace(query, muscles=(value,)) for value in query.muscles]
    if len(query.patterns) > 1:
        wanted += [replace(query, patterns=(value,)) for value in query.patterns]
    return wanted or [query]


def fits_kit(need: Need, uses: Iterable[str], only: frozenset[str] | None) -> bool:
    """Whether a class with this need uses some kit, and can be done with ``only`` that kit."""
    said, needed = need
    if any(kit not in said and not any(kit in group for group in needed) for kit in uses):
        return False
    return only is None or (said <= only and all(group & only for group in needed))


def list_hits(connection: sqlite3.Connection, class_id: int, query: Query) -> list[Hit]:
    """The sets of a class that count and the places where the words were said, in time order."""
    hits: list[Hit] = []
    if query.asks_of_sets:
        movements = _list_movements(connection, query)
        sql, values = _build_set_filter(query, movements)
        found = connection.execute(
            "SELECT start_ms, end_ms, movement.name, section, side, reps_lo, reps_hi, to_failure, work_s, load, unit, "
            "finisher FROM performed JOIN movement ON movement.id = movement_id "
            f"WHERE class_id = ?{sql} ORDER BY start_ms, position",
            (class_id, *values),
        )
        hits += [_make_hit(*row) for row in found]
    if query.words:
        hits += [Hit(start, start, "", words=text) for start, text in find_said(connection, class_id, query.words)]
    return sorted(hits, key=lambda hit: (hit.start_ms, hit.end_ms, hit.name))


def _make_hit(
    start: int,
    end: int,
    name: str,
    section: str,
    side: str,
    lo: int | None,
    hi: int | None,
    to_failure: int,
    work_s: float | None,
    load: float | None,
    unit: str,
    finisher: str,
) -> Hit:
    return Hit(start, end, name, section, side, _write_reps(lo, hi, to_failure), work_s, load, unit, finisher)


def _list_plain(query: Query) -> Iterable[Condition]:
    if query.minutes is not None and query.minutes.lo is not None:
        yield Condition("class.duration_ms >= ?", (query.minutes.lo * 60_000,))
    if query.minutes is not None and query.minutes.hi is not None:
        yield Condition("class.duration_ms <= ?", (query.minutes.hi * 60_000,))
    if query.since:
        yield Condition("class.date >= ?", (query.since,))
    if query.until:
        yield Condition("class.date <= ? AND class.date <> ''", (query.until,))
    if query.statuses:
        yield Condition(f"class.status IN ({_marks(query.statuses)})", query.statuses)


def _count_in(connection: sqlite3.Connection, column: str, values: Sequence[object]) -> Condition:
    lead = f"SELECT id FROM class WHERE {column} IN ({_marks(values)})"
    count = _count_at_most(connection, lead, values)
    return Condition(f"class.{column} IN ({_marks(values)})", tuple(values), count, lead, tuple(values))


def _count_at_most(connection: sqlite3.Connection, select: str, values: Sequence[object]) -> int:
    """How many rows, counted only as far as it matters."""
    counting = f"SELECT count(*) FROM (SELECT 1 FROM ({select}) LIMIT {LEAD + 1})"
    return int(connection.execute(counting, tuple(values)).fetchone()[0])


def _ask_of_sets(connection: sqlite3.Connection, query: Query) -> Condition | None:
    """A condition: the class has a set that meets them all. None when no movement can."""
    movements = _list_movements(connection, query)
    if movements is not None and not movements:
        return None
    sql, values = _build_set_filter(query, movements)
    if movements is None:
        return Condition(f"EXISTS (SELECT 1 FROM performed WHERE class_id = class.id{sql})", values)
    inside = ", ".join(map(str, movements))
    lead = f"SELECT class_id FROM class_movement WHERE movement_id IN ({inside})"
    count = _count_at_most(connection, lead, ())
    if _asks_of_movement_only(query):
        # The larger table need not be looked at.
        sql = f"EXISTS (SELECT 1 FROM class_movement WHERE movement_id IN ({inside}) AND class_id = class.id)"
        return Condition(sql, (), count, lead)
    return Condition(
        f"EXISTS (SELECT 1 FROM performed WHERE class_id = class.id{sql})", values, count, lead, whole=False
    )


def _asks_of_movement_only(query: Query) -> bool:
    return not (query.sections or query.arrangements or query.finishers or query.sides or query.load or query.reps)


def _list_movements(connection: sqlite3.Connection, query: Query) -> list[int] | None:
    """The ids of the movements that a set may have, None for any."""
    if not (query.movements or query.muscles or query.patterns):
        return None
    conditions, values = [], []
    if query.movements:
        keys = sorted(frozenset().union(*(wanted.keys for wanted in query.movements)))
        conditions.append(f"key IN ({_marks(keys)})")
        values += keys
    if query.patterns:
        conditions.append(f"pattern IN ({_marks(query.patterns)})")
        values += query.patterns
    if query.muscles:
        role = "" if query.helping else " AND first = 1"
        conditions.append(
            f"id IN (SELECT movement_id FROM movement_muscle WHERE muscle IN ({_marks(query.muscles)}){role})"
        )
        values += query.muscles
        if not EASING_PATTERNS.intersection(query.patterns):
            easing = sorted(EASING_PATTERNS)
            conditions.append(f"pattern NOT IN ({_marks(easing)})")
            values += easing
    found = connection.execute(f"SELECT id FROM movement WHERE {' AND '.join(conditions)} ORDER BY id", values)
    return [id for (id,) in found]


def _build_set_filter(query: Query, movements: Sequence[int] | None) -> tuple[str, tuple[object, ...]]:
    parts: list[str] = []
    values: list[object] = []
    if movements is not None:
        parts.append(f"movement_id IN ({', '.join(map(str, movements))})")
    for column in ("sections", "arrangements", "finishers", "sides"):
        wanted: tuple[str, ...] = getattr(query, column)
        if wanted:
            parts.append(f"{column.removesuffix('s')} IN ({_marks(wanted)})")
            values += wanted
    for column_lo, column_hi, range_, slack in (
        ("load_kg", "load_kg", query.load, TOLERANCE),
        ("reps_hi", "reps_lo", query.reps, 0.0),
    ):
        if range_ is not None:
            if range_.lo is not None:
                parts.append(f"{column_lo} >= ?")
                values.append(range_.lo - slack)
            if range_.hi is not None:
                parts.append(f"{column_hi} <= ?")
                values.append(range_.hi + slack)
    return "".join(f" AND {part}" for part in parts), tuple(values)


def _build(conditions: Sequence[Condition], limit: int, columns: str = _COLUMNS) -> tuple[str, tuple[object, ...]]:
    leads = [one for one in conditions if one.classes is not None and one.classes <= LEAD]
    leader = min(leads, key=lambda one: one.classes or 0, default=None)
    rest = [one for one in conditions if one is not leader or not one.whole]
    where = [f"({one.sql})" for one in rest]
    values = tuple(value for one in rest for value in one.values)
    tail = f"{_ORDER} LIMIT {limit}" if limit else _ORDER
    if leader is None:
        text = f"SELECT {columns} FROM class INDEXED BY class_by_date WHERE {' AND '.join(where) or '1'} {tail}"
        return text, values
    where.insert(0, f"class.id IN ({leader.lead})")
    return f"SELECT {columns} FROM class NOT INDEXED WHERE {' AND '.join(where)} {tail}", (
        *leader.lead_values,
        *values,
    )


def _marks(values: Sequence[object]) -> str:
    return ", ".join("?" * len(values))


def _write_reps(lo: int | None, hi: int | None, to_failure: int) -> str:
    if to_failure:
        return "max"
    return "" if lo is None else str(lo) if lo == hi else f"{lo}-{hi}"
