"""What is learned about confidences: curves that never fall, weights that find their way, the same every time."""

from __future__ import annotations

import random
import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.insert(0, str(Path(__file__).parent))

from training.calibration import CEILING, FLOOR, LEAST_IN_BIN, fit_curve, fit_row

from setdown.assemble.confidence import RowWeights, follow_curve
from setdown.assemble.trust import rate_row


def draw_points(n: int, seed: int) -> list[tuple[float, bool]]:
    """Probabilities that promise too much: right as often as their square."""
    rng = random.Random(seed)
    return [(p, rng.random() < p * p) for p in (rng.random() for _ in range(n))]


def test_pooling_worked_by_hand():
    """Four bins of thirty with 6, 21, 15 and 30 right: the second and third violate the order and are pooled.

    Each share counts half a value more: 6.5/31, (21.5 + 15.5)/62, 30.5/31.
    """
    points = []
    for bin_, right in enumerate((6, 21, 15, 30)):
        points += [(0.1 + 0.2 * bin_, n < right) for n in range(LEAST_IN_BIN)]
    made = fit_curve(points)
    assert [x for x, _ in made] == pytest.approx([0.1, 0.3, 0.5, 0.7])
    wanted = [6.5 / 31, 37 / 62, 37 / 62, 30.5 / 31]
    assert [y for _, y in made] == pytest.approx(wanted, abs=0.0006)


@pytest.mark.parametrize("seed", range(4))
def test_curves_rise_and_come_near_the_truth(seed):
    """From 3000 values the curve lies within 0.1 of the square that they were drawn from, and never falls."""
    made = fit_curve(draw_points(3000, seed))
    xs, ys = zip(*made, strict=True)
    assert list(xs) == sorted(set(xs))
    assert list(ys) == sorted(ys)
    assert FLOOR <= ys[0] <= ys[-1] <= CEILING
    off = [abs(follow_curve(made, x) - x * x) for x in np.arange(0.1, 0.95, 0.05)]
    assert max(off) < 0.1
    assert made == fit_curve(draw_points(3000, seed))


def test_probabilities_that_cannot_be_told_apart():
    """All at one probability give one point: their share."""
    [[x, y]] = fit_curve([(1.0, n % 4 > 0) for n in range(400)])
    assert (x, y) == (1.0, pytest.approx(0.75, abs=0.01))


def test_no_values_no_curve():
    """Nothing can be learned from nothing."""
    with pytest.raises(ValueError, match="points"):
        fit_curve([])


def test_row_weights_apply_to_features_as_they_are():
    """Rows fail where 'a' holds and where 'b' is large: both weigh against; a feature of hardly any row is left out."""
    rng = random.Random(5)
    features, perfect = [], []
    for n in range(800):
        found = {"b": 40 * rng.random()} | ({"a": 1.0} if rng.random() < 0.5 else {}) | ({"rare": 1.0} if n < 3 else {})
        features.append(found)
        perfect.append(rng.random() < 1 / (1 + np.exp(2 * found.get("a", 0.0) + 0.1 * found["b"] - 3)))
    row = fit_row(features, perfect)
    assert set(row["features"]) == {"a", "b"}
    weights = RowWeights(row["intercept"], 0.5, {name: tuple(pair) for name, pair in row["features"].items()})
    assert weights.features["a"][0] < 0
    assert weights.features["b"][0] < 0
    assert weights.features["b"][1] == pytest.approx(20, abs=1)
    mean = sum(rate_row(f, weights) for f in features) / len(features)
    assert mean == pytest.approx(sum(perfect) / len(perfect), abs=0.02)
    assert row == fit_row(features, perfect)
