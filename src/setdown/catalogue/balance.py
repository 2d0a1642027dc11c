"""What many classes train, over time. Sets count as ``measure`` counts them: see ``describe_conventions`` there.

Everything is reckoned in quarters of a set, which is exact: one side is half a set, and a muscle that helps half of it.
"""

from __future__ import annotations

import sqlite3
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from setdown.catalogue.store import read
from setdown.catalogue.weeks import count_weeks, list_weeks, name_week
from setdown.lexicon import Lexicon
from setdown.measure.balance import PULL, PUSH
from setdown.measure.performed import EASING_PATTERNS


@dataclass(frozen=True, slots=True)
class Selection:
    """Which classes: exact names of instructors (None: any), first and last day in ISO 8601 (empty: open)."""

    instructors: tuple[str, ...] | None = None
    since: str = ""
    until: str = ""


@dataclass(frozen=True, slots=True)
class Untrained:
    """A group of muscles: the last day on which it was worked (empty: never) and how many weeks ago that is."""

    muscle: str
    name: str
    last: str
    weeks: int | None


@dataclass(frozen=True, slots=True)
class MovementCount:
    """How often a movement appears: in how many classes, in how many sets, and when last."""

    name: str
    classes: int
    sets: int
    last: str


@dataclass(frozen=True, slots=True)
class Balance:
    """What the chosen classes come to.

    ``weeks`` are all from the first class to the last. ``muscles`` and ``patterns``: name to sets, the most first;
    ``muscles_by_week``: (name, week) to sets; ``eased`` are sets of stretch, pose, mobility and breathing.
    ``undated`` classes are in every total but in no week. ``untrained`` groups were not worked for as many weeks as
    were asked for, or never, up to ``until``, the last day that counts.
    """

    classes: int
    undated: int
    until: str
    weeks: tuple[str, ...]
    classes_by_week: dict[str, int]
    muscles: dict[str, Fraction]
    muscles_by_week: dict[tuple[str, str], Fraction]
    eased: dict[str, Fraction]
    patterns: dict[str, Fraction]
    patterns_by_week: dict[tuple[str, str], Fraction]
    push: Fraction
    pull: Fraction
    push_by_week: dict[str, Fraction]
    pull_by_week: dict[str, Fraction]
    left: int
    right: int
    each: int
    untrained: tuple[Untrained, ...]
    movements: tuple[MovementCount, ...]
    no_warm_up: tuple[str, ...]
    no_cool_down: tuple[str, ...]
    unknown_sets: int

    @property
    def ratio(self) -> Fraction | None:
        """Sets of push to sets of pull; None when there is no pull."""
        return self.push / self.pull if self.pull else None


def measure_balance(
    connection: sqlite3.Connection, selection: Selection, lexicon: Lexicon, weeks_without: int = 4
) -> Balance:
    """The balance of the chosen classes; groups of muscles go by the names that the lexicon has for them."""
    with read(connection):
        where, values = _choose(selection)
        rows = connection.execute(
            f"SELECT date, count(*) FROM class WHERE {where} GROUP BY date ORDER BY date", values
        ).fetchall()
        days = [day for day, _ in rows if day]
        by_week: Counter[str] = Counter()
        for day, count in rows:
            if day:
                by_week[name_week(day)] += count
        until = selection.until or (days[-1] if days else "")
        names = {id: muscle.name for id, muscle in lexicon.muscles.items()}
        worked = _sum_muscles(connection, where, values, easing=False)
        eased = _sum_muscles(connection, where, values, easing=True)
        patterns = _sum_patterns(connection, where, values)
        push = [(day, sets) for day, pattern, sets in patterns if pattern in PUSH]
        pull = [(day, sets) for day, pattern, sets in patterns if pattern in PULL]
        sides = dict(
            connection.execute(
                f"SELECT side, count(*) FROM performed JOIN class ON class.id = class_id WHERE {where} GROUP BY side",
                values,
            )
        )
        return Balance(
            classes=sum(count for _, count in rows),
            undated=sum(count for day, count in rows if not day),
            until=until,
            weeks=tuple(list_weeks(days)),
            classes_by_week=dict(sorted(by_week.items())),
            muscles=_total((names.get(muscle, muscle), sets) for _, muscle, sets in worked),
            muscles_by_week=_by_week((day, names.get(muscle, muscle), sets) for day, muscle, sets in worked),
            eased=_total((names.get(muscle, muscle), sets) for _, muscle, sets in eased),
            patterns=_total((pattern.replace("_", " "), sets) for _, pattern, sets in patterns if pattern),
            patterns_by_week=_by_week((d, pattern.replace("_", " "), sets) for d, pattern, sets in patterns if pattern),
            push=sum((sets for _, sets in push), Fraction(0)),
            pull=sum((sets for _, sets in pull), Fraction(0)),
            push_by_week=_total((name_week(day), sets) for day, sets in push if day),
            pull_by_week=_total((name_week(day), sets) for day, sets in pull if day),
            left=sides.get("left", 0) + sides.get("each", 0),
            right=sides.get("right", 0) + sides.get("each", 0),
            each=sides.get("each", 0),
            untrained=tuple(_list_untrained(worked, lexicon, until, weeks_without)),
            movements=tuple(_count_movements(connection, where, values)),
            no_warm_up=tuple(_list_without(connection, "warm_up", where, values)),
            no_cool_down=tuple(_list_without(connection, "cool_down", where, values)),
            unknown_sets=_count_unknown(connection, where, values),
        )


