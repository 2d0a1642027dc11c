"""The decode: one best sequence of work and talk for the whole class, not cue by cue.

Semi-Markov dynamic programming over candidate boundaries. A span of work from boundary ``i`` to ``j`` scores

    start(i) + end(j) + w * sum(inside) + duration prior + bias

with log-odds learned from annotated classes; talk scores nothing. Spans do not overlap but may touch.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice, pairwise

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
BATCH = 64  # features, or beginnings, that are worked on at a time
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
    return Segmentation(tuple(spans), tuple(scores[:, 0].round(3).tolist()), tuple(scores[:, 1].round(3).tolist()))


def score_boundaries(signals: Signals, weights: BoundaryWeights) -> NDArray[np.float64]:
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
    closing = scale["end"] * end[last] + scale["inside"] * inside[last]
    reach = _Reach(first, last, begins, stops, closing, weights)
    opening = list(
        zip((scale["start"] * start[first]).tolist(), (scale["inside"] * inside[first]).tolist(), strict=True)
    )
    value, openings, finals = _run_forward(n, reach, opening, silent, scale["bias"])
    spans: list[WorkSpan] = []
    at = n
    while at > 0:
        if at in silent:
            spans.append(WorkSpan(at, at, float(start[at]), float(end[at]), silent[at] / scale["bias"]))
        if at not in finals:
            at -= 1
            continue
        origin = reach.find_origin(at, openings)
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


class _Reach:
    """Which ends (``last``) each beginning (``first``) of a span of work can have, and what the pair costs.

    ``closing`` is what each end is worth by itself; lengths of time are in seconds.
    """

    def __init__(
        self,
        first: NDArray[np.intp],
        last: NDArray[np.intp],
        begins: NDArray[np.float64],
        stops: NDArray[np.float64],
        closing: NDArray[np.float64],
        weights: BoundaryWeights,
    ) -> None:
        self.first, self.last, self.closing = first, last, closing
        self.begins, self.stops = begins[first], stops[last]
        self.low = np.searchsorted(last, first, side="right")
        self.high = np.searchsorted(last, first + MAX_SPAN_WORDS, side="right")
        self._prior, self._scale = weights.duration, weights.scale["duration"]

    def iter_costs(self) -> Iterator[NDArray[np.float64]]:
        """For every beginning what the lengths of its spans cost; infinite for those that last too long."""
        for at in range(0, len(self.first), BATCH):
            low, high = self.low[at : at + BATCH], self.high[at : at + BATCH]
            sizes = high - low
            edges = np.concatenate([[0], np.cumsum(sizes)])
            ends = np.arange(edges[-1]) + np.repeat(low - edges[:-1], sizes)
            costs = self._cost(self.stops[ends] - np.repeat(self.begins[at : at + BATCH], sizes))
            for a, b in pairwise(edges.tolist()):
                yield costs[a:b]

    def find_origin(self, end: int, openings: NDArray[np.float64]) -> int:
        """The beginning that is best for a span which ends at ``end``; of equals the first."""
        k = int(np.searchsorted(self.last, end))
        a, b = np.searchsorted(self.high, k, side="right"), np.searchsorted(self.low, k, side="right")
        total = openings[a:b] + self.closing[k] - self._cost(self.stops[k] - self.begins[a:b])
        return int(self.first[a + int(total.argmax())])

    def _cost(self, length: NDArray[np.float64]) -> NDArray[np.float64]:
        surprise = (np.log(np.maximum(length, 1.0)) - self._prior.mean) / self._prior.sd
        cost = self._scale * surprise * surprise
        cost[length > MAX_SPAN_S] = np.inf
        return cost


def _run_forward(
    n: int, reach: _Reach, opening: list[tuple[float, float]], silent: dict[int, float], bias: float
) -> tuple[list[float], NDArray[np.float64], set[int]]:
    """The best total up to every boundary, that of opening a span at each beginning, and the ends of best spans.

    ``opening`` has for every beginning what it gains, and what was summed up inside before it.
    """
    value = [0.0] * (n + 1)
    openings = np.empty(len(reach.first))
    finals: set[int] = set()
    best_at = np.full(len(reach.last), -np.inf)
    beginnings = zip(reach.first.tolist(), reach.low.tolist(), reach.high.tolist(), reach.iter_costs(), strict=True)
    upcoming = next(beginnings, None)
    endings = dict(zip(reach.last.tolist(), range(len(reach.last)), strict=True))
    begun = 0
    best_so_far = 0.0
    for p in range(n + 1):
        k = endings.get(p)
        if k is not None and p and best_at[k] >= best_so_far:
            best_so_far = float(best_at[k])
            finals.add(p)
        value[p] = best_so_far
        best_so_far += silent.get(p, 0.0)
        if upcoming is None or upcoming[0] != p:
            continue
        _, low, high, costs = upcoming
        gain, loss = opening[begun]
        total = openings[begun] = best_so_far + gain - loss + bias
        np.maximum(best_at[low:high], total + reach.closing[low:high] - costs, out=best_at[low:high])
        begun += 1
        upcoming = next(beginnings, None)
    return value, openings, finals
