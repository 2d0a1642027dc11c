"""Chapters, chapter lines and the metadata track."""

from __future__ import annotations

import json
import re
from itertools import pairwise

import pytest
import webvtt
from hypothesis import given
from hypothesis import strategies as st

from make_routine import make_routine
from publish.shared import SAMPLES, read_sample
from publish.strict_vtt import read_strictly
from setdown.publish.chapters import format_chapter_lines, format_chapters_vtt, list_chapters
from setdown.publish.track import format_track_vtt
from setdown.publish.vtt import TextCue, format_srt, format_vtt
from setdown.read import parse_transcript

SPEC_EXAMPLE = """WEBVTT

00:00:00.000 --> 00:01:24.000
Introduction

00:00:00.000 --> 00:00:44.000
Topics

00:00:44.000 --> 00:01:19.000
Presenters

00:01:24.000 --> 00:05:00.000
Scrolling Effects

00:01:35.000 --> 00:03:00.000
Achim's Demo

00:03:00.000 --> 00:05:00.000
Timeline Panel
"""


def test_the_nested_chapters_of_the_standard_are_written_as_it_prints_them():
    """W3C, 'WebVTT', 'file using only nested cues': the example with two levels."""
    rows = [line.split("\n") for line in SPEC_EXAMPLE.split("\n\n")[1:]]
    titles = {row[1].strip(): row[0] for row in rows}
    times = [(0, 84, "Introduction"), (0, 44, "Topics"), (44, 79, "Presenters"), (84, 300, "Scrolling Effects")]
    times += [(95, 180, "Achim's Demo"), (180, 300, "Timeline Panel")]
    made = format_vtt(TextCue(a * 1000, b * 1000, title) for a, b, title in reversed(times))
    assert made == SPEC_EXAMPLE
    assert len(read_strictly(made.encode(), "chapters")) == len(titles)


def test_the_strict_reader_refuses_what_the_standard_calls_wrong():
    """The bad example there: 0:00 to 1:00 with 0:30 to 1:30."""
    bad = format_vtt([TextCue(0, 60_000, "a"), TextCue(30_000, 90_000, "b")])
    with pytest.raises(AssertionError, match="overlap in part"):
        read_strictly(bad.encode(), "chapters")


def read_stamp(text: str) -> int:
    hours, minutes, seconds = text.split(":")
    return int(hours) * 3_600_000 + int(minutes) * 60_000 + round(float(seconds) * 1000)


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda p: p.name)
def test_the_tracks_of_a_sample_are_read_by_strict_and_other_readers(sample, publish, tmp_path):
    """The strict reader, the project's own without a notice, and webvtt-py give the same cues."""
    routine, transcript = read_sample(sample)
    made = publish(routine, "chapters", "track", "captions", transcript=transcript)
    for name, kind in (("chapters.vtt", "chapters"), ("sets.vtt", "metadata"), ("captions.vtt", "captions")):
        cues = read_strictly(made[name].encode(), kind)
        path = tmp_path / name
        path.write_text(made[name], encoding="utf-8")
        others = webvtt.read(str(path)).captions
        spans = [(cue.start, cue.end) for cue in cues]
        assert [(read_stamp(c.start), read_stamp(c.end)) for c in others] == spans
        if kind == "captions":
            read = parse_transcript(made[name].encode(), name=name)
            assert [notice.code for notice in read.notices] == []
            assert [(cue.start, cue.end) for cue in read.cues] == spans


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda p: p.name)
def test_chapter_lines_are_as_players_want_them(sample):
    """Common practice, no source: the first at 0:00, rising, ten seconds apart, at least three for a class."""
    routine, _ = read_sample(sample)
    lines = format_chapter_lines(routine).splitlines()
    times = []
    for line in lines:
        match = re.fullmatch(r"(?:(\d+):)?(\d{1,2}):(\d\d) (\S.*)", line)
        assert match, line
        times.append(int(match[1] or 0) * 3600 + int(match[2]) * 60 + int(match[3]))
    assert times[0] == 0
    assert all(later - earlier >= 10 for earlier, later in pairwise(times))
    assert len(lines) >= 3


def test_chapters_nest_sections_groups_and_sets():
    """A group of one set is not said twice, and sections leave no gap."""
    chapters = list_chapters(make_routine())
    assert [(c.start, c.end, c.title) for c in chapters] == [
        (0, 58_000, "Introduction"),
        (58_000, 220_000, "Main part"),
        (220_000, 234_000, "Cool-down"),
    ]
    squat, row = chapters[1].inside
    assert (squat.title, squat.inside) == ("Goblet squat", ())
    assert [c.title for c in row.inside] == ["Row, set 1, left", "Row, set 1, right"]


def test_chapter_lines_can_be_closer_when_asked():
    """With a gap of 0 each group has its line; with a large one only the first is left."""
    routine = make_routine()
    assert format_chapter_lines(routine, 0).splitlines() == [
        "0:00 [Draft] Introduction",
        "0:58 Main part: Goblet squat",
        "2:04 Row",
        "3:40 Cool-down: Child's pose",
    ]
    assert len(format_chapter_lines(routine, 10_000).splitlines()) == 1


@given(
    st.lists(st.tuples(st.floats(0, 400), st.floats(0, 400)), min_size=4, max_size=4),
    st.lists(st.tuples(st.floats(0, 400), st.floats(0, 400)), min_size=3, max_size=3),
)
def test_chapters_nest_whatever_the_times(spans, sections):
    """A routine that somebody edited badly still gives a file that keeps to the standard."""
    routine = make_routine()
    for (_, _, one), span in zip(routine.iter_sets(), spans, strict=True):
        one.start, one.end = sorted(span)
    for section, span in zip(routine.sections, sections, strict=True):
        section.start, section.end = sorted(span)
    read_strictly(format_chapters_vtt(routine).encode(), "chapters")
    read_strictly(format_track_vtt(routine).encode(), "metadata")


def test_the_track_tells_a_player_what_is_on():
    """One cue a set with its own times; what is not known is not there."""
    cues = read_strictly(format_track_vtt(make_routine()).encode(), "metadata")
    first = json.loads(cues[0].text)
    assert (cues[0].start, cues[0].end, cues[0].identifier) == (62_000, 110_000, "s1")
    assert first["exercise"] == {"id": "goblet-squat", "name": "goblet squat"}
    assert first["move"] == "A"
    assert first["reps"] == "10"
    assert first["load"] == {"value": 10.0, "unit": "lb", "basis": "per_hand"}
    assert first["next"] == "row"
    last = json.loads(cues[-1].text)
    assert "next" not in last
    assert "reps" not in last
    assert last["work_s"] == 30


def test_subrip_counts_on_and_leaves_no_empty_caption():
    """Captions without text are left out and the counter has no hole."""
    made = format_srt([TextCue(0, 1000, "a"), TextCue(1000, 2000, " "), TextCue(2000, 2000, "b\n\nc")])
    assert made == "1\n00:00:00,000 --> 00:00:01,000\na\n\n2\n00:00:02,000 --> 00:00:02,001\nb\nc\n"
