"""When a set starts and ends, in ms, and how sure that is."""

from __future__ import annotations

from make_class import WORD_MS, lay_out_class
from setdown.assemble.timing import time_draft

RESOLUTION = 200  # of the transcripts that make_class makes


def time_first(text: str) -> tuple[int, int, int, list[int], list[int]]:
    """(start, end, margin) of the first set, and the starts and ends of the words."""
    context = lay_out_class(text)
    words = context.tagged.transcript.words
    return (*time_draft(context, context.drafts[0]), [w.start for w in words], [w.end for w in words])


def test_a_set_lasts_from_its_first_to_its_last_word():
    """Without silences there is nothing to decide: the margin is the transcript's own."""
    start, end, margin, starts, ends = time_first("ready now [ and down two three four ] lovely work")
    assert (start, end, margin) == (starts[2], ends[6], RESOLUTION)


def test_work_starts_at_once_after_a_go_word():
    """The silence after 'go' is work, and half of it is the margin."""
    start, _, margin, starts, ends = time_first("plank ready go _8 [ keep breathing _8 last one ] lovely work")
    assert start == ends[2] == starts[3] - 8_000
    assert margin == 4_000


def test_getting_ready_is_not_work():
    """Without a go-word the silence before the first word is not the set's."""
    start, _, margin, starts, _ = time_first("pick up your weights _8 [ squeeze your glutes _8 last one ] lovely work")
    assert start == starts[4]
    assert margin == 4_000


def test_a_go_word_inside_the_set_starts_it():
    """'And go' as the first words of the set: the silence before them was getting ready."""
    start, *_, starts, _ = time_first("are you ready go _8 [ and go _8 last one ] lovely work")
    assert start == starts[4]


def test_a_short_pause_moves_nothing():
    """A breath between the words is no silence to decide on."""
    start, _, margin, starts, _ = time_first("plank ready go _1.4 [ keep breathing _8 last one ] lovely work")
    assert (start, margin) == (starts[3], RESOLUTION)


def test_work_goes_on_until_the_stop_word():
    """The silence before 'and rest' is work; before other talk it is not."""
    *_, starts, ends = made = time_first("ready [ and go _8 keep breathing ] _9 and rest everybody")
    assert made[1] == starts[5] == ends[4] + 9_000
    *_, starts, ends = made = time_first("ready [ and go _8 keep breathing ] _9 my neighbour has a goose")
    assert made[1] == ends[4]


def test_a_set_without_a_word_is_its_silence():
    """From the end of the word before to the start of the word after."""
    start, end, margin, starts, ends = time_first("plank ready go [ ] _30 and rest")
    assert (start, end) == (ends[2], starts[3])
    assert end - start == 30_000
    assert margin == 15_000


def test_a_set_at_the_end_of_the_recording():
    """Nothing follows: it ends with its last word."""
    start, end, _, starts, ends = time_first("ready [ and go _8 keep breathing ]")
    assert (start, end) == (starts[1], ends[-1])
    assert ends[-1] == starts[-1] + WORD_MS
