"""What the segmenter looks at: silences, kinds of mention, punctuation, and the two regimes of timing."""

from __future__ import annotations

from dataclasses import replace

import pytest

from make_class import make_class, tag_class
from setdown.model.mention import Mention, TaggedTranscript
from setdown.model.transcript import Cue
from setdown.segment.signals import LONG_BLOCK_MS, choose_regime, gather_signals


def tag_by_hand(text: str, *mentions: Mention) -> TaggedTranscript:
    """A marked text with these mentions only."""
    transcript, _ = make_class(text)
    return TaggedTranscript(transcript, tuple(w.text for w in transcript.words), mentions)


def time_by_cues(tagged: TaggedTranscript, *lengths_ms: int) -> TaggedTranscript:
    """The same words without word times, in captions of these lengths."""
    cues = tuple(Cue(i, 0, length, "go") for i, length in enumerate(lengths_ms))
    return replace(tagged, transcript=replace(tagged.transcript, timing="cue", cues=cues))


def test_word_times_are_fine():
    """With word times pauses can be seen, however long the captions are."""
    tagged = tag_by_hand(" ".join(["and"] * 200))
    assert tagged.transcript.cues[0].end - tagged.transcript.cues[0].start > LONG_BLOCK_MS
    assert choose_regime(tagged) == "fine"


@pytest.mark.parametrize(
    ("lengths", "regime"),
    [((4_000, 4_000, 4_000), "fine"), ((LONG_BLOCK_MS,), "fine"), ((LONG_BLOCK_MS + 1,), "block")],
)
def test_long_captions_hide_pauses(lengths, regime):
    """Without word times the typical caption decides."""
    assert choose_regime(time_by_cues(tag_by_hand("go"), *lengths)) == regime


def test_one_long_caption_is_not_typical():
    """The median counts, so that one caption left standing does not change the regime."""
    assert choose_regime(time_by_cues(tag_by_hand("go"), 3_000, 4_000, 60_000)) == "fine"


def test_gaps_are_silences_in_seconds():
    """``gaps[i]`` is the silence before word ``i``: none before the first, a long one after the last."""
    signals = gather_signals(tag_by_hand("and go _8 stop there"))
    assert signals.n == 4
    assert signals.gaps.tolist() == pytest.approx([0, 0, 8, 0, 10])


def test_overlapping_words_have_no_silence():
    """A word that starts before the last one ends leaves a gap of 0, never a negative one."""
    tagged = tag_by_hand("and go")
    first, second = tagged.transcript.words
    words = (first._replace(end=second.end + 500), second)
    signals = gather_signals(replace(tagged, transcript=replace(tagged.transcript, words=words)))
    assert signals.gaps[1] == 0


def test_kinds_cover_their_words():
    """A kind is true on every word of each of its mentions and nowhere else."""
    mentions = (Mention("go", 0, 2, "and go", "go"), Mention("go", 3, 4, "go", "go"), Mention("rest", 4, 5, "", "rest"))
    signals = gather_signals(tag_by_hand("and go now go rest", *mentions))
    assert signals.kinds["go"].tolist() == [True, True, False, True, False]
    assert signals.kinds["rest"].tolist() == [False, False, False, False, True]
    assert set(signals.kinds) == {"go", "rest"}


def test_punctuation_is_that_of_the_word_before():
    """A boundary is after a sentence or a comma when the word to its left ends in one."""
    signals = gather_signals(tag_by_hand("rest. now, go"))
    assert signals.sentence_end.tolist() == [False, True, False, False]
    assert signals.comma.tolist() == [False, False, True, False]


def test_times_are_seconds():
    """Starts and ends are those of the words."""
    tagged = tag_class("and go")
    signals = gather_signals(tagged)
    assert signals.starts.tolist() == [w.start / 1000 for w in tagged.transcript.words]
    assert signals.ends.tolist() == [w.end / 1000 for w in tagged.transcript.words]
