"""The decode: the best sequence of spans, found by dynamic programming and here also by trying all of them."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from make_class import make_class, tag_class
from setdown.model.mention import TaggedTranscript
from setdown.model.segment import Segmentation
from setdown.segment import segment_mentions
from setdown.segment.decode import (
    FLOOR,
    MAX_SPAN_WORDS,
    MIN_SILENT_S,
    SILENT_BIAS,
    decode_spans,
    score_boundaries,
)
from setdown.segment.signals import Signals, gather_signals
from setdown.segment.weights import BoundaryWeights, Duration, load_weights

SCALE = {"start": 1.0, "end": 1.0, "inside": 0.5, "bias": 1.0, "duration": 0.5}
WEIGHTS = BoundaryWeights(np.zeros(3), {}, {}, Duration(math.log(4), 0.8), SCALE)
SCORE = st.floats(-6, 6).map(lambda x: round(x, 4))


def make_signals(text: str) -> Signals:
    """The signals of a marked text without mentions."""
    transcript, _ = make_class(text)
    return gather_signals(TaggedTranscript(transcript, tuple(w.text for w in transcript.words), ()))


def weigh_span(signals: Signals, scores: np.ndarray, start: int, end: int) -> float:
    """The formula of the module's docstring; -inf where a boundary is too unlikely."""
    if scores[start, 0] <= FLOOR or scores[end, 1] <= FLOOR:
        return -math.inf
    seconds = max(signals.ends[end - 1] - signals.starts[start], 1.0)
    fit = ((math.log(seconds) - WEIGHTS.duration.mean) / WEIGHTS.duration.sd) ** 2
    inside = SCALE["inside"] * scores[start:end, 2].sum()
    return scores[start, 0] + scores[end, 1] + inside + SCALE["bias"] - SCALE["duration"] * fit


def weigh_silence(signals: Signals, scores: np.ndarray, at: int) -> float:
    """What a silence gains as a set of its own."""
    if not 0 < at < signals.n or signals.gaps[at] < MIN_SILENT_S:
        return -math.inf
    fit = ((math.log(signals.gaps[at]) - WEIGHTS.duration.mean) / WEIGHTS.duration.sd) ** 2
    return scores[at, 0] + scores[at, 1] + SILENT_BIAS - SCALE["duration"] * fit


def list_choices(n: int, low: int = 0):
    """Every sequence of spans over words ``low`` to ``n`` that do not overlap."""
    yield ()
    for start, end in itertools.combinations(range(low, n + 1), 2):
        for rest in list_choices(n, end):
            yield ((start, end), *rest)


def find_best(signals: Signals, scores: np.ndarray) -> float:
    """The highest total by trying everything: silences outside every span count where they gain."""
    best = 0.0
    for spans in list_choices(signals.n):
        silent = (p for p in range(signals.n) if not any(a < p < b for a, b in spans))
        total = sum(weigh_span(signals, scores, a, b) for a, b in spans)
        best = max(best, total + sum(max(0.0, weigh_silence(signals, scores, p)) for p in silent))
    return best


@settings(deadline=None, max_examples=150)
@given(st.lists(st.sampled_from(["go", "_9 go", "_2 go"]), min_size=1, max_size=5).map(" ".join), st.data())
def test_no_other_sequence_is_better(text, data):
    """The spans add up to the highest total that any sequence has, and are in order without overlap."""
    signals = make_signals(text)
    cells = data.draw(st.lists(SCORE, min_size=3 * (signals.n + 1), max_size=3 * (signals.n + 1)))
    scores = np.array(cells).reshape(-1, 3)
    scores += np.arange(scores.size).reshape(-1, 3) * 1e-5  # no ties: of two equal choices neither has a margin
    spans = decode_spans(signals, scores, WEIGHTS)
    total = sum(
        weigh_span(signals, scores, s.start, s.end) if s.end > s.start else weigh_silence(signals, scores, s.start)
        for s in spans
    )
    assert total == pytest.approx(find_best(signals, scores), abs=1e-6)
    check_spans(spans, signals.n)


