"""The decode: one best sequence of work and talk for the whole class, not cue by cue.

Boundaries are scored one by one (``boundaries.py``), those that are likely enough are linked to a lattice of spans
(``lattice.py``), whole spans and the talk between them are scored (``span_features.py``), and the best path through the
lattice is the segmentation (``walk.py``). How likely each of its sets is, is summed over all paths.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from setdown.model.mention import TaggedTranscript
from setdown.model.segment import Segmentation, WorkSpan
from setdown.segment.boundaries import score_boundaries
from setdown.segment.gate import score_gate
from setdown.segment.lattice import SILENT, Lattice, build_lattice
from setdown.segment.signals import Signals, gather_signals
from setdown.segment.span_features import Evidence, gather_evidence, iter_edge_features
from setdown.segment.walk import find_best_path, weigh_edges
from setdown.segment.weights import SegmentWeights, load_gate, load_weights

SAME_SET = 0.5  # two spans are the same set when they share half of the time that they cover together
PLACES = 4


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
    spans = decode_spans(tagged, signals, scores, weights)
    if score_gate(tagged, spans, load_gate()) < 0:
        return Segmentation((), is_class=False)
    return Segmentation(tuple(spans), tuple(scores[:, 0].round(3).tolist()), tuple(scores[:, 1].round(3).tolist()))


def decode_spans(
    tagged: TaggedTranscript, signals: Signals, scores: NDArray[np.float64], weights: SegmentWeights
) -> list[WorkSpan]:
    """The best sequence of spans, each with how likely there is a set about there.

    Args:
        tagged: the class.
        signals: its :func:`setdown.segment.signals.gather_signals`; at least one word.
        scores: log-odds (start, end, inside) at every boundary, shape (n + 1, 3).
        weights: of its regime.
    """
    lattice = build_lattice(signals, scores)
    seen = gather_evidence(tagged, signals, scores)
    edges = score_edges(lattice, seen, weights)
    path = find_best_path(lattice, edges)
    probabilities, _ = weigh_edges(lattice, edges)
    chosen: list[tuple[int, int]] = []
    for edge in path:
        target = int(lattice.target[edge])
        at = int(lattice.place[target])
        if lattice.work[edge]:
            chosen.append((int(lattice.place[lattice.source[edge]]), at))
        elif lattice.role[target] == SILENT:
            chosen.append((at, at))
    likely = _sum_overlapping(chosen, lattice, seen, probabilities)
    return [
        WorkSpan(a, b, float(scores[a, 0]), float(scores[b, 1]), round(p, PLACES))
        for (a, b), p in zip(chosen, likely, strict=True)
    ]


def score_edges(lattice: Lattice, seen: Evidence, weights: SegmentWeights) -> NDArray[np.float64]:
    """The score of every edge: its weighted features, and ``bias`` for every set."""
    total = np.where(lattice.work | (lattice.role[lattice.target] == SILENT), weights.bias, 0.0)
    for name, edges, values in iter_edge_features(lattice, seen):
        weight = weights.spans.get(name)
        if weight is not None:
            total[edges] += weight * values
    return total


def _sum_overlapping(
    chosen: list[tuple[int, int]], lattice: Lattice, seen: Evidence, probabilities: NDArray[np.float64]
) -> list[float]:
    """For every chosen span the probability of all spans that are the same set, its ends a little off."""
    sets = np.flatnonzero((lattice.work | (lattice.role[lattice.target] == SILENT)) & (probabilities > 1e-6))
    place = lattice.place[lattice.target[sets]]
    silent = ~lattice.work[sets]
    first = np.where(silent, place, lattice.place[lattice.source[sets]])
    begins, stops = _time(seen, first, place)
    order = np.argsort(begins, kind="stable")
    begins, stops, mass = begins[order], stops[order], probabilities[sets][order]
    longest = float((stops - begins).max(initial=0.0))
    found = []
    for a, b in chosen:
        start, stop = (float(x[0]) for x in _time(seen, np.array([a]), np.array([b])))
        low, high = np.searchsorted(begins, start - longest), np.searchsorted(begins, stop, side="right")
        near_begins, near_stops = begins[low:high], stops[low:high]
        shared = np.minimum(near_stops, stop) - np.maximum(near_begins, start)
        covered = np.maximum(near_stops, stop) - np.minimum(near_begins, start)
        found.append(min(float(mass[low:high][shared >= SAME_SET * covered].sum()), 1.0))
    return found


def _time(
    seen: Evidence, first: NDArray[np.intp], last: NDArray[np.intp]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """When spans of words begin and end, in seconds; a span without a word fills the silence there."""
    silent = first == last
    return np.where(silent, seen.stops[first], seen.begins[first]), np.where(
        silent, seen.begins[last], seen.stops[last]
    )
