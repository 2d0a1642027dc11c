"""The best pairing of rows and columns."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from setdown.review.assign import assign_pairs

TABLES = st.integers(0, 5).flatmap(
    lambda rows: st.integers(0, 5).flatmap(
        lambda columns: st.lists(
            st.lists(st.just(0.0) | st.floats(0.1, 9), min_size=columns, max_size=columns), min_size=rows, max_size=rows
        ).map(lambda table: np.array(table).reshape(rows, columns))
    )
)


def best_by_trying(scores: np.ndarray) -> float:
    rows, columns = scores.shape
    if rows > columns:
        return best_by_trying(scores.T)
    return max(sum(scores[n, k] for n, k in enumerate(chosen)) for chosen in permutations(range(columns), rows))


@given(TABLES)
@settings(deadline=None)
def test_no_other_pairing_is_better(scores):
    """As found by trying all of them; every row and column is used once, and never for a score of nothing."""
    pairs = assign_pairs(scores)
    assert sum(scores[n, k] for n, k in pairs) == pytest.approx(best_by_trying(scores) if scores.size else 0)
    assert len({n for n, _ in pairs}) == len({k for _, k in pairs}) == len(pairs)
    assert all(scores[n, k] > 0 for n, k in pairs)


def test_a_large_table_agrees_with_scipy():
    """With scipy.optimize.linear_sum_assignment, an independent implementation (Crouse 2016)."""
    optimize = pytest.importorskip("scipy.optimize", reason="scipy is only installed for learning weights")
    scores = np.random.default_rng(3).random((70, 90)) * (np.random.default_rng(4).random((70, 90)) < 0.2)
    rows, columns = optimize.linear_sum_assignment(scores, maximize=True)
    assert sum(scores[n, k] for n, k in assign_pairs(scores)) == pytest.approx(scores[rows, columns].sum())
