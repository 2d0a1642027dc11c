"""SubRip, as tolerant as its readers are; there is no standard to hold it to."""

from __future__ import annotations

import pytest

from read.check_transcript import check_transcript, list_codes, list_words
from setdown.errors import SetdownError
from setdown.model.transcript import Transcript
from setdown.read import parse_transcript


def parse(text: str) -> Transcript:
    transcript = parse_transcript(text.encode(), name="class.srt")
    check_transcript(transcript)
    return transcript


def list_cues(transcript: Transcript) -> list[tuple[int, int, str]]:
    return [(cue.start, cue.end, cue.text) for cue in transcript.cues]


CUES = [(1000, 2500, "hello everyone"), (3_723_000, 3_725_500, "let's go")]


@pytest.mark.parametrize(
    "text",
    [
        "1\n00:00:01,000 --> 00:00:02,500\nhello everyone\n\n2\n01:02:03,000 --> 01:02:05,500\nlet's go\n",
        "00:00:01,000 --> 00:00:02,500\nhello everyone\n\n01:02:03,000 --> 01:02:05,500\nlet's go\n",
        "1\n00:00:01.000 --> 00:00:02.500\nhello everyone\n\n2\n01:02:03.000 --> 01:02:05.500\nlet's go\n",
        "1\n0:0:1,0 --> 0:0:2,5\nhello everyone\n\n2\n1:2:3 --> 1:2:5,5\nlet's go\n",
        "1\n00:00:01,000-->00:00:02,500\nhello everyone\n\n2\n01:02:03,000-->01:02:05,500\nlet's go\n",
        "1\n00:00:01,000 --> 00:00:02,500\nhello everyone\n2\n01:02:03,000 --> 01:02:05,500\nlet's go\n",
        "7\n00:00:01,000 --> 00:00:02,500\n\nhello everyone\n\n\n\n9\n01:02:03,000 --> 01:02:05,500\nlet's go\n\n\n",
        "1\n00:00:01,000 --> 00:00:02,500 X1:10 Y1:20\nhello everyone\n\n2\n01:02:03,000 --> 01:02:05,500\nlet's go",
        "\n1\r\n00:00:01,000 --> 00:00:02,500\r\nhello everyone\r\n\r\n2\r\n01:02:03,000 --> 01:02:05,500\r\nlet's go",
        "1\n00:01,000 --> 00:02,500\nhello everyone\n\n2\n01:02:03,000 --> 01:02:05,500\nlet's go\n",
        """1
00:00:01,000 --> 00:00:02,500
<font color="#fff"><b>hello</b></font> {\\an8}everyone

2
01:02:03,000 --> 01:02:05,500
<i>let&#39;s</i> go
""",
    ],
)
def test_writings_of_the_same_two_cues(text: str) -> None:
    """Counters, separators, blank lines, newlines, tags and coordinates may vary without changing the cues."""
    transcript = parse(text)
    assert transcript.format == "subrip"
    assert list_cues(transcript) == CUES
    assert not transcript.notices


def test_one_digit_fraction_is_tenths() -> None:
    """``0:00:07,5`` is 7.5 s (as pysubs2 reads it; srt 3.5 reads 7.005 s)."""
    assert list_cues(parse("1\n0:00:07,5 --> 0:00:08,0\nhi there\n")) == [(7500, 8000, "hi there")]


def test_spoken_numbers_are_not_counters() -> None:
    """A caption that is a number stays, whether or not it looks like a counter of the next cue."""
    transcript = parse(
        "1\n00:00:01,000 --> 00:00:02,000\n10\n\n2\n00:00:02,000 --> 00:00:03,000\nand\n9\n\n"
        "3\n00:00:03,000 --> 00:00:04,000\n8\n\n7\n\n4\n00:00:04,000 --> 00:00:05,000\nrest\n"
    )
    assert list_words(transcript) == ["10", "and", "9", "8", "7", "rest"]
    transcript = parse(
        "00:00:01,000 --> 00:00:02,000\nten\n\n00:00:02,000 --> 00:00:03,000\n3\n\n00:00:03,000 --> 00:00:04,000\n2\n"
    )
    assert list_words(transcript) == ["ten", "3", "2"]


def test_less_than_sign_is_text() -> None:
    """Only what looks like a tag is one."""
    assert list_words(parse("1\n00:00:01,000 --> 00:00:02,000\nlove you <3 and a < b\n")) == [
        "love",
        "you",
        "<3",
        "and",
        "a",
        "<",
        "b",
    ]


def test_lines_of_a_caption_are_joined() -> None:
    """Two lines become one text; the line of the cue and its counter are kept."""
    cue = parse("5\n00:00:01,000 --> 00:00:02,000\nhello\neveryone\n").cues[0]
    assert (cue.text, cue.line, cue.identifier) == ("hello everyone", 2, "5")


def test_minutes_and_seconds_over_59_are_refused() -> None:
    """A cue with impossible times is left out, with a notice that names its line."""
    transcript = parse("1\n00:75:01,000 --> 00:76:02,000\nno\n\n2\n00:00:01,000 --> 00:00:02,000\nyes please\n")
    assert list_words(transcript) == ["yes", "please"]
    assert [(n.code, n.line) for n in transcript.notices] == [("bad-timing", 2)]


@pytest.mark.parametrize(
    "tail",
    [
        "2",
        "2\n00:00:03,0",
        "2\n00:00:03,000 --> ",
        "2\n00:00:03,000 --> 00:00:04,000",
        "2\n00:00:03,000 --> 00:00:04,000\n\n",
    ],
)
def test_cut_off_last_cue(tail: str) -> None:
    """What is left of a cut-off cue is no speech, and the user is told."""
    transcript = parse(f"1\n00:00:01,000 --> 00:00:02,000\nhi there\n\n{tail}")
    assert list_words(transcript) == ["hi", "there"]
    assert list_codes(transcript) == ["truncated"]


def test_no_usable_time() -> None:
    """The error names the line and the form of a timing line."""
    with pytest.raises(SetdownError) as caught:
        parse_transcript(b"1\n00:00:01,000 -> 00:00:02,000\nhi\n\n2\nx --> y\nhi\n", name="class.srt", format="subrip")
    assert (caught.value.source, caught.value.line) == ("class.srt", 6)
    assert "00:01:02,000 --> 00:01:05,500" in caught.value.expected
