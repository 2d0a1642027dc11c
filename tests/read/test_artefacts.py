"""What a recogniser made up, looped or wrote twice is set aside; what an instructor repeats is not.

The cases are from memory of what open recognisers do; no source.
"""

from __future__ import annotations

import json

import pytest

from setdown.model.transcript import Transcript
from setdown.read import parse_transcript

Line = tuple[float, float, str]
BEFORE: Line = (0.0, 4.0, "and hold it there for me")
AFTER: Line = (60.0, 63.0, "well done and take a rest")


def read_lines(*lines: Line) -> Transcript:
    """Captions without word times."""

    def clock(seconds: float) -> str:
        ms = round(seconds * 1000)
        return f"{ms // 3600000:02d}:{ms // 60000 % 60:02d}:{ms // 1000 % 60:02d}.{ms % 1000:03d}"

    cues = (f"{clock(a)} --> {clock(b)}\n{text}\n" for a, b, text in lines)
    return parse_transcript(("WEBVTT\n\n" + "\n".join(cues)).encode(), name="class.vtt")


def read_words(*segments: list[tuple[float, float, str]]) -> Transcript:
    """A recogniser's segments of words with times."""
    made = [
        {
            "start": words[0][0],
            "end": words[-1][1],
            "text": " ".join(w for _, _, w in words),
            "words": [{"start": a, "end": b, "word": f" {w}"} for a, b, w in words],
        }
        for words in segments
    ]
    return parse_transcript(json.dumps({"segments": made}).encode(), name="class.words.json")


def say(text: str, start: float, seconds: float) -> list[tuple[float, float, str]]:
    """Words at an even pace."""
    words = text.split()
    step = seconds / len(words)
    return [(round(start + i * step, 3), round(start + (i + 1) * step, 3), w) for i, w in enumerate(words)]


def list_artefacts(transcript: Transcript) -> list[str]:
    return [a.text for cue in transcript.cues for a in cue.asides if a.kind == "artefact"]


def list_words(transcript: Transcript) -> str:
    return " ".join(w.text for w in transcript.words)


@pytest.mark.parametrize(
    "text",
    [
        "you",
        "Thank you.",
        "thanks for watching!",
        "thank you very much for watching",
        "bye bye",
        "Bye-bye.",
        "I'll see you in the next video",
        "please subscribe to my channel",
    ],
)
def test_closing_lines_made_up_in_silence(text):
    """Alone in the middle of a long silence, with speech to follow: the silence is whole again, the cue keeps it."""
    made = read_lines(BEFORE, (30.0, 30.5, text), AFTER)
    assert list_artefacts(made) == [text]
    assert list_words(made) == f"{BEFORE[2]} {AFTER[2]}"
    assert made.cues[1].text == text
    assert [n.code for n in made.notices] == ["artefacts"]


def test_a_lone_word_stretched_over_a_silence():
    """Twenty seconds of 'you', with speech right before and after."""
    assert list_artefacts(read_lines(BEFORE, (4.0, 24.0, "you"), (24.0, 27.0, "and rest"))) == ["you"]


@pytest.mark.parametrize(
    "text", ["and", "in", "next", "good", "last one", "five", "up", "halfway", "thank you Margaret"]
)
def test_short_lines_in_a_silence_that_are_said(text):
    """Breath, counts, praise and thanks to somebody stand alone in silences of every class."""
    made = read_lines(BEFORE, (30.0, 30.5, text), AFTER)
    assert list_artefacts(made) == []
    assert text in list_words(made)


def test_thanks_in_the_talk_and_at_the_end():
    """Between other speech, and when nothing follows, thanks are thanks."""
    assert list_artefacts(read_lines(BEFORE, (4.5, 5.0, "thank you"), (5.5, 8.0, "that was kind"), AFTER)) == []
    assert list_artefacts(read_lines(BEFORE, AFTER, (90.0, 91.0, "thank you"), (99.0, 99.5, "bye"))) == []


