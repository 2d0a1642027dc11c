"""Which class next: the objective, and that the optimum is one."""

from __future__ import annotations

from datetime import timedelta
from itertools import combinations

import numpy as np
import pytest

from setdown.catalogue import pick as module
from setdown.catalogue.find import find_ids
from setdown.catalogue.pick import PickOptions, choose_rows, improve_rows, pick_classes, read_shares, take_greedily
from setdown.catalogue.query import Query
from setdown.catalogue.ranges import Range
from setdown.lexicon import load_lexicon

LEXICON = load_lexicon()


def make_rows(seed: int, rows: int, columns: int = 6) -> tuple[np.ndarray, np.ndarray]:
    """What there is, and rows of shares that add up to 1, some of them empty in places."""
    chance = np.random.default_rng(seed)
    shares = chance.random((rows, columns)) * (chance.random((rows, columns)) > 0.5) + 1e-3
    return chance.random(columns) * 3, shares / shares.sum(axis=1, keepdims=True)


def least_of_all(start: np.ndarray, rows: np.ndarray, count: int) -> float:
    """The least sum of squares over every choice."""
    return min(float(((start + rows[list(c)].sum(axis=0)) ** 2).sum()) for c in combinations(range(len(rows)), count))


@pytest.mark.parametrize("count", [1, 2, 3, 4, 5])
@pytest.mark.parametrize("seed", range(12))
def test_the_choice_is_the_best_of_all(seed, count):
    """Compared with trying every choice."""
    start, rows = make_rows(seed, 12)
    chosen, proved = choose_rows(start, rows, count)
    assert proved
    assert len(set(chosen)) == count
    cost = float(((start + rows[list(chosen)].sum(axis=0)) ** 2).sum())
    assert cost == pytest.approx(least_of_all(start, rows, count), abs=1e-9)


def test_too_many_choices_are_improved_by_exchanges(monkeypatch):
    """When branch and bound gives up it says so, and no exchange of one class makes the answer better."""
    monkeypatch.setattr(module, "STEPS", 10)
    start, rows = make_rows(5, 60)
    chosen, proved = choose_rows(start, rows, 6)
    assert not proved
    cost = float(((start + rows[list(chosen)].sum(axis=0)) ** 2).sum())
    for place in range(6):
        for row in set(range(60)) - set(chosen):
            other = [*chosen[:place], row, *chosen[place + 1 :]]
            assert float(((start + rows[other].sum(axis=0)) ** 2).sum()) >= cost - 1e-9


def test_exchanges_improve_on_greed():
    """They never make it worse, and somewhere better."""
    better = 0
    for seed in range(30):
        start, rows = make_rows(seed, 30)
        greedy = take_greedily(start, rows, 4)
        improved = improve_rows(start, rows, greedy)
        costs = [float(((start + rows[list(c)].sum(axis=0)) ** 2).sum()) for c in (greedy, improved)]
        assert costs[1] <= costs[0] + 1e-12
        better += costs[1] < costs[0] - 1e-9
    assert better


def test_ties_go_to_the_first():
    """Of equal rows the first is taken, so the answer does not depend on the machine."""
    rows = np.array([[0.5, 0.5], [0.5, 0.5], [1.0, 0.0], [0.5, 0.5]])
    assert choose_rows(np.zeros(2), rows, 2) == ((0, 1), True)


@pytest.mark.parametrize("count", [1, 3])
def test_picks_of_the_annotated_classes(store, count):
    """The picked are the best of the classes that meet the query and were not seen in the days before."""
    query = Query(minutes=Range(None, 22), muscles=("glutes",))
    options = PickOptions(query, count, "2024-03-01", timedelta(days=28), timedelta(days=7))
    picked = pick_classes(store, options, LEXICON)
    dates = dict(store.execute("SELECT id, date FROM class"))
    _, shares = read_shares(store, LEXICON)
    recent = [id for id, day in dates.items() if "2024-02-02" <= day < "2024-03-01"]
    avoided = {id for id, day in dates.items() if "2024-02-23" <= day < "2024-03-01"}
    assert recent
    assert avoided
    start = sum(shares[id] for id in recent if id in shares)
    allowed = sorted(id for id in find_ids(store, query) - avoided if id in shares)
    costs = {
        chosen: float(((start + sum(shares[id] for id in chosen)) ** 2).sum())
        for chosen in combinations(allowed, count)
    }
    assert picked.proved
    assert (picked.candidates, picked.recent) == (len(allowed), len(recent))
    assert picked.objective == pytest.approx(min(costs.values()), abs=1e-9)
    assert costs[tuple(sorted(picked.ids))] == pytest.approx(picked.objective, abs=1e-9)
    assert sum(picked.after.values()) == pytest.approx(sum(picked.before.values()) + count, abs=1e-4)


def test_what_was_published_last_is_not_picked(store):
    """Nothing of the days before, however well it would fit; without a day it is for the one after the last class."""
    picked = pick_classes(store, PickOptions(Query(), 7, avoid=timedelta(days=30)), LEXICON)
    (last,) = store.execute("SELECT max(date) FROM class").fetchone()
    assert picked.day > last
    dates = dict(store.execute("SELECT id, date FROM class"))
    assert len(set(picked.ids)) == 7
    from datetime import date

    first = (date.fromisoformat(picked.day) - timedelta(days=30)).isoformat()
    assert all(not dates[id] or dates[id] < first for id in picked.ids)


def test_fewer_classes_than_asked_for(store):
    """All there are, and none is none."""
    picked = pick_classes(store, PickOptions(Query(minutes=Range(None, 4)), 31), LEXICON)
    assert len(picked.ids) == picked.candidates < 31
    none = pick_classes(store, PickOptions(Query(instructors=()), 3), LEXICON)
    assert (none.ids, none.candidates) == ((), 0)
