"""The lattice has every reading of a class that may be, each of them once, and no other."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from make_class import make_class
from setdown.model.mention import TaggedTranscript
from setdown.segment.lattice import (
    END,
    FIRST,
    FLOOR,
    LAST,
    MAX_SPAN_WORDS,
    MIN_SILENT_S,
    REACH,
    RELAY,
    SILENT,
    START,
    Lattice,
    build_lattice,
    find_path,
)
from setdown.segment.signals import Signals, gather_signals


def make_signals(text: str) -> Signals:
    """The signals of a marked text without mentions."""
    transcript, _ = make_class(text)
    return gather_signals(TaggedTranscript(transcript, tuple(w.text for w in transcript.words), ()))


def list_readings(lattice: Lattice, node: int = 0) -> list[tuple[tuple[int, int], ...]]:
    """The spans of every path from a node to the last one."""
    if node == len(lattice.place) - 1:
        return [()]
    found = []
    for e in np.flatnonzero(lattice.source == node).tolist():
        target = int(lattice.target[e])
        at = int(lattice.place[target])
        own: tuple[tuple[int, int], ...] = ()
        if lattice.work[e]:
            own = ((int(lattice.place[node]), at),)
        elif lattice.role[target] == SILENT:
            own = ((at, at),)
        found += [own + rest for rest in list_readings(lattice, target)]
    return found


def list_allowed(signals: Signals) -> set[tuple[tuple[int, int], ...]]:
    """Every sequence of spans and silences that do not overlap; between a silence and its neighbour there is talk."""
    n = signals.n
    spans = [(a, b) for a in range(n) for b in range(a + 1, n + 1)]
    silent = [(p, p) for p in range(1, n) if signals.gaps[p] >= MIN_SILENT_S]
    found = set()
    for size in range(n + len(silent) + 1):
        for some in itertools.combinations(sorted(spans + silent), size):
            pairs = list(itertools.pairwise(some))
            apart = all(a[1] <= b[0] for a, b in pairs)
            if apart and not any(a[1] == b[0] and (a[0] == a[1] or b[0] == b[1]) for a, b in pairs):
                found.add(some)
    return found


@settings(deadline=None, max_examples=60)
@given(st.lists(st.sampled_from(["go", "_9 go", "_2 go"]), min_size=1, max_size=4).map(" ".join))
def test_every_reading_once(text):
    """With every boundary likely, the paths are just the sequences that may be."""
    signals = make_signals(text)
    readings = list_readings(build_lattice(signals, np.zeros((signals.n + 1, 3))))
    assert len(readings) == len(set(readings))
    assert set(readings) == list_allowed(signals)


def test_unlikely_boundaries_are_left_out():
    """With nothing above the floor, the one reading is talk alone."""
    signals = make_signals("go " * 50)
    assert list_readings(build_lattice(signals, np.full((51, 3), FLOOR))) == [()]


def test_spans_that_must_be_there():
    """Gold spans have a path however unlikely, and it is the path of just those spans."""
    signals = make_signals("go " * 20 + "_9 " + "go " * 20)
    spans = [(2, 9), (9, 15), (20, 20), (22, 40)]
    lattice = build_lattice(signals, np.full((41, 3), -99.0), spans)
    path = find_path(lattice, spans)
    assert [int(lattice.target[e]) for e in path[:-1]] == [int(lattice.source[e]) for e in path[1:]]
    assert tuple(spans) in list_readings(lattice)
    places = [(int(lattice.place[lattice.source[e]]), int(lattice.place[lattice.target[e]])) for e in path]
    assert [p for p, e in zip(places, path, strict=True) if lattice.work[e]] == [(2, 9), (9, 15), (22, 40)]


def test_a_path_that_is_not_there():
    """Spans that overlap have none."""
    signals = make_signals("go " * 20)
    lattice = build_lattice(signals, np.zeros((21, 3)))
    with pytest.raises(KeyError):
        find_path(lattice, [(2, 9), (5, 12)])


@pytest.mark.parametrize("words", [REACH - 1, REACH, REACH + 1, 2 * REACH + 17, 5 * REACH])
def test_long_talk_is_one_way(words):
    """However much is said between two sets, there is one way from the one to the other."""
    n = words + 20
    signals = make_signals("go " * n)
    scores = np.full((n + 1, 3), -99.0)
    scores[[3, 10 + words], 0] = scores[[10, 15 + words], 1] = 0.0
    lattice = build_lattice(signals, scores)
    readings = list_readings(lattice)
    assert len(readings) == len(set(readings))
    assert ((3, 10), (10 + words, 15 + words)) in readings
    assert set(lattice.role.tolist()) == {FIRST, END, RELAY, START, LAST}


def test_edges_grow_with_the_length_alone():
    """Twice the words have twice the edges once a class is longer than the longest span."""
    sizes = []
    for n in (4 * MAX_SPAN_WORDS, 8 * MAX_SPAN_WORDS):
        signals = make_signals("go " * n)
        sizes.append(len(build_lattice(signals, np.zeros((n + 1, 3))).source))
    assert sizes[0] > MAX_SPAN_WORDS**2
    assert sizes[1] < 2.4 * sizes[0]
