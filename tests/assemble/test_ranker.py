"""One way to decide: weigh the candidates, take the likeliest, keep the others with their probabilities."""

from __future__ import annotations

import json
import math
from importlib import resources

import pytest
from hypothesis import given
from hypothesis import strategies as st

from setdown.assemble.candidates import CandidateSet, bucket_distance
from setdown.assemble.ranker import Candidate, load_ranker_weights, rank
from setdown.model.mention import Mention

FIELDS = {"exercise", "side", "section", "reps", "work_s", "load", "basis", "finisher"}


def make_candidates(*strengths: float) -> list[Candidate]:
    """Candidates whose score is their strength, with the weights below."""
    return [Candidate(i, str(i), {"strength": s}) for i, s in enumerate(strengths)]


WEIGHTS = {"reps": {"strength": 1.0}}


def test_probabilities_are_the_softmax_of_the_scores():
    """Two scores that differ by log 3 are three to one."""
    ranked = rank("reps", make_candidates(0.0, math.log(3)), WEIGHTS)
    assert [c.value for c in ranked.candidates] == [1, 0]
    assert ranked.probabilities == pytest.approx((0.75, 0.25))
    assert ranked.best.value == 1
    assert ranked.confidence == pytest.approx(0.75)


@given(st.lists(st.floats(-500, 500), min_size=1, max_size=8))
def test_probabilities_sum_to_one_and_fall(strengths):
    """Whatever the scores are, also far apart."""
    ranked = rank("reps", make_candidates(*strengths), WEIGHTS)
    assert sum(ranked.probabilities) == pytest.approx(1)
    assert list(ranked.probabilities) == sorted(ranked.probabilities, reverse=True)
    assert sorted(c.value for c in ranked.candidates) == list(range(len(strengths)))


def test_ties_keep_the_order_given():
    """Nothing but the order of the candidates decides between equal scores."""
    assert [c.value for c in rank("reps", make_candidates(1, 2, 2, 1), WEIGHTS).candidates] == [1, 2, 0, 3]


def test_features_without_a_weight_count_nothing():
    """A feature that was never learned, or a field without weights, leaves all equal."""
    candidates = [Candidate("a", "a", {"new": 5.0}), Candidate("b", "b")]
    assert rank("reps", candidates, WEIGHTS).probabilities == (0.5, 0.5)
    assert rank("colour", candidates, WEIGHTS).probabilities == (0.5, 0.5)


def test_no_candidates_is_an_error():
    """There is always at least 'none' to choose."""
    with pytest.raises(ValueError, match="no candidates for reps"):
        rank("reps", [], WEIGHTS)


def test_candidates_of_one_value_are_one():
    """Two sources that agree add up: features and evidence of both, the origin of the first."""
    first, second = Mention("reps", 3, 4, None, "ten"), Mention("reps", 9, 10, None, "ten again")
    found = CandidateSet()
    found.put(10, "10", ["said here"], first)
    found.put(10, "10", ["as last time"], second, "carried")
    found.put(10, "10", ["as last time"], second, "carried")
    found.put(None, "", ["none"], None, "inferred")
    ten, none = found.all()
    assert ten.features == {"said here": 1.0, "as last time": 1.0}
    assert ten.evidence == [first, second]
    assert ten.origin == "said"
    assert none.origin == "inferred"
    assert "10" in found
    assert "12" not in found


@pytest.mark.parametrize(
    ("distance", "bucket"), [(0, "<=3"), (3, "<=3"), (4, "<=8"), (60, "<=60"), (120, "<=120"), (121, ">120")]
)
def test_distances_have_ranges(distance, bucket):
    """A distance in words falls into the smallest range that holds it."""
    assert bucket_distance(distance) == bucket


def test_the_shipped_weights_cover_every_field():
    """One table of finite numbers per decision."""
    text = resources.files("setdown.assemble").joinpath("weights.json").read_text(encoding="utf-8")
    assert set(json.loads(text)) == {"fields"}
    weights = load_ranker_weights()
    assert set(weights) == FIELDS
    for field, table in weights.items():
        assert table, field
        assert all(isinstance(w, float | int) and math.isfinite(w) for w in table.values()), field
