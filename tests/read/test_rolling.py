"""Rolling captions give every word once, and what was said twice twice.

The shape of such files is that of automatic captioning as described in "Convert WebVTT to a transcript using Python"
(openpolitics.com) and "Fixing overlapping subtitles" (garysieling.com); the texts are invented.
"""

from __future__ import annotations

import pytest

from read.check_transcript import check_transcript, list_starts, list_words
from setdown.model.transcript import Transcript
from setdown.read import parse_transcript

# The lines that look empty inside a cue hold one space.
SHORT = """WEBVTT
Kind: captions
Language: en

00:00:00.000 --> 00:00:02.500 align:start position:0%
{space}
hello<00:00:00.500><c> there</c><00:00:01.000><c> everyone</c>

00:00:02.500 --> 00:00:02.510 align:start position:0%
hello there everyone
{space}

00:00:02.510 --> 00:00:05.000 align:start position:0%
hello there everyone
welcome<00:00:03.000><c> back</c>
""".replace("{space}", " ")


def parse(text: str, name: str = "class.vtt") -> Transcript:
    transcript = parse_transcript(text.encode(), name=name)
    check_transcript(transcript)
    return transcript


def format_time(ms: int, comma: bool) -> str:
    return f"{ms // 3_600_000:02}:{ms // 60_000 % 60:02}:{ms // 1000 % 60:02}{',' if comma else '.'}{ms % 1000:03}"


def roll(lines: list[str], *, hold: int = 10, gaps: dict[int, int] | None = None, marks: bool = True) -> str:
    """A rolling file of the lines, each three seconds long; ``gaps`` are silences in ms before a line, after which the
    screen was empty. Without ``marks`` it is the SubRip conversion, in which blank lines are lost."""
    cues: list[tuple[int, int, list[str]]] = []
    at, before = 1000, ""
    for i, line in enumerate(lines):
        if gaps and i in gaps:
            at, before = at + gaps[i], ""
        words = line.split()
        step = 3000 // (len(words) + 1)
        new = "".join(
            word if k == 0 else f"<{format_time(at + k * step, False)}><c> {word}</c>" for k, word in enumerate(words)
        )
        cues.append((at, at + 3000, [before, new if marks else line]))
        if hold:
            cues.append((at + 3000, at + 3000 + hold, [line, ""]))
        at, before = at + 3000 + hold, line
    if marks:
        blocks = [
            f"{format_time(a, False)} --> {format_time(b, False)} align:start position:0%\n"
            + "\n".join(line or " " for line in shown)
            for a, b, shown in cues
        ]
        return "WEBVTT\nKind: captions\nLanguage: en\n\n" + "\n\n".join(blocks) + "\n"
    return "\n".join(
        f"{n}\n{format_time(a, True)} --> {format_time(b, True)}\n" + "\n".join(x for x in shown if x) + "\n"
        for n, (a, b, shown) in enumerate(cues, 1)
    )


LINES = [
    "okay let's get going with the first",
    "one down and up and down",
    "one more",
    "one more",
    "and one more",
    "halfway",
    "halfway",
    "keep it slow",
    "last one",
    "and rest",
]
WORDS = " ".join(LINES).split()


def test_each_word_comes_once_with_its_own_time() -> None:
    """The minimal vector: hello 0.0, there 0.5, everyone 1.0, welcome 2.51, back 3.0; the hold cue gives nothing."""
    transcript = parse(SHORT)
    assert list_starts(transcript) == [
        ("hello", 0),
        ("there", 500),
        ("everyone", 1000),
        ("welcome", 2510),
        ("back", 3000),
    ]
    assert [cue.text for cue in transcript.cues] == ["hello there everyone", "welcome back"]
    assert (transcript.timing, transcript.resolution) == ("word", 100)
    assert not transcript.notices


def test_coloured_words_of_older_files() -> None:
    """Older files wrap words in ``<c.colorE5E5E5>``; the result is the same."""
    older = SHORT.replace("<c>", "<c.colorE5E5E5>").replace("hello<", "<c.colorE5E5E5>hello</c><")
    assert list_starts(parse(older)) == list_starts(parse(SHORT))


@pytest.mark.parametrize("hold", [0, 10, 400])
@pytest.mark.parametrize("marks", [True, False])
def test_lines_said_twice_stay_twice(hold: int, marks: bool) -> None:
    """'one more' and the one-word line 'halfway', each said in two lines running, with and without inline times,
    with hold cues of any length, or none."""
    transcript = parse(roll(LINES, hold=hold, marks=marks))
    assert list_words(transcript) == WORDS
    assert [cue.text for cue in transcript.cues] == LINES
    again = [cue.start for cue in transcript.cues if cue.text == "one more"]
    assert again[1] - again[0] == 3000 + hold


