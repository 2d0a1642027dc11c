"""How likely every boundary between two words begins or ends a set, and every word lies in one."""

from __future__ import annotations

from itertools import islice

import numpy as np
from numpy.typing import NDArray

from setdown.segment.features import iter_features, score_lexical
from setdown.segment.signals import Signals
from setdown.segment.weights import TARGETS, SegmentWeights

BATCH = 64  # features that are worked on at a time


def score_boundaries(signals: Signals, weights: SegmentWeights) -> NDArray[np.float64]:
    """Log-odds (start, end, inside) at every boundary, shape (n + 1, 3)."""
    total = score_lexical(signals.words, weights.by_place, len(TARGETS))
    total += weights.intercept
    # Weights have three decimals: as whole thousandths every product and sum is exact in single precision, so that
    # the result does not depend on the order in which a machine adds.
    exact = np.zeros((len(TARGETS), signals.n + 1), dtype=np.float32)
    rows = np.empty((BATCH, signals.n + 1), dtype=np.float32)
    features = iter_features(signals, weights.dense.__contains__)
    while batch := list(islice(features, BATCH)):
        for row, (_, flags) in zip(rows, batch, strict=False):
            row[:] = flags
        thousandths = np.array([weights.dense[name] for name, _ in batch]) * 1000
        # einsum, because a matrix product of this size would wait for other threads longer than it takes
        exact += np.einsum("ft,fn->tn", np.rint(thousandths).astype(np.float32), rows[: len(batch)])
    total += exact.T.astype(np.float64) / 1000
    return total
