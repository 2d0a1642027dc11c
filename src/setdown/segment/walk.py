"""Walks over a lattice: the best path, and how likely every edge and node is over all paths (forward and backward).

Semi-Markov conditional random field: the score of a path is the sum of the scores of its edges, and its probability is
proportional to the exponential of that (Sarawagi, Cohen: "Semi-Markov Conditional Random Fields for Information
Extraction", 2004).
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from setdown.segment.lattice import Lattice

Floats = NDArray[np.float64]


def find_best_path(lattice: Lattice, scores: Floats) -> list[int]:
    """The edges of the path with the highest total, in order; of equals the one whose edges come first.

    Args:
        lattice: as :func:`setdown.segment.lattice.build_lattice` makes it.
        scores: one number for every edge.
    """
    count = len(lattice.place)
    value = np.full(count, -np.inf)
    value[0] = 0.0
    chosen = [-1] * count
    into = lattice.into.tolist()
    for k in range(1, count):
        low, high = into[k], into[k + 1]
        if low < high:
            totals = value[lattice.source[low:high]] + scores[low:high]
            best = int(totals.argmax())
            value[k] = totals[best]
            chosen[k] = low + best
    path: list[int] = []
    k = count - 1
    while k > 0:
        path.append(chosen[k])
        k = int(lattice.source[chosen[k]])
    return path[::-1]


def weigh_edges(lattice: Lattice, scores: Floats) -> tuple[Floats, float]:
    """(probability of every edge, log of the sum over all paths)."""
    reached = _sum_forward(lattice, scores)
    left = _sum_backward(lattice, scores)
    total = float(reached[-1])
    with np.errstate(invalid="ignore"):
        exponent = reached[lattice.source] + scores + left[lattice.target] - total
    exponent[~np.isfinite(exponent)] = -np.inf  # dead ends
    return np.exp(np.minimum(exponent, 0.0)), total


def _sum_forward(lattice: Lattice, scores: Floats) -> Floats:
    """For every node the log of the sum over all paths that lead to it."""
    count = len(lattice.place)
    value = np.full(count, -np.inf)
    value[0] = 0.0
    into = lattice.into.tolist()
    for k in range(1, count):
        low, high = into[k], into[k + 1]
        if low < high:
            value[k] = _add_logs(value[lattice.source[low:high]] + scores[low:high])
    return value


def _sum_backward(lattice: Lattice, scores: Floats) -> Floats:
    """For every node the log of the sum over all paths that lead on from it."""
    count = len(lattice.place)
    order = np.lexsort((lattice.target, lattice.source))
    target, ordered = lattice.target[order], scores[order]
    out_of = np.searchsorted(lattice.source[order], np.arange(count + 1)).tolist()
    value = np.full(count, -np.inf)
    value[-1] = 0.0
    for k in range(count - 2, -1, -1):
        low, high = out_of[k], out_of[k + 1]
        if low < high:
            value[k] = _add_logs(value[target[low:high]] + ordered[low:high])
    return value


def _add_logs(terms: Floats) -> float:
    """log(sum(exp(terms))); -inf where all are."""
    top = float(terms.max())
    return top + math.log(float(np.exp(terms - top).sum())) if top > -math.inf else top