@pytest.mark.parametrize("copies", [3, 12])
def test_a_line_looped_like_a_machine(copies):
    """Back to back and equally long: the first copy stays."""
    line = "keep your chest up and your core tight"
    loop = [(10.0 + 2 * k, 12.0 + 2 * k, line) for k in range(copies)]
    made = read_lines(BEFORE, *loop, AFTER)
    assert list_artefacts(made) == [line] * (copies - 1)
    assert list_words(made).count("chest") == 1


def test_a_line_looped_faster_than_speech():
    """Irregular, but eight words in half a second cannot be said."""
    line = "keep your chest up and your core tight"
    loop = [(10.0, 10.4, line), (10.4, 11.1, line), (11.1, 11.3, line)]
    assert list_artefacts(read_lines(BEFORE, *loop, AFTER)) == [line, line]


def test_a_line_that_the_instructor_repeats():
    """The same words over and over in a human rhythm, or twice, or a lone count: all said."""
    times = [(10.0, 12.1), (12.4, 14.3), (14.9, 17.0), (17.2, 19.6), (20.0, 22.1)]
    assert list_artefacts(read_lines(BEFORE, *((a, b, "and press and lower") for a, b in times), AFTER)) == []
    twice = [(10.0 + 2 * k, 12.0 + 2 * k, "squeeze at the top and slowly lower") for k in range(2)]
    assert list_artefacts(read_lines(BEFORE, *twice, AFTER)) == []
    pulses = [(10.0 + k, 11.0 + k, "up") for k in range(8)]
    assert list_artefacts(read_lines(BEFORE, *pulses, AFTER)) == []


def test_a_phrase_said_twice_where_two_windows_meet():
    """Segments that overlap in time begin and end with the same words: once is enough."""
    first = say("now we go down for ten good ones", 10.0, 4.0)
    made = read_words(first, say("for ten good ones ready and go", 12.4, 3.4), say("one", 18.0, 0.4))
    assert list_artefacts(made) == ["for ten good ones"]
    assert list_words(made) == "now we go down for ten good ones ready and go one"


def test_a_phrase_crammed_into_no_time():
    """The recogniser gives one of the copies no time to be said: that one goes, whichever it is."""
    normal, crammed = say("nice and tall", 10.0, 0.9), say("nice and tall", 10.9, 0.06)
    made = read_words([*normal, *crammed, *say("and breathe", 11.0, 1.0)])
    assert list_words(made) == "nice and tall and breathe"
    assert made.words[0].start == 10_000
    crammed, normal = say("nice and tall", 10.0, 0.06), say("nice and tall", 10.06, 0.9)
    made = read_words([*crammed, *normal, *say("and breathe", 11.0, 1.0)])
    assert list_words(made) == "nice and tall and breathe"
    assert made.words[0].start == 10_060


def test_a_phrase_that_the_instructor_says_twice():
    """Four words in eight tenths of a second are quick, but said: in one segment, across two, without word times."""
    twice = [*say("you own one pair", 25.8, 0.8), *say("you own one pair", 26.6, 0.9)]
    assert list_artefacts(read_words(twice)) == []
    assert list_artefacts(read_words(twice[:4], twice[4:])) == []
    lines = ((10.0, 12.0, "if you own one pair"), (12.0, 15.0, "you own one pair that is fine"))
    assert list_artefacts(read_lines(*lines)) == []


def test_a_word_stretched_over_a_silence():
    """Inside a segment it ends too late, at the beginning it starts too early; a word held for two seconds is said."""
    made = read_words([(0.0, 12.0, "ready"), (12.0, 12.4, "and"), (12.4, 21.0, "go"), (21.0, 23.0, "hooold")])
    assert [(w.start, w.end) for w in made.words] == [
        (11_000, 12_000),
        (12_000, 12_400),
        (12_400, 13_400),
        (21_000, 23_000),
    ]
