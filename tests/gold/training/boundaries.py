"""Learn the boundary weights: sparse logistic regression (L1) for start, end and inside, one set per timing regime."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import scipy.sparse as sp
from sklearn.linear_model import LogisticRegression
from training.classes import AnnotatedClass

from setdown.segment.features import iter_features, lexical_names
from setdown.segment.signals import Signals, gather_signals
from setdown.segment.weights import TARGETS

LEXICAL_STRENGTH = 0.7
MIN_CLASSES = 3


@dataclass(slots=True)
class Example:
    """One class in one style, as numbers."""

    item: AnnotatedClass
    signals: Signals
    dense: dict[str, Any]
    lexical: list[list[str]]
    labels: dict[str, Any]


def make_example(item: AnnotatedClass) -> Example:
    signals = gather_signals(item.tagged)
    n = signals.n
    labels = {"start": np.zeros(n + 1, bool), "end": np.zeros(n + 1, bool), "inside": np.zeros(n + 1, bool)}
    for start, end in item.spans:
        labels["start"][start] = labels["end"][end] = True
        labels["inside"][start:end] = True
    lexical = [lexical_names(signals.words, i) for i in range(n + 1)]
    return Example(item, signals, dict(iter_features(signals)), lexical, labels)


def choose_lexical(examples: Sequence[Example]) -> list[str]:
    """Lexical features that at least three classes have."""
    seen: dict[str, set[str]] = {}
    for e in examples:
        for name in {x for names in e.lexical for x in names}:
            seen.setdefault(name, set()).add(e.item.name)
    return sorted(name for name, classes in seen.items() if len(classes) >= MIN_CLASSES)


def build_matrix(e: Example, dense: dict[str, int], lexical: dict[str, int]) -> sp.csr_matrix:
    n = e.signals.n + 1
    block = np.zeros((n, len(dense)), np.float32)
    for name, values in e.dense.items():
        if name in dense:
            block[:, dense[name]] = values
    rows, columns = [], []
    for i, names in enumerate(e.lexical):
        for name in names:
            if name in lexical:
                rows.append(i)
                columns.append(lexical[name])
    words = sp.csr_matrix((np.full(len(rows), LEXICAL_STRENGTH, np.float32), (rows, columns)), shape=(n, len(lexical)))
    return sp.hstack([sp.csr_matrix(block), words]).tocsr()


def train_regime(regime: str, examples: Sequence[Example], strength: float = 0.8) -> dict[str, Any]:
    """The JSON table of one regime."""
    counts = Counter(name for e in examples for name in e.dense)
    dense = {name: i for i, name in enumerate(sorted(counts))}
    lexical = {name: i for i, name in enumerate(choose_lexical(examples))}
    matrix = sp.vstack([build_matrix(e, dense, lexical) for e in examples]).tocsr()
    weights = np.zeros((matrix.shape[1], len(TARGETS)))
    intercept = np.zeros(len(TARGETS))
    for t, target in enumerate(TARGETS):
        labels = np.concatenate([e.labels[target] for e in examples])
        c = strength if target != "inside" else strength / 4
        model = LogisticRegression(C=c, solver="liblinear", penalty="l1", tol=1e-3, max_iter=200, random_state=0)
        model.fit(matrix, labels)
        weights[:, t] = model.coef_[0]
        intercept[t] = model.intercept_[0]
    names = [*dense, *lexical]
    features = {}
    for i, name in enumerate(names):
        row = weights[i] * (1.0 if i < len(dense) else LEXICAL_STRENGTH)
        if np.any(np.abs(row) > 0.005):
            features[name] = [round(float(x), 3) for x in row]
    return {"intercept": [round(float(x), 3) for x in intercept], "features": features}
