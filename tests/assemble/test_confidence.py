"""A ranker's probability becomes a confidence by curves that never fall; the shipped ones can be read and trusted."""

from __future__ import annotations

import json
from importlib import resources

import numpy as np
import pytest

from setdown.assemble.build import SHEET_FIELDS
from setdown.assemble.confidence import Calibration, follow_curve, load_calibration, parse_calibration

CURVE = ((0.2, 0.1), (0.6, 0.5), (0.9, 0.5), (1.0, 0.95))


def test_a_curve_is_followed_in_straight_lines():
    """Between its points as numpy interpolates, level outside of them."""
    xs = [0.0, 0.2, 0.35, 0.6, 0.75, 0.9, 0.99, 1.0]
    wanted = np.interp(xs, [x for x, _ in CURVE], [y for _, y in CURVE])
    assert [follow_curve(CURVE, x) for x in xs] == pytest.approx(wanted.tolist())


def test_stated_and_empty_values_have_their_own_curves():
    """'No load' is surer than a load of the same probability; a field without curves keeps the probability."""
    made = Calibration({"load": {"stated": ((0.0, 0.0), (1.0, 0.6)), "empty": ((0.0, 0.5), (1.0, 1.0))}})
    assert made.calibrate("load", 0.5, stated=True) == pytest.approx(0.3)
    assert made.calibrate("load", 0.5, stated=False) == pytest.approx(0.75)
    assert made.calibrate("reps", 0.5, stated=True) == 0.5
    assert Calibration().calibrate("load", 0.25, stated=True) == 0.25


def test_the_shipped_curves():
    """Every field has its curves; they rise from point to point and stay within what a confidence may be."""
    calibration = load_calibration()
    assert set(calibration.curves) == {*SHEET_FIELDS, "span"}
    for kinds in calibration.curves.values():
        for curve in kinds.values():
            xs, ys = zip(*curve, strict=True)
            assert list(xs) == sorted(set(xs))
            assert list(ys) == sorted(ys)
            assert 0 < ys[0] <= ys[-1] < 1


def test_the_shipped_row_weights():
    """Doubt about a value and a later round speak against a row; the threshold lies where a choice is to be made."""
    row = load_calibration().row
    assert row is not None
    assert 0.2 < row.ask_below < 0.8
    for name in ("exercise", "side", "reps", "load"):
        assert row.features[f"{name}: unsure"][0] < 0
    assert row.features["round: a later one"][0] < 0


def test_the_file_is_what_is_parsed():
    """The JSON form holds nothing that the parser leaves out."""
    raw = json.loads(resources.files("setdown.assemble").joinpath("confidence.json").read_text(encoding="utf-8"))
    made = parse_calibration(raw)
    assert {name: list(kinds) for name, kinds in made.curves.items()} == {
        name: list(kinds) for name, kinds in raw["fields"].items()
    }
    assert made.row is not None
    assert {name: list(pair) for name, pair in made.row.features.items()} == raw["row"]["features"]
