"""The decode: one best sequence of work and talk for the whole class, not cue by cue.

Semi-Markov dynamic programming over candidate boundaries. A span of work from boundary ``i`` to ``j`` scores

    start(i) + end(j) + w * sum(inside) + duration prior + bias

with log-odds learned from annotated classes; talk scores nothing. Spans do not overlap but may touch.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from setdown.model.mention import TaggedTranscript
from setdown.model.segment import Segmentation, WorkSpan
from setdown.segment.features import iter_features, score_lexical
from setdown.segment.gate import score_gate
from setdown.segment.signals import Signals, gather_signals
from setdown.segment.weights import TARGETS, BoundaryWeights, load_gate, load_weights

MAX_SPAN_S = 600.0
MAX_SPAN_WORDS = 450
MIN_SILENT_S = 8.0  # a set without a word is at least this long
SILENT_BIAS = 0.0  # and its two boundaries must speak for it by themselves
FLOOR = -5.0  # boundaries less likely than this log-odds are not considered


def segment_mentions(tagged: TaggedTranscript) -> Segmentation:
    """Cut the work out of the talk.

    Args:
        tagged: a class with its mentions; may be empty.

    Returns:
        Spans in time order; none for a transcript without words, or one that is no class.
    """
    if not tagged.words:
        return Segmentation(())
    signals = gather_signals(tagged)
    weights = load_weights()[signals.regime]
    scores = score_boundaries(signals, weights)
    spans = decode_spans(signals, scores, weights)
    if score_gate(tagged, spans, load_gate()) < 0:
        return Segmentation((), is_class=False)
    return Segmentation(
        tuple(spans), tuple(float(x) for x in scores[:, 0].round(3)), tuple(float(x) for x in scores[:, 1].round(3))
    )


def score_boundaries(signals: Signals, weights: BoundaryWeights) -> NDArray[np.float64]:
    """Log-odds (start, end, inside) at every boundary, shape (n + 1, 3)."""
    total = score_lexical(signals.words, weights.lexical, len(TARGETS))
    total += weights.intercept
    dense = weights.dense
    names, rows = [], []
    for name, values in iter_features(signals, dense.__contains__):
        names.append(name)
        rows.append(values)
    if names:
        # Weights have three decimals: as whole thousandths every product and sum is exact in single precision, so that
        # the result does not depend on the order in which a machine adds.
        thousandths = np.array([dense[name] for name in names], dtype=np.float64) * 1000
        exact = np.stack(rows).T @ np.rint(thousandths).astype(np.float32)
        total += exact.astype(np.float64) / 1000
    return total


def decode_spans(signals: Signals, scores: NDArray[np.float64], weights: BoundaryWeights) -> list[WorkSpan]:
    """The best sequence of spans, each with its margin."""
    scale, n = weights.scale, signals.n
    start = scores[:, 0]
    end = scores[:, 1]
    inside = np.concatenate([[0.0], np.cumsum(scores[:n, 2])])
    begins = np.concatenate([signals.starts, [signals.ends[-1] + 1.0]])
    stops = np.concatenate([[signals.starts[0]], signals.ends])
    first = np.flatnonzero(start > FLOOR)
    last = np.flatnonzero(end > FLOOR)
    silent = _find_silent(signals, start, end, weights)
    value, choice = _run_forward(n, first, last, start, end, inside, begins, stops, silent, weights)
    spans: list[WorkSpan] = []
    at = n
    while at > 0:
        if at in silent:
            spans.append(WorkSpan(at, at, float(start[at]), float(end[at]), silent[at] / scale["bias"]))
        origin = choice[at]
        if origin < 0:
            at -= 1
            continue
        talk = value[at - 1] if at else 0.0
        spans.append(
            WorkSpan(
                int(origin), int(at), float(start[origin]), float(end[at]), float(value[at] - talk) / scale["bias"]
            )
        )
        at = int(origin)
    return spans[::-1]


def _find_silent(
    signals: Signals, start: NDArray[np.float64], end: NDArray[np.float64], weights: BoundaryWeights
) -> dict[int, float]:
    """Boundaries whose silence is a set of its own (nothing is said during it), with what each gains."""
    scale, prior = weights.scale, weights.duration
    found: dict[int, float] = {}
    for p in np.flatnonzero(signals.gaps[:-1] >= MIN_SILENT_S):
        fit = ((np.log(signals.gaps[p]) - prior.mean) / prior.sd) ** 2
        gain = scale["start"] * start[p] + scale["end"] * end[p] + SILENT_BIAS - scale["duration"] * fit
        if gain > 0:
            found[int(p)] = float(gain)
    return found


def _run_forward(
    n: int,
    first: NDArray[np.intp],
    last: NDArray[np.intp],
    start: NDArray[np.float64],
    end: NDArray[np.float64],
    inside: NDArray[np.float64],
    begins: NDArray[np.float64],
    stops: NDArray[np.float64],
    silent: dict[int, float],
    weights: BoundaryWeights,
) -> tuple[list[float], list[int]]:
    scale, prior = weights.scale, weights.duration
    value = np.full(n + 1, -np.inf)
    value[0] = 0.0
    choice = np.full(n + 1, -1, dtype=np.intp)
    is_first = np.zeros(n + 1, dtype=bool)
    is_first[first] = True
    low = np.searchsorted(last, first, side="right")
    high = np.searchsorted(last, first + MAX_SPAN_WORDS, side="right")
    position = {int(p): k for k, p in enumerate(first)}
    closing = scale["end"] * end[last] + scale["inside"] * inside[last]
    best_so_far = 0.0
    for p in range(n + 1):
        if value[p] < best_so_far or p == 0:
            value[p] = best_so_far
            choice[p] = -1
        else:
            best_so_far = float(value[p])
        best_so_far += silent.get(p, 0.0)
        if not is_first[p]:
            continue
        k = position[p]
        ends = last[low[k] : high[k]]
        if not len(ends):
            continue
        length = np.maximum(stops[ends] - begins[p], 1.0)
        surprise = (np.log(length) - prior.mean) / prior.sd
        opening = best_so_far + scale["start"] * float(start[p]) - scale["inside"] * float(inside[p]) + scale["bias"]
        total = opening + closing[low[k] : high[k]] - scale["duration"] * surprise * surprise
        total[length > MAX_SPAN_S] = -np.inf
        better = total > value[ends]
        value[ends[better]] = total[better]
        choice[ends[better]] = p
    return value.tolist(), choice.tolist()
