"""Which class to publish next, or which several, so that what is trained evens out.

The objective, stated: every class counts alike and is described by the shares of its sets that go to each group of
muscles (they add up to 1). Over the classes of the days before and the classes picked, add the shares up for each
group; the sum of the squares of these totals is to be as small as it can be. Because the number of classes is fixed, so
is the sum of all totals: the squares are least when every group gets the same. Of equal choices the first in the
catalogue's order (date, location) is taken.

One class is chosen by trying all. Several are chosen exactly by branch and bound while that takes at most ``STEPS``
steps, with a bound from the totals that any choice still has to reach; beyond that the best found so far is improved by
exchanges of one class at a time until no exchange helps (the exchange heuristic), and the answer says that it is not
proved to be the best.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from setdown.catalogue.find import find_ids
from setdown.catalogue.like import ALIKE, find_repeats
from setdown.catalogue.query import Query
from setdown.catalogue.store import read
from setdown.lexicon import Lexicon

STEPS = 300_000  # of branch and bound: about a second
SLACK = 1e-12  # of the objective: below it two choices are equal

Matrix = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class PickOptions:
    """What to pick from and for.

    ``query``: what a class must meet. ``count``: how many. ``day``: the day it is for, ISO 8601. ``window``: classes of
    so many days before it count as published. ``avoid``: classes of so many days before it, and their repeats, are out.
    """

    query: Query
    count: int = 1
    day: str = ""
    window: timedelta = timedelta(days=28)
    avoid: timedelta = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class Pick:
    """The classes picked, in the order to publish them. ``proved``: no other is better.

    ``before`` and ``after`` are the totals by group of muscles, without and with the picked; ``objective`` is the sum
    of the squares of ``after``. ``candidates`` is how many classes there were to pick from, ``recent`` how many count
    as published.
    """

    ids: tuple[int, ...]
    day: str
    objective: float
    proved: bool
    candidates: int
    recent: int
    before: dict[str, float]
    after: dict[str, float]


def pick_classes(connection: sqlite3.Connection, options: PickOptions, lexicon: Lexicon) -> Pick:
    """Pick from the classes that meet the query; fewer than asked for when there are not so many.

    Without a day it is for the day after the last dated class.
    """
    with read(connection):
        day = options.day or _find_next_day(connection)
        recent = _list_between(connection, day, options.window)
        out = set(_list_between(connection, day, options.avoid))
        if out:
            repeats = find_repeats(connection, ALIKE)
            firsts = {one.first for one in repeats if one.id in out} | out
            out = firsts | {one.id for one in repeats if one.first in firsts}
        allowed = find_ids(connection, replace(options.query, limit=0)) - out
        names, shares = read_shares(connection, lexicon)
        order = [id for (id,) in connection.execute("SELECT id FROM class ORDER BY date = '', date DESC, location")]
        candidates = [id for id in order if id in allowed and id in shares]
        start = np.zeros(len(names))
        for id in recent:
            if id in shares:
                start = start + shares[id]
        matrix = np.array([shares[id] for id in candidates]).reshape(len(candidates), len(names))
        chosen, proved = choose_rows(start, matrix, min(options.count, len(candidates)))
        ordered = order_rows(start, matrix, chosen)
        total = start + matrix[list(chosen)].sum(axis=0)
        return Pick(
            ids=tuple(candidates[row] for row in ordered),
            day=day,
            objective=float((total**2).sum()),
            proved=proved,
            candidates=len(candidates),
            recent=len(recent),
            before=_name(names, start),
            after=_name(names, total),
        )


def choose_rows(start: Matrix, rows: Matrix, count: int) -> tuple[tuple[int, ...], bool]:
    """``count`` different rows that, added to ``start``, give the least sum of squares; and whether that is proved."""
    if count <= 0:
        return (), True
    best = improve_rows(start, rows, take_greedily(start, rows, count))
    return _Search(start, rows, count, best).run()


def take_greedily(start: Matrix, rows: Matrix, count: int) -> tuple[int, ...]:
    """One row after the other, each the best for what is there so far."""
    chosen: list[int] = []
    total = start.copy()
    for _ in range(count):
        costs = ((total + rows) ** 2).sum(axis=1)
        costs[chosen] = np.inf
        chosen.append(_first_least(costs))
        total += rows[chosen[-1]]
    return tuple(sorted(chosen))


def improve_rows(start: Matrix, rows: Matrix, chosen: Sequence[int]) -> tuple[int, ...]:
    """Exchange one chosen row for another as long as that makes the sum of squares smaller."""
    current = list(chosen)
    cost = _cost(start, rows, current)
    while True:
        options = []
        for place in range(len(current)):
            rest = start + rows[current[:place] + current[place + 1 :]].sum(axis=0)
            costs = ((rest + rows) ** 2).sum(axis=1)
            costs[current] = np.inf
            row = _first_least(costs)
            options.append((float(costs[row]), place, row))
        best = min(options)
        if best[0] >= cost - SLACK:
            return tuple(sorted(current))
        cost = best[0]
        current[best[1]] = best[2]


def order_rows(start: Matrix, rows: Matrix, chosen: Sequence[int]) -> list[int]:
    """The chosen rows in the order in which each evens out best what is there by then."""
    left = sorted(chosen)
    ordered: list[int] = []
    total = start.copy()
    while left:
        costs = ((total + rows[left]) ** 2).sum(axis=1)
        ordered.append(left.pop(_first_least(costs)))
        total += rows[ordered[-1]]
    return ordered


class _Search:
    """Branch and bound. It starts from a good choice, so that the bound bites early."""

    def __init__(self, start: Matrix, rows: Matrix, count: int, best: Sequence[int]) -> None:
        self._start, self._rows, self._count = start, rows, count
        self._squares = (rows**2).sum(axis=1)
        self._best = tuple(sorted(best))
        self._least = _cost(start, rows, best)
        self._steps = 0

    def run(self) -> tuple[tuple[int, ...], bool]:
        """The best choice found, and whether every other was ruled out."""
        proved = self._visit(np.arange(len(self._rows)), self._start, ())
        return self._best, proved

    def _visit(self, rest: NDArray[np.int64], total: Matrix, chosen: tuple[int, ...]) -> bool:
        """Try the choices that go on with rows of ``rest``. False when there are too many to try them all."""
        missing = self._count - len(chosen)
        # What a row adds: its own square, and twice its product with the total. Products among rows still to come are
        # not negative, so the smallest of these sums are a bound from below.
        adds = self._squares[rest] + 2 * (self._rows[rest] @ total)
        order = np.argsort(adds, kind="stable")
        rest, adds = rest[order], adds[order]
        base = float((total**2).sum())
        for place in range(len(rest) - missing + 1):
            self._steps += 1
            if self._steps > STEPS:
                return False
            bound = base + float(adds[place : place + missing].sum())
            if bound >= self._least - SLACK:
                return True  # and so are all that come after it
            row = int(rest[place])
            if missing == 1:
                self._least, self._best = bound, tuple(sorted((*chosen, row)))
            elif not self._visit(np.sort(rest[place + 1 :]), total + self._rows[row], (*chosen, row)):
                return False
        return True


def read_shares(connection: sqlite3.Connection, lexicon: Lexicon) -> tuple[list[str], dict[int, Matrix]]:
    """Names of the groups of muscles, and for each class that works any its shares of them, which add up to 1."""
    rows = connection.execute(
        "SELECT class_id, muscle, SUM(counted_halves * (1 + first)) FROM class_movement "
        "JOIN movement ON movement.id = class_movement.movement_id "
        "JOIN movement_muscle ON movement_muscle.movement_id = movement.id AND grouped = 1 "
        "WHERE pattern NOT IN ('mobility', 'stretch', 'pose', 'breathing') AND counted_halves > 0 "
        "GROUP BY class_id, muscle ORDER BY class_id, muscle"
    ).fetchall()
    groups = sorted({muscle for _, muscle, _ in rows})
    places = {muscle: place for place, muscle in enumerate(groups)}
    shares: dict[int, Matrix] = {}
    for id, muscle, quarters in rows:
        shares.setdefault(id, np.zeros(len(groups)))[places[muscle]] = quarters
    names = [lexicon.muscles[group].name if group in lexicon.muscles else group for group in groups]
    return names, {id: one / one.sum() for id, one in shares.items()}


def _cost(start: Matrix, rows: Matrix, chosen: Sequence[int]) -> float:
    return float(((start + rows[list(chosen)].sum(axis=0)) ** 2).sum())


def _first_least(costs: Matrix) -> int:
    """The first of those that are least but for the last digits."""
    return int(np.flatnonzero(costs <= costs.min() + SLACK)[0])


def _find_next_day(connection: sqlite3.Connection) -> str:
    (last,) = connection.execute("SELECT max(date) FROM class WHERE date <> ''").fetchone()
    return (date.fromisoformat(last) + timedelta(days=1)).isoformat() if last else ""


def _list_between(connection: sqlite3.Connection, day: str, span: timedelta) -> list[int]:
    """The classes of so many days before the day, without the day itself."""
    if not day:
        return []
    first = (date.fromisoformat(day) - span).isoformat()
    rows = connection.execute(
        "SELECT id FROM class WHERE date >= ? AND date < ? AND date <> '' ORDER BY id", (first, day)
    )
    return [id for (id,) in rows]


def _name(names: Sequence[str], totals: Matrix) -> dict[str, float]:
    pairs = zip(names, totals, strict=True)
    return {name: round(float(total), 6) for name, total in sorted(pairs, key=lambda one: (-round(one[1], 9), one[0]))}
