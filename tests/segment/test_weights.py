"""The weights files that are shipped: complete, finite and of the shape that the code reads."""

from __future__ import annotations

import json
import math
import re
from importlib import resources

import pytest

from make_class import tag_class
from setdown.segment.features import iter_features
from setdown.segment.gate import KINDS, gate_features, score_gate
from setdown.segment.signals import gather_signals
from setdown.segment.weights import TARGETS, load_gate, load_weights, parse_weights

LEXICAL = re.compile(r"w-?\d=\S+|ww-?\d=\S+ \S+")


@pytest.fixture(scope="module")
def raw():
    """The file as JSON."""
    return json.loads(resources.files("setdown.segment").joinpath("weights.json").read_text(encoding="utf-8"))


def test_both_regimes_are_there(raw):
    """One table for classes in which pauses can be seen, one for long blocks; and the gate."""
    assert set(raw) == {"regimes", "gate"}
    assert set(raw["regimes"]) == {"fine", "block"}


@pytest.mark.parametrize("regime", ["fine", "block"])
def test_a_regime_is_complete(raw, regime):
    """Every feature of a boundary has one finite number per target, every feature of a span one number."""
    table = raw["regimes"][regime]
    assert set(table) == {"intercept", "features", "spans", "bias"}
    assert len(table["intercept"]) == len(TARGETS) == 3
    assert len(table["features"]) > 100
    for values in [table["intercept"], *table["features"].values()]:
        assert len(values) == len(TARGETS)
        assert all(isinstance(v, float) and math.isfinite(v) for v in values)
    assert len(table["spans"]) > 100
    assert all(math.isfinite(v) for v in [table["bias"], *table["spans"].values()])


@pytest.mark.parametrize("regime", ["fine", "block"])
def test_every_target_is_learned(raw, regime):
    """Start, end and inside each have features that speak for and against them."""
    rows = list(raw["regimes"][regime]["features"].values())
    for target in range(len(TARGETS)):
        assert any(row[target] > 0 for row in rows)
        assert any(row[target] < 0 for row in rows)


@pytest.mark.parametrize("regime", ["fine", "block"])
def test_every_feature_can_fire(regime):
    """No weight is for a name that the code does not make: kinds come from the taggers, words are written as read."""
    weights = load_weights()[regime]
    assert all(LEXICAL.fullmatch(name) for name in weights.lexical)
    signals = gather_signals(tag_class("ready and go _20 and rest"))
    made = {name for name, _ in iter_features(signals)}
    assert all(name in made or re.fullmatch(r"\w+@-?\d+:\d+", name) for name in weights.dense)


def test_names_of_words_are_lexical():
    """A table is cut into features of mentions and silences, and features of words."""
    names = ["go@0:3", "gap>4.0", "warm_up@0:1", "withdrawn@0:1", "w0=go", "w-1=ready", "ww0=and go"]
    features = {name: [1.0, 2.0, 3.0] for name in names}
    table = {"intercept": [0.0] * 3, "features": features, "spans": {"touch": -1.5}, "bias": 0.5}
    made = parse_weights(table)
    assert set(made.dense) == set(names[:4])
    assert set(made.lexical) == set(names[4:])
    assert made.spans == {"touch": -1.5}
    assert made.bias == 0.5


def test_the_gate_is_complete():
    """One finite number for every feature of the gate, and an intercept."""
    gate = load_gate()
    assert set(gate) == {"intercept", *gate_features(tag_class("and go"), [])}
    assert set(KINDS) < set(gate)
    assert all(math.isfinite(v) for v in gate.values())
    assert any(gate.values())


def test_the_gate_weighs_densities():
    """Twice the talk with twice the mentions is the same density; what is not there counts nothing."""
    once = gate_features(tag_class("and go five more squats and rest"), [])
    twice = gate_features(tag_class("and go five more squats and rest " * 2), [])
    assert once["rest"] == pytest.approx(twice["rest"])
    assert once["rest"] > 0
    assert once["warm_up"] == 0
    assert score_gate(tag_class("and rest"), [], {"intercept": -2.0, "rest": 0.0}) == -2.0
    assert gate_features(tag_class(""), [])["share of work"] == 0