@pytest.mark.parametrize("marks", [True, False])
def test_the_same_line_after_a_silence_is_new(marks: bool) -> None:
    """After a silence the screen is empty: the same line again was said again."""
    lines = ["keep it moving now", "one more", "one more", "and rest"]
    assert list_words(parse(roll(lines, gaps={2: 20_000}, marks=marks))) == " ".join(lines).split()


def test_line_repeated_above_after_a_silence_is_carried() -> None:
    """Some files keep the line on the screen through a silence: above a new line it is still a carry-over."""
    text = roll(["keep it moving now", "hold it there"], gaps=None) + (
        "\n00:00:40.000 --> 00:00:43.000 align:start position:0%\nhold it there\nand<00:00:41.000><c> rest</c>\n"
    )
    assert " ".join(list_words(parse(text))) == "keep it moving now hold it there and rest"


def test_word_said_twice_within_a_line_stays_twice() -> None:
    """Repetition inside a cue is speech."""
    lines = ["one more one more", "one more one more", "and and rest"]
    assert list_words(parse(roll(lines))) == " ".join(lines).split()


def test_repeated_cues_of_an_ordinary_file_stay() -> None:
    """Cues with the same text, one after the other, in a file that does not roll, were said each time."""
    texts = ["okay", "one more", "one more", "one more", "and rest"]
    blocks = [f"00:0{i}.000 --> 00:0{i + 1}.000\n{text}" for i, text in enumerate(texts)]
    assert list_words(parse("WEBVTT\n\n" + "\n\n".join(blocks))) == " ".join(texts).split()


def test_two_line_captions_that_begin_alike_stay() -> None:
    """A two-line caption may begin with the line before it without the file being a rolling one."""
    texts = [
        "one more",
        "one more\nand rest",
        "shake it out\nget a drink",
        "next up\nwe have rows",
        "take the heavy ones",
    ]
    blocks = [f"00:0{i}.000 --> 00:0{i + 1}.000\n{text}" for i, text in enumerate(texts)]
    assert list_words(parse("WEBVTT\n\n" + "\n\n".join(blocks))) == " ".join(texts).split()


def test_subrip_conversion_with_a_line_first_seen_in_a_short_cue() -> None:
    """A, then B for 400 ms, then B above C: B is said once (shape and times from garysieling.com)."""
    transcript = parse(
        "3309\n00:51:04,309 --> 00:51:09,150\nand that is the first round\n\n"
        "3310\n00:51:09,150 --> 00:51:09,550\ntake a breath\n\n"
        "3311\n00:51:09,550 --> 00:51:12,000\ntake a breath\nand round two\n",
        "class.srt",
    )
    assert [cue.text for cue in transcript.cues] == ["and that is the first round", "take a breath", "and round two"]


def test_three_lines_on_the_screen() -> None:
    """Roll-up of three lines: the two upper ones are carried."""
    lines = ["a one", "b two", "c three", "d four", "e five"]
    blocks = [f"00:0{i}.000 --> 00:0{i + 1}.000\n" + "\n".join(lines[max(0, i - 2) : i + 1]) for i in range(len(lines))]
    assert list_words(parse("WEBVTT\n\n" + "\n\n".join(blocks))) == " ".join(lines).split()


def test_speech_after_a_sound_line() -> None:
    """A rolled ``[Music]`` line is an aside once, and no word."""
    text = roll(["welcome back to class", "[Music]", "and we start", "with squats", "nice and low"])
    transcript = parse(text)
    assert " ".join(list_words(transcript)) == "welcome back to class and we start with squats nice and low"
    assert [aside.text for cue in transcript.cues for aside in cue.asides] == ["[Music]"]


def test_words_end_with_the_next_one_and_soon_in_silence() -> None:
    """A timed word ends no later than the next begins, and not at the end of a long cue."""
    transcript = parse(
        "WEBVTT\n\n00:00.000 --> 00:30.000\ngo<00:01.000><c> now</c>\n\n00:30.000 --> 00:31.000\nrest<00:30.500> up\n"
    )
    spans = [(word.start, word.end) for word in transcript.words]
    assert spans[0][1] <= 1000
    assert spans[1] == (1000, 2000)
