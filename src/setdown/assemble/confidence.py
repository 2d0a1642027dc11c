"""How sure a value is: the ranker's own probability, corrected by how often it was right on classes it had not seen.

A ranker that learned from a class is too sure of itself there, and some fields are surer than they ought to be
everywhere. For every field one curve for values that are stated and one for 'nothing said' turn the probability of the
chosen candidate into a confidence: points (probability, share right) that never fall, straight lines between them. The
points are learned by ``tests/gold/train_weights.py`` from decisions on classes outside of the training set (pooled
adjacent violators: Barlow, Bartholomew, Bremner, Brunk, "Statistical Inference under Order Restrictions", 1972) and
stand in ``confidence.json`` beside this file, with the weights of ``trust.py``.
"""

from __future__ import annotations

import json
from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from importlib import resources
from typing import Any

STATED, EMPTY = "stated", "empty"
Curve = Sequence[tuple[float, float]]


@dataclass(frozen=True, slots=True)
class RowWeights:
    """``features`` map a name to (weight, usual value); below ``ask_below`` a row is to be looked at."""

    intercept: float = 0.0
    ask_below: float = 0.0
    features: Mapping[str, tuple[float, float]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Calibration:
    """Curves by field and kind of value (``stated``, ``empty``), and what makes a row doubtful."""

    curves: Mapping[str, Mapping[str, Curve]] = field(default_factory=dict)
    row: RowWeights | None = None

    def calibrate(self, name: str, probability: float, *, stated: bool) -> float:
        """The confidence of a value; the probability itself for a field without curves."""
        curve = self.curves.get(name, {}).get(STATED if stated else EMPTY)
        return follow_curve(curve, probability) if curve else probability


def follow_curve(curve: Curve, x: float) -> float:
    """The curve at ``x``: straight lines between its points, level before the first and after the last."""
    at = bisect_right(curve, x, key=lambda point: point[0])
    if at == 0:
        return curve[0][1]
    if at == len(curve):
        return curve[-1][1]
    (x0, y0), (x1, y1) = curve[at - 1], curve[at]
    return y0 + (y1 - y0) * (x - x0) / (x1 - x0)


def parse_calibration(raw: Mapping[str, Any]) -> Calibration:
    """A calibration from its JSON form."""
    curves = {
        name: {kind: tuple((float(x), float(y)) for x, y in points) for kind, points in kinds.items()}
        for name, kinds in raw["fields"].items()
    }
    row = raw["row"]
    features = {name: (float(weight), float(usual)) for name, (weight, usual) in row["features"].items()}
    return Calibration(curves, RowWeights(float(row["intercept"]), float(row["ask_below"]), features))


@lru_cache(maxsize=1)
def load_calibration() -> Calibration:
    """The shipped calibration, from ``confidence.json`` beside this file."""
    text = resources.files("setdown.assemble").joinpath("confidence.json").read_text(encoding="utf-8")
    return parse_calibration(json.loads(text))