def list_muscle_groups(lexicon: Lexicon) -> list[str]:
    """The groups of muscles that some movement other than a stretch or pose works first."""
    muscles = lexicon.muscles
    worked = {
        (muscles[id].group or id) if id in muscles else id
        for movement in lexicon.movements.values()
        if movement.pattern not in EASING_PATTERNS
        for id in movement.primary
    }
    return sorted(worked)


def _choose(selection: Selection) -> tuple[str, tuple[str, ...]]:
    parts: list[str] = []
    values: list[str] = []
    if selection.instructors is not None:
        parts.append(f"class.instructor IN ({', '.join('?' * len(selection.instructors))})")
        values += selection.instructors
    if selection.since:
        parts.append("class.date >= ?")
        values.append(selection.since)
    if selection.until:
        parts.append("class.date <= ? AND class.date <> ''")
        values.append(selection.until)
    return " AND ".join(parts) or "1", tuple(values)


def _sum_muscles(
    connection: sqlite3.Connection, where: str, values: Sequence[str], *, easing: bool
) -> list[tuple[str, str, Fraction]]:
    """Day, group of muscles, sets; of stretches and poses only what they name first."""
    marks = ", ".join("?" * len(EASING_PATTERNS))
    role = f"pattern IN ({marks}) AND first = 1" if easing else f"pattern NOT IN ({marks})"
    rows = connection.execute(
        "SELECT date, muscle, SUM(counted_halves * (1 + first)) FROM class "
        "JOIN class_movement ON class.id = class_id JOIN movement ON movement.id = class_movement.movement_id "
        "JOIN movement_muscle ON movement_muscle.movement_id = movement.id AND grouped = 1 "
        f"WHERE {where} AND {role} AND counted_halves > 0 GROUP BY date, muscle ORDER BY date, muscle",
        (*values, *sorted(EASING_PATTERNS)),
    )
    return [(day, muscle, Fraction(quarters, 4)) for day, muscle, quarters in rows]


def _sum_patterns(connection: sqlite3.Connection, where: str, values: Sequence[str]) -> list[tuple[str, str, Fraction]]:
    rows = connection.execute(
        "SELECT date, pattern, SUM(counted_halves) FROM class JOIN class_movement ON class.id = class_id "
        f"JOIN movement ON movement.id = movement_id WHERE {where} AND counted_halves > 0 "
        "GROUP BY date, pattern ORDER BY date, pattern",
        tuple(values),
    )
    return [(day, pattern, Fraction(halves, 2)) for day, pattern, halves in rows]


def _total(pairs: Iterable[tuple[str, Fraction]]) -> dict[str, Fraction]:
    """Sums by name, the largest first."""
    sums: dict[str, Fraction] = {}
    for name, sets in pairs:
        sums[name] = sums.get(name, Fraction(0)) + sets
    return dict(sorted(sums.items(), key=lambda one: (-one[1], one[0])))


def _by_week(rows: Iterable[tuple[str, str, Fraction]]) -> dict[tuple[str, str], Fraction]:
    sums: dict[tuple[str, str], Fraction] = {}
    for day, name, sets in rows:
        if day:
            key = (name, name_week(day))
            sums[key] = sums.get(key, Fraction(0)) + sets
    return sums


def _list_untrained(
    worked: Sequence[tuple[str, str, Fraction]], lexicon: Lexicon, until: str, weeks: int
) -> Iterable[Untrained]:
    """Those that were never worked first, then the longest ago. Undated classes say nothing about when."""
    last: dict[str, str] = {}
    for day, muscle, _ in worked:
        if day:
            last[muscle] = max(day, last.get(muscle, ""))
    found = []
    for muscle in list_muscle_groups(lexicon):
        name = lexicon.muscles[muscle].name if muscle in lexicon.muscles else muscle
        if muscle not in last:
            found.append(Untrained(muscle, name, "", None))
        elif count_weeks(last[muscle], until) >= weeks:
            found.append(Untrained(muscle, name, last[muscle], count_weeks(last[muscle], until)))
    return sorted(found, key=lambda one: (one.weeks is not None, -(one.weeks or 0), one.name))


def _count_movements(connection: sqlite3.Connection, where: str, values: Sequence[str]) -> Iterable[MovementCount]:
    rows = connection.execute(
        "SELECT max(name), count(DISTINCT class.id), SUM(class_movement.sets), max(date) FROM class "
        f"JOIN class_movement ON class.id = class_id JOIN movement ON movement.id = movement_id WHERE {where} "
        "GROUP BY key ORDER BY 2 DESC, 3 DESC, 1, key",
        tuple(values),
    )
    return [MovementCount(*row) for row in rows]


def _list_without(connection: sqlite3.Connection, part: str, where: str, values: Sequence[str]) -> list[str]:
    """The titles of classes with sets but none in this part, the latest first."""
    rows = connection.execute(
        f"SELECT title FROM class WHERE {where} AND {part} = 0 AND sets > 0 ORDER BY date DESC, location", tuple(values)
    )
    return [title for (title,) in rows]


def _count_unknown(connection: sqlite3.Connection, where: str, values: Sequence[str]) -> int:
    (count,) = connection.execute(
        "SELECT coalesce(SUM(class_movement.sets), 0) FROM class JOIN class_movement ON class.id = class_id "
        f"JOIN movement ON movement.id = movement_id WHERE {where} AND known = 0",
        tuple(values),
    ).fetchone()
    return int(count)
