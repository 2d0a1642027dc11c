"""Every value points at its words."""

from __future__ import annotations

from make_class import lay_out_class, make_class
from setdown.assemble.evidence import quote_mentions, quote_words, to_seconds

TEXT = "grab your twelves | goblet squats ten of these _2 and down"


def test_a_quote_is_what_the_caption_holds():
    """Characters, words and time of the caption; the rule that read them goes along."""
    transcript, _ = make_class(TEXT)
    [quote] = quote_words(transcript, 3, 5, "a name")
    assert quote.cue == 1
    assert quote.quote == "goblet squats" == transcript.cues[1].text[quote.char_start : quote.char_end]
    assert quote.at == transcript.words[3].start / 1000
    assert quote.rule == "a name"


def test_words_of_two_captions_are_two_quotes():
    """No quote reaches over the edge of a caption."""
    transcript, _ = make_class(TEXT)
    assert [(q.cue, q.quote) for q in quote_words(transcript, 2, 4)] == [(0, "twelves"), (1, "goblet")]


def test_an_empty_range_has_no_quote():
    """Nor has one beyond the last word."""
    transcript, _ = make_class(TEXT)
    assert quote_words(transcript, 4, 4) == []
    assert quote_words(transcript, 50, 60) == []
    assert [q.quote for q in quote_words(transcript, 8, 60)] == ["and down"]


def test_the_first_mentions_are_quoted():
    """A few, in the order given."""
    context = lay_out_class("ten reps here ten reps there ten reps and ten reps everywhere")
    mentions = context.index.within("reps", 0, 99)
    assert len(mentions) == 4
    assert [q.at for q in quote_mentions(context.tagged.transcript, mentions[::-1], most=2)] == sorted(
        (to_seconds(context.tagged.transcript.words[m.start].start) for m in mentions[2:]), reverse=True
    )
    assert quote_mentions(context.tagged.transcript, []) == []


def test_milliseconds_are_seconds_with_three_decimals():
    """No digits of floating point beyond."""
    assert [to_seconds(ms) for ms in (0, 1, 1001, 3_599_999)] == [0.0, 0.001, 1.001, 3599.999]
