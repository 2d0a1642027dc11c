"""Text blocks that begin with a time."""

from __future__ import annotations

import pytest

from read.check_transcript import check_transcript, list_codes, list_words
from setdown.errors import SetdownError
from setdown.model.transcript import ClassInfo, Transcript
from setdown.read import parse_transcript


def parse(text: str, info: ClassInfo | None = None) -> Transcript:
    transcript = parse_transcript(text.encode(), name="evening-pairs.txt", info=info)
    check_transcript(transcript)
    return transcript


def list_cues(transcript: Transcript) -> list[tuple[int, str]]:
    return [(cue.start, cue.text) for cue in transcript.cues]


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("[0:20]", "[1:02:33]"),
        ("[00:00:20]", "[01:02:33]"),
        ("[0:20.0]", "[1:02:33.000]"),
        ("(0:20)", "(62:33)"),
        ("0:20", "1:02:33"),
        ("00:20 -", "1:02:33 -"),
        ("00:20 –", "1:02:33 –"),
        ("0:20:", "62:33:"),
        ("0:20\n", "62:33\n"),
        ("[0:20]\n", "[62:33]\n"),
        ("- [0:20]", "- [62:33]"),
        ("**[0:20]**", "**[62:33]**"),
        ("> [0:20] -", "> [62:33] -"),
        ("  [ 0:20 ]", "  [ 62:33 ]"),
    ],
)
def test_writings_of_a_time(first: str, second: str) -> None:
    """Brackets of both kinds or none, hours or minutes over 59, dashes, Markdown, a line of its own."""
    transcript = parse(f"{first} okay here we go\nsix goblet squats\n\n{second} and we are done\n")
    assert list_cues(transcript) == [(20_000, "okay here we go six goblet squats"), (3_753_000, "and we are done")]
    assert transcript.format == "bracketed"
    assert transcript.timing == "cue"
    assert not transcript.notices


def test_block_runs_to_the_next_time() -> None:
    """Ends are the next starts; resolution is half the median block."""
    transcript = parse(
        "[0:00] one two three four five\n[0:10] one two three four five\n[0:30] one two three four five\n"
    )
    assert [cue.end for cue in transcript.cues] == [10_000, 30_000, 35_000]
    assert transcript.resolution == 5000


def test_end_of_the_last_block_is_estimated_from_the_densest_blocks() -> None:
    """Twenty words at the class's two words per second take ten seconds, pauses in other blocks notwithstanding."""
    dense, thin = "go " * 20, "rest " * 20
    transcript = parse(f"[0:00] {dense}\n[0:10] {thin}\n[1:10] {dense}\n[1:20] {dense}\n")
    assert (transcript.cues[-1].start, transcript.cues[-1].end) == (80_000, 90_000)


def test_stated_ends_are_used() -> None:
    """``[0:20 - 0:45]`` and the console output of recognisers."""
    transcript = parse("[00:20.000 --> 00:45.500]  okay here we go\n[01:00.000 --> 01:10.000]  and rest\n")
    assert [(cue.start, cue.end) for cue in transcript.cues] == [(20_000, 45_500), (60_000, 70_000)]
    transcript = parse("[0:20 - 0:45] okay here we go\n[1:00 - 1:10] and rest\n")
    assert [(cue.start, cue.end) for cue in transcript.cues] == [(20_000, 45_000), (60_000, 70_000)]


def test_square_brackets_may_stand_within_a_line() -> None:
    """A transcript on one line; times without brackets inside a line are speech."""
    transcript = parse("[0:00] okay it is 12:30 here [0:20] and we go (0:45) on")
    assert list_cues(transcript) == [(0, "okay it is 12:30 here"), (20_000, "and we go (0:45) on")]


def test_spoken_times_are_not_blocks() -> None:
    """A line that begins with a time of the day, or with one that runs backwards, stays speech."""
    transcript = parse("[6:20] we meet at\n6:30 tomorrow\n[7:00] and rest\n")
    assert list_cues(transcript) == [(380_000, "we meet at 6:30 tomorrow"), (420_000, "and rest")]
    transcript = parse("0:20 we meet at\n6:30 pm tomorrow\n9:00 and back to\n8:30 or so\n")
    assert list_cues(transcript) == [(20_000, "we meet at 6:30 pm tomorrow"), (540_000, "and back to 8:30 or so")]


@pytest.mark.parametrize(
    "heading", ["# Evening pairs with Deb\n\n", "Evening pairs with Deb\n===\n", "\n## **Evening pairs with Deb**\n"]
)
def test_markdown_heading_is_the_title(heading: str) -> None:
    """A heading before the first time is the title, unless one is given; it is no speech."""
    text = f"{heading}[0:04] okay here we go\n"
    transcript = parse(text)
    assert transcript.info.title == "Evening pairs with Deb"
    assert list_words(transcript) == ["okay", "here", "we", "go"]
    assert parse(text, ClassInfo(title="Pairs")).info.title == "Pairs"


def test_text_before_the_first_time_is_kept_at_zero() -> None:
    """Speech before the first time is not lost."""
    transcript = parse("# Pairs\nhello everyone\n\n[0:20] here we go\n")
    assert list_cues(transcript) == [(0, "hello everyone"), (20_000, "here we go")]
    assert transcript.cues[0].end == 20_000
    assert transcript.cues[0].line == 2
    assert transcript.cues[1].line == 4


def test_headings_between_blocks_are_not_speech() -> None:
    """They are left out with a notice; rules of dashes only separate."""
    transcript = parse("[0:04] okay here we go\n\n---\n\n## Main part\n\n[0:40] and squat\n")
    assert list_cues(transcript) == [(4000, "okay here we go"), (40_000, "and squat")]
    assert [(n.code, n.line) for n in transcript.notices] == [("heading", 5)]


def test_blocks_out_of_order_are_sorted() -> None:
    """Bracketed times that run backwards are sorted, with a notice that names the line."""
    transcript = parse("[0:40] and squat\n[0:04] okay here we go\n")
    assert list_cues(transcript) == [(4000, "okay here we go"), (40_000, "and squat")]
    assert [(n.code, n.line) for n in transcript.notices] == [("out-of-order", 2)]


def test_words_are_spread_by_length() -> None:
    """Word times lie within the block, in proportion to the characters before them."""
    words = parse("[0:00] aaaa bbbb cc dd\n[0:15] end of it\n").words
    assert [word.start for word in words[:4]] == [0, 5000, 10_000, 13_000]
    assert words[3].end == 15_000


def test_text_without_times() -> None:
    """Plain text says what is missing."""
    with pytest.raises(SetdownError, match="no format") as caught:
        parse("hello everyone and welcome\n")
    assert "[0:20]" in caught.value.hint
    with pytest.raises(SetdownError, match="no line begins with a time"):
        parse_transcript(b"hello everyone", name="x.txt", format="bracketed")


def test_empty_blocks_give_nothing() -> None:
    """A time without text is no cue, and times alone are no speech."""
    assert list_cues(parse("[0:04]\n[0:10] okay here we go\n[0:20]\n")) == [(10_000, "okay here we go")]
    with pytest.raises(SetdownError):
        parse("[0:04]\n[0:10]\n")


def test_end_of_the_last_block_is_the_time_behind_it() -> None:
    """A time without text at the end closes the last block."""
    assert parse("[0:10] okay here we go\n[0:20]\n").cues[0].end == 20_000


def test_codes_of_an_ordinary_file() -> None:
    """Nothing to put up with, no notice."""
    assert list_codes(parse("[0:04] okay here we go\n")) == []
