"""The learned weights of the segmenter: a readable data file, one table per timing regime."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from importlib import resources
from typing import Any

import numpy as np
from numpy.typing import NDArray

TARGETS = ("start", "end", "inside")


@dataclass(frozen=True, slots=True)
class SegmentWeights:
    """Weights of one regime: ``dense`` and ``lexical`` map a boundary's features to (start, end, inside) weights.

    ``by_place`` has the lexical weights once more, as :func:`index_lexical` makes them of ``lexical``. ``spans`` has
    one weight for each feature of a span or of talk, and every set gains ``bias``.
    """

    intercept: NDArray[np.float64]
    dense: dict[str, NDArray[np.float64]]
    lexical: dict[str, NDArray[np.float64]]
    spans: Mapping[str, float] = field(default_factory=dict)
    bias: float = 0.0
    by_place: dict[str, dict[str, NDArray[np.float64]]] = field(default_factory=dict)


@lru_cache(maxsize=1)
def _load() -> tuple[dict[str, SegmentWeights], dict[str, float]]:
    raw = json.loads(resources.files("setdown.segment").joinpath("weights.json").read_text(encoding="utf-8"))
    return {regime: parse_weights(table) for regime, table in raw["regimes"].items()}, raw["gate"]


def load_weights() -> dict[str, SegmentWeights]:
    """Weights by regime (``fine``, ``block``), from ``weights.json`` beside this file."""
    return _load()[0]


def load_gate() -> dict[str, float]:
    """Weights of the decision whether a transcript is a class."""
    return _load()[1]


def index_lexical(lexical: Mapping[str, NDArray[np.float64]]) -> dict[str, dict[str, NDArray[np.float64]]]:
    """Lexical weights by place (``w-1``, ``ww0``) and by what stands there."""
    found: dict[str, dict[str, NDArray[np.float64]]] = {}
    for name, values in lexical.items():
        place, _, text = name.partition("=")
        found.setdefault(place, {})[text] = values
    return found


def parse_weights(table: Mapping[str, Any]) -> SegmentWeights:
    """One regime from its JSON form."""
    dense: dict[str, NDArray[np.float64]] = {}
    lexical: dict[str, NDArray[np.float64]] = {}
    rows = np.array(list(table["features"].values()), dtype=np.float64).reshape(-1, len(TARGETS))
    for name, values in zip(table["features"], rows, strict=True):
        kind = lexical if name.startswith(("w-", "w0", "w1", "w2", "ww")) else dense
        kind[name] = values
    return SegmentWeights(
        intercept=np.array(table["intercept"], dtype=np.float64),
        dense=dense,
        lexical=lexical,
        spans=table["spans"],
        bias=float(table["bias"]),
        by_place=index_lexical(lexical),
    )
