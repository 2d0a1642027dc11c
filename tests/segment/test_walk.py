"""Walks over lattices, compared with a walk over every path one by one."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from make_class import make_class
from setdown.model.mention import TaggedTranscript
from setdown.segment.lattice import Lattice, build_lattice
from setdown.segment.signals import gather_signals
from setdown.segment.walk import find_best_path, weigh_edges


def make_lattice(text: str, seed: int) -> tuple[Lattice, np.ndarray]:
    """The lattice of a marked text whose boundaries are likely or not as the seed has it, and scores for its edges."""
    transcript, _ = make_class(text)
    signals = gather_signals(TaggedTranscript(transcript, tuple(w.text for w in transcript.words), ()))
    rng = np.random.default_rng(seed)
    lattice = build_lattice(signals, rng.normal(-3.5, 3, size=(signals.n + 1, 3)))
    return lattice, rng.normal(0, 2, size=len(lattice.source))


def list_paths(lattice: Lattice, node: int = 0) -> list[list[int]]:
    """Every path from a node to the last one, as edges."""
    if node == len(lattice.place) - 1:
        return [[]]
    edges = np.flatnonzero(lattice.source == node).tolist()
    return [[e, *rest] for e in edges for rest in list_paths(lattice, int(lattice.target[e]))]


TEXTS = st.lists(st.sampled_from(["go", "_9 go", "_2 go"]), min_size=1, max_size=7).map(" ".join)


@settings(deadline=None, max_examples=150)
@given(TEXTS, st.integers(0, 2**32 - 1))
def test_the_best_path_is_the_best_of_all(text, seed):
    """No path has a higher total, and the path leads from the first node to the last."""
    lattice, scores = make_lattice(text, seed)
    path = find_best_path(lattice, scores)
    assert path in list_paths(lattice)
    assert scores[path].sum() == pytest.approx(max(scores[p].sum() for p in list_paths(lattice)))


@settings(deadline=None, max_examples=150)
@given(TEXTS, st.integers(0, 2**32 - 1))
def test_probabilities_are_shares_of_all_paths(text, seed):
    """An edge is as likely as the paths that take it, each weighed by the exponential of its total."""
    lattice, scores = make_lattice(text, seed)
    paths = list_paths(lattice)
    mass = [math.exp(scores[p].sum()) for p in paths]
    wanted = np.zeros(len(scores))
    for path, m in zip(paths, mass, strict=True):
        wanted[path] += m / sum(mass)
    found, total = weigh_edges(lattice, scores)
    assert found == pytest.approx(wanted, abs=1e-9)
    assert total == pytest.approx(math.log(sum(mass)))


def test_scores_of_any_size_are_weighed():
    """Hundreds of points apart, and still probabilities."""
    lattice, scores = make_lattice("go _9 go go _2 go", 3)
    found, total = weigh_edges(lattice, scores * 500)
    assert np.isfinite(found).all()
    assert math.isfinite(total)
    assert found[find_best_path(lattice, scores * 500)] == pytest.approx(1.0)
