"""The best way to pair the rows of a table with its columns."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray


def assign_pairs(scores: NDArray[np.float64]) -> list[tuple[int, int]]:
    """Pairs (row, column), each row and column at most once, with the greatest sum of scores; in order of rows.

    Scores are 0 or more; 0 means that the two do not go together, and such pairs are left out. The method is that of
    shortest augmenting paths (Kuhn 1955, Jonker and Volgenant 1987), O(rows² x columns).
    """
    if scores.size == 0:
        return []
    if scores.shape[0] > scores.shape[1]:
        return sorted((row, column) for column, row in assign_pairs(scores.T))
    costs = scores.max() - scores
    rows, columns = costs.shape
    owner = np.full(columns + 1, -1)  # the row that has a column; the last column stands for "none yet"
    row_price, column_price = np.zeros(rows), np.zeros(columns + 1)
    for row in range(rows):
        owner[columns] = row
        at = columns
        shortest = np.full(columns, np.inf)
        came_from = np.full(columns, columns)
        done = np.zeros(columns + 1, dtype=bool)
        while owner[at] >= 0:
            done[at] = True
            slack = costs[owner[at]] - row_price[owner[at]] - column_price[:columns]
            better = ~done[:columns] & (slack < shortest)
            shortest[better] = slack[better]
            came_from[better] = at
            open_ = np.where(done[:columns], np.inf, shortest)
            following = int(open_.argmin())
            step = open_[following]
            row_price[owner[done]] += step
            column_price[done] -= step
            shortest[~done[:columns]] -= step
            at = following
        while at != columns:
            owner[at] = owner[came_from[at]]
            at = int(came_from[at])
    pairs = ((int(owner[column]), column) for column in range(columns) if owner[column] >= 0)
    return sorted((row, column) for row, column in pairs if scores[row, column] > 0)
