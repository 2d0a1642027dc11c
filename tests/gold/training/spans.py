"""Learn the weights of whole spans: a semi-Markov conditional random field over the lattice of each class.

The log-likelihood of the gold path, with an L2 penalty, climbed by Adam (Kingma, Ba: "Adam: A Method for Stochastic
Optimization", 2015), one class after the other; the weights of the last two rounds are averaged. The boundary scores of
a class must come from weights that never saw it: those of its own training would be too good to be believed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import scipy.sparse as sp
from training.boundaries import Example

from setdown.segment.lattice import Lattice, build_lattice, find_path
from setdown.segment.span_features import gather_evidence, iter_edge_features
from setdown.segment.walk import weigh_edges

ROUNDS, PACE, PENALTY = 4, 0.05, 2e-5
SEED = 20
SILENT_S = 4.0  # the shortest silence that gold can mean by a set without a word
BIAS = {"fine": 0.25, "block": 1.0}  # what a set gains beyond likelihood: F1 wants as many found as are made up
MIN_CLASSES = 3
WORDS_OF_A_CLASS = 500.0
LEAST = 0.02  # smaller weights are left out


@dataclass(slots=True)
class SpanExample:
    """One class as a lattice with its features (edges by names) and its gold path."""

    name: str
    lattice: Lattice
    matrix: Any
    names: list[str]
    path: list[int]


def clean_spans(example: Example) -> list[tuple[int, int]]:
    """Gold spans in order, without overlap; one without a word stays only where there is a silence for it."""
    n, gaps = example.signals.n, example.signals.gaps
    found: list[tuple[int, int]] = []
    last = 0
    for start, end in sorted(set(example.item.spans)):
        start = max(start, last)
        if end < start:
            continue
        if end == start and not (last < start < n and gaps[start] >= SILENT_S):
            if start >= n:
                continue
            end = start + 1
        if start == end and found and found[-1][1] == start:
            continue
        if found and found[-1] == (start, start):  # nothing was said between that silence and this set: one set
            found.pop()
        found.append((start, end))
        last = end
    return found


def make_span_example(example: Example, scores: Any) -> SpanExample:
    """``scores``: boundary log-odds of weights that never saw the class."""
    spans = clean_spans(example)
    lattice = build_lattice(example.signals, scores, spans)
    seen = gather_evidence(example.item.tagged, example.signals, scores)
    names, rows, columns, cells = [], [], [], []
    for name, edges, values in iter_edge_features(lattice, seen):
        there = np.flatnonzero(values)
        rows.append(edges[there])
        columns.append(np.full(len(there), len(names)))
        cells.append(np.asarray(values[there], np.float64))
        names.append(name)
    shape = (len(lattice.source), len(names))
    matrix = sp.csr_matrix((np.concatenate(cells), (np.concatenate(rows), np.concatenate(columns))), shape=shape)
    return SpanExample(example.item.name, lattice, matrix, names, find_path(lattice, spans))


def train_spans(examples: Sequence[SpanExample]) -> dict[str, float]:
    """One weight for each feature that at least three classes have."""
    seen: dict[str, set[str]] = {}
    for e in examples:
        for name in e.names:
            seen.setdefault(name, set()).add(e.name)
    names = sorted(name for name, classes in seen.items() if len(classes) >= MIN_CLASSES)
    place = {name: k for k, name in enumerate(names)}
    matrices = [_spread_columns(e, place) for e in examples]
    gold = [np.asarray(m[e.path].sum(axis=0)).ravel() for m, e in zip(matrices, examples, strict=True)]
    shares = [WORDS_OF_A_CLASS / max(float(e.lattice.place[-1]), 1.0) for e in examples]  # long ones count no more
    w, mean, spread, averaged = (np.zeros(len(names)) for _ in range(4))
    rng = np.random.default_rng(SEED)
    step = 0
    for turn in range(ROUNDS):
        for k in rng.permutation(len(examples)).tolist():
            probabilities, _ = weigh_edges(examples[k].lattice, matrices[k] @ w)
            slope = (matrices[k].T @ probabilities - gold[k]) * shares[k] + PENALTY * len(examples) * w
            step += 1
            mean = 0.9 * mean + 0.1 * slope
            spread = 0.999 * spread + 0.001 * slope * slope
            size = np.sqrt(spread / (1 - 0.999**step)) + 1e-6
            w = w - PACE * (1 - 0.8 * turn / ROUNDS) * mean / (1 - 0.9**step) / size
        if turn >= ROUNDS - 2:
            averaged += w / 2
    return {name: round(float(x), 3) for name, x in zip(names, averaged, strict=True) if abs(x) >= LEAST}


def _spread_columns(example: SpanExample, place: dict[str, int]) -> Any:
    """The matrix of one class over the columns of all."""
    known = [k for k, name in enumerate(example.names) if name in place]
    into = sp.csr_matrix(
        (np.ones(len(known)), (known, [place[example.names[k]] for k in known])), shape=(len(example.names), len(place))
    )
    return (example.matrix @ into).tocsr()
