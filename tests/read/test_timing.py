"""Times of cues and words when files overlap, run backwards or lack ends."""

from __future__ import annotations

from read.check_transcript import check_transcript, list_codes, list_starts, list_words
from setdown.model.transcript import Transcript
from setdown.read import parse_transcript
from setdown.read.base import RawCue
from setdown.read.cue_times import USUAL_RATE, estimate_rate


def parse(*cues: tuple[int, int, str]) -> Transcript:
    """A WebVTT of (start, end, text) in seconds."""
    blocks = [f"{a // 60:02}:{a % 60:02}.000 --> {b // 60:02}:{b % 60:02}.000\n{text}" for a, b, text in cues]
    transcript = parse_transcript(("WEBVTT\n\n" + "\n\n".join(blocks)).encode(), name="class.vtt")
    check_transcript(transcript)
    return transcript


def test_words_are_spread_over_their_cue_by_length() -> None:
    """Start in proportion to the characters before, resolution half the median cue."""
    transcript = parse((0, 10, "aaaa bbbbb"), (10, 14, "cc"), (20, 26, "dd"))
    assert list_starts(transcript) == [("aaaa", 0), ("bbbbb", 5000), ("cc", 10_000), ("dd", 20_000)]
    assert (transcript.words[0].end, transcript.words[1].end) == (4000, 10_000)
    assert (transcript.timing, transcript.resolution) == ("cue", 3000)


def test_cues_out_of_order_are_sorted() -> None:
    """Sorted by start, those with the same start in the order of the file; the notice names the first line."""
    transcript = parse((10, 12, "third"), (0, 2, "first"), (10, 12, "fourth"), (5, 7, "second"))
    assert list_words(transcript) == ["first", "second", "third", "fourth"]
    assert (transcript.notices[0].code, transcript.notices[0].line) == ("out-of-order", 6)


def test_overlapping_cues_are_said_in_turn() -> None:
    """Each cue's words end where the next cue begins; the notice names the first line."""
    transcript = parse((0, 6, "aa bb cc"), (3, 9, "dd ee ff"), (6, 12, "gg hh ii"))
    assert list_words(transcript) == ["aa", "bb", "cc", "dd", "ee", "ff", "gg", "hh", "ii"]
    starts = dict(list_starts(transcript))
    assert starts["cc"] < 3000 == starts["dd"]
    assert starts["ff"] < 6000 == starts["gg"]
    assert transcript.cues[0].end == 6000
    assert [(n.code, n.line) for n in transcript.notices] == [("overlap", 6)]


def test_cues_shown_together_share_their_time() -> None:
    """Two captions with the same times are two lines: their words follow each other within that time."""
    transcript = parse((0, 10, "aaaa bbbb"), (0, 10, "cccc dddd"), (10, 12, "ee"))
    assert list_words(transcript) == ["aaaa", "bbbb", "cccc", "dddd", "ee"]
    assert dict(list_starts(transcript))["cccc"] == 5000


def test_small_overlap_is_not_worth_a_notice() -> None:
    """Rounding of a few milliseconds."""
    text = b"WEBVTT\n\n00:00.000 --> 00:02.030\naa bb\n\n00:02.000 --> 00:04.000\ncc dd\n"
    assert list_codes(parse_transcript(text, name="x.vtt")) == []


def test_zero_length_cues() -> None:
    """A cue without length gives its words its only moment."""
    transcript = parse((1, 1, "aa bb"), (2, 3, "cc"))
    assert [(word.start, word.end) for word in transcript.words[:2]] == [(1000, 1000)] * 2


def test_speaking_rate_is_that_of_the_densest_blocks() -> None:
    """The 90th percentile of words per second, kept within 1 and 5; the usual rate when nothing can be measured."""
    cues = [RawCue(i * 10_000, (i + 1) * 10_000, "go " * (5 + i)) for i in range(20)]
    assert estimate_rate(cues) == 2.3
    assert estimate_rate([]) == USUAL_RATE
    assert estimate_rate([RawCue(0, 1000, "go " * 500)]) == 5.0
    assert estimate_rate([RawCue(0, 600_000, "go " * 10)]) == 1.0


def test_timing_is_that_of_most_words() -> None:
    """A single inline timestamp in a long file does not make it word-timed."""
    cues = [(i * 3, i * 3 + 3, "keep it going now") for i in range(10)]
    transcript = parse((100, 103, "hi<01:41.000> there"), *cues)
    assert transcript.timing == "cue"
    assert dict(list_starts(transcript))["there"] == 101_000
