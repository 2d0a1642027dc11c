"""Learn when a transcript is a class at all: logistic regression over densities, with an L2 penalty."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from sklearn.linear_model import LogisticRegression

from setdown.model.mention import TaggedTranscript
from setdown.model.segment import WorkSpan
from setdown.segment.gate import gate_features

Judged = Sequence[tuple[TaggedTranscript, Sequence[WorkSpan]]]


def train_gate(classes: Judged, others: Judged) -> dict[str, float]:
    """One weight per feature and ``intercept``; both sides weigh the same however many there are of each."""
    if not others:
        return {"intercept": 1.0}
    rows = [gate_features(tagged, spans) for tagged, spans in [*classes, *others]]
    names = sorted(rows[0])
    matrix = np.array([[r[n] for n in names] for r in rows])
    labels = np.array([1] * len(classes) + [0] * len(others))
    model = LogisticRegression(C=10.0, class_weight="balanced", max_iter=2000).fit(matrix, labels)
    found = {n: round(float(w), 3) for n, w in zip(names, model.coef_[0], strict=True)}
    return {**found, "intercept": round(float(model.intercept_[0]), 3)}
