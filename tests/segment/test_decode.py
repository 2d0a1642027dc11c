"""The decode: from boundary scores to spans, each with how likely a set is there."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from make_class import make_class, tag_class
from setdown.model.mention import TaggedTranscript
from setdown.model.segment import Segmentation, WorkSpan
from setdown.segment import segment_mentions
from setdown.segment.boundaries import score_boundaries
from setdown.segment.decode import decode_spans
from setdown.segment.lattice import FLOOR, MIN_SILENT_S
from setdown.segment.signals import gather_signals
from setdown.segment.weights import SegmentWeights, load_weights

PLAIN = {"starts": 1.0, "ends": 1.0, "silent, starts": 1.0, "silent, ends": 1.0}
WEIGHTS = SegmentWeights(np.zeros(3), {}, {}, PLAIN, 1.0)


def plain(text: str) -> TaggedTranscript:
    """A marked text without mentions."""
    transcript, _ = make_class(text)
    return TaggedTranscript(transcript, tuple(w.text for w in transcript.words), ())


def decode(tagged: TaggedTranscript, scores: np.ndarray) -> list[WorkSpan]:
    """With weights that add up the scores of both ends."""
    return decode_spans(tagged, gather_signals(tagged), scores, WEIGHTS)


def check_spans(spans: list[WorkSpan], n: int) -> None:
    """In order, inside the words, none overlapping, each with a probability."""
    last = 0
    for span in spans:
        assert last <= span.start <= span.end <= n
        assert 0 <= span.probability <= 1
        last = span.end
    assert len({(s.start, s.end) for s in spans}) == len(spans)


@settings(deadline=None, max_examples=40)
@given(st.integers(1, 60), st.integers(0, 2**32 - 1))
def test_spans_of_any_scores_are_sound(n, seed):
    """Whatever the boundaries look like, spans do not overlap and stay inside the words."""
    rng = np.random.default_rng(seed)
    pauses = rng.choice(["", "_1", "_9", "_20"], size=n, p=[0.7, 0.1, 0.1, 0.1])
    tagged = plain(" ".join(f"go {p}" for p in pauses) + " go")
    check_spans(decode(tagged, rng.normal(0, 4, size=(len(tagged.words) + 1, 3))), len(tagged.words))


def test_nothing_likely_is_no_set():
    """Boundaries below the floor are not considered, however long the class is."""
    assert decode(plain("go " * 50), np.full((51, 3), FLOOR)) == []


def test_a_set_without_a_word():
    """A long silence whose boundaries speak for it is a span of no words."""
    scores = np.full((5, 3), -4.0)
    scores[2, :2] = 3.0
    [span] = decode(plain("ready go _12 and rest"), scores)
    assert (span.start, span.end) == (2, 2)
    assert span.probability > 0.9


def test_a_short_silence_is_no_set():
    """Below ``MIN_SILENT_S`` nobody is taken to have worked without a word."""
    scores = np.full((5, 3), -4.0)
    scores[2, :2] = 3.0
    assert decode(plain(f"ready go _{MIN_SILENT_S - 0.1} and rest"), scores) == []


def test_a_silence_beside_a_set_is_no_other_set():
    """'And pull', silence, 'squeeze …': without a word between them there is one set, not two."""
    tagged = plain("ready and pull _14 squeeze your shoulder blades last one and rest")
    scores = np.full((len(tagged.words) + 1, 3), -4.0)
    scores[3, :2] = 3.0
    scores[9, 1] = 3.5
    assert [(s.start, s.end) for s in decode(tagged, scores)] == [(3, 9)]


def test_spans_may_touch():
    """One set may end at the word at which the next begins."""
    scores = np.full((21, 3), -9.0)
    scores[[0, 10], 0] = scores[[10, 20], 1] = 4.0
    assert [(s.start, s.end) for s in decode(plain("go " * 20), scores)] == [(0, 10), (10, 20)]


def test_a_sure_set_is_likelier_than_a_doubtful_one():
    """Of two sets the one with the clearer ends is the likelier; both boundaries a word off are still that set."""
    scores = np.full((41, 3), -9.0)
    scores[5, 0] = scores[15, 1] = 3.0
    scores[25, 0] = scores[35, 1] = 0.2
    scores[26, 0] = scores[34, 1] = 0.1
    sure, doubtful = decode(plain("go " * 40), scores)
    assert sure.probability > doubtful.probability > 0.5
    alone = scores.copy()
    alone[[26], 0] = alone[[34], 1] = -9.0
    assert decode(plain("go " * 40), alone)[1].probability < doubtful.probability


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