def check_spans(spans, n: int) -> None:
    """In order, inside the words, none overlapping, each with a positive margin."""
    last = 0
    for span in spans:
        assert last <= span.start <= span.end <= n
        assert span.margin > 0
        assert math.isfinite(span.start_score)
        assert math.isfinite(span.end_score)
        last = span.end
    assert len(set(spans)) == len(spans)


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 60), st.integers(0, 2**32 - 1))
def test_spans_of_any_scores_are_sound(n, seed):
    """Whatever the boundaries look like, spans do not overlap, stay inside the words and gain something."""
    rng = np.random.default_rng(seed)
    pauses = rng.choice(["", "_1", "_9", "_20"], size=n, p=[0.7, 0.1, 0.1, 0.1])
    signals = make_signals(" ".join(f"go {p}" for p in pauses) + " go")
    check_spans(decode_spans(signals, rng.normal(0, 4, size=(signals.n + 1, 3)), WEIGHTS), signals.n)


def test_nothing_likely_is_no_set():
    """Boundaries below the floor are not considered, however long the class is."""
    signals = make_signals("go " * 50)
    assert decode_spans(signals, np.full((51, 3), FLOOR), WEIGHTS) == []


def test_a_set_without_a_word():
    """A long silence whose boundaries speak for it is a span of no words."""
    signals = make_signals("ready go _12 and rest")
    scores = np.full((5, 3), -4.0)
    scores[2, :2] = 3.0
    [span] = decode_spans(signals, scores, WEIGHTS)
    assert (span.start, span.end) == (2, 2)
    assert span.margin > 0


def test_a_short_silence_is_no_set():
    """Below ``MIN_SILENT_S`` nobody is taken to have worked without a word."""
    signals = make_signals(f"ready go _{MIN_SILENT_S - 0.1} and rest")
    scores = np.full((5, 3), -4.0)
    scores[2, :2] = 3.0
    assert decode_spans(signals, scores, WEIGHTS) == []


@pytest.mark.xfail(reason="a silence counts as a set of its own and as the start of the set beside it")
def test_a_silence_beside_a_set_is_no_other_set():
    """'And pull', silence, 'squeeze …': without a word between them there is one set, not two."""
    signals = make_signals("ready and pull _14 squeeze your shoulder blades last one and rest")
    scores = np.full((signals.n + 1, 3), -4.0)
    scores[3, :2] = 3.0
    scores[9, 1] = 3.0
    assert [(s.start, s.end) for s in decode_spans(signals, scores, WEIGHTS)] == [(3, 9)]


def test_spans_may_touch():
    """One set may end at the word at which the next begins."""
    signals = make_signals("go " * 20)
    scores = np.full((21, 3), -9.0)
    scores[[0, 10], 0] = scores[[10, 20], 1] = 4.0
    scores[:, 2] = 0.0
    assert [(s.start, s.end) for s in decode_spans(signals, scores, WEIGHTS)] == [(0, 10), (10, 20)]


def count_work(n: int, monkeypatch: pytest.MonkeyPatch) -> int:
    """Spans that the decode compares for ``n`` words, every boundary of them likely: it takes the log of each."""
    compared = 0
    log = np.log

    def count_log(values):
        nonlocal compared
        compared += np.size(values)
        return log(values)

    with monkeypatch.context() as patched:
        patched.setattr(np, "log", count_log)
        decode_spans(make_signals("go " * n), np.zeros((n + 1, 3)), WEIGHTS)
    return compared


def test_work_grows_with_the_length_alone(monkeypatch):
    """Twice the words are at most twice the work once a class is longer than the longest span."""
    once, twice = count_work(2 * MAX_SPAN_WORDS, monkeypatch), count_work(4 * MAX_SPAN_WORDS, monkeypatch)
    assert once > MAX_SPAN_WORDS**2  # the count sees the work
    assert twice < 2.5 * once


def test_a_class_without_words():
    """No words, no spans: and nothing is said about whether it is a class."""
    assert segment_mentions(tag_class("")) == Segmentation(())


@pytest.mark.parametrize("regime", ["fine", "block"])
def test_scores_have_a_row_for_every_boundary(regime):
    """Log-odds of start, end and inside at n + 1 boundaries, all finite, with the shipped weights."""
    signals = gather_signals(tag_class("goblet squats ready _2 and go _20 last one and rest"))
    scores = score_boundaries(signals, load_weights()[regime])
    assert scores.shape == (signals.n + 1, 3)
    assert np.isfinite(scores).all()


def test_an_unknown_word_changes_no_other_boundary():
    """Boundaries further than the widest window from a changed word keep their scores."""
    words = ["word"] * 150
    before = gather_signals(tag_class(" ".join(words)))
    words[20] = "zzyzx"
    after = gather_signals(tag_class(" ".join(words)))
    weights = load_weights()["fine"]
    assert score_boundaries(before, weights)[80:] == pytest.approx(score_boundaries(after, weights)[80:])
