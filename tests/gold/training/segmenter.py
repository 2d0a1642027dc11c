"""Train the segmenter: boundaries first, then whole spans on boundary scores of classes that were not seen."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from training.boundaries import Example, train_regime
from training.spans import BIAS, SpanExample, make_span_example, train_spans

from setdown.model.segment import Segmentation
from setdown.segment.boundaries import score_boundaries
from setdown.segment.decode import decode_spans
from setdown.segment.weights import parse_weights

REGIMES = ("fine", "block")
Key = tuple[str, str]
Tables = dict[str, Any]


def train_boundary_tables(examples: Iterable[Example]) -> Tables:
    """Boundary weights of both regimes, without spans."""
    known = list(examples)
    return {
        regime: train_regime(regime, [e for e in known if e.signals.regime == regime]) | {"spans": {}, "bias": 0.0}
        for regime in REGIMES
    }


def make_span_examples(examples: Iterable[Example], tables: Tables) -> list[SpanExample]:
    """Lattices of classes that ``tables`` never saw."""
    found = []
    for e in examples:
        weights = parse_weights(tables[e.signals.regime])
        found.append(make_span_example(e, score_boundaries(e.signals, weights)))
    return found


def add_spans(tables: Tables, examples: Sequence[tuple[str, SpanExample]]) -> Tables:
    """The tables with span weights learned from (regime, lattice) of each class."""
    out = {}
    for regime in REGIMES:
        own = [e for r, e in examples if r == regime]
        out[regime] = tables[regime] | {"spans": train_spans(own), "bias": BIAS[regime]}
    return out


def segment(example: Example, tables: Tables) -> Segmentation:
    """The spans of one class."""
    weights = parse_weights(tables[example.signals.regime])
    scores = score_boundaries(example.signals, weights)
    return Segmentation(tuple(decode_spans(example.item.tagged, example.signals, scores, weights)))
