"""Captions put right: what is changed, what is not, and how they read."""

from __future__ import annotations

import csv
import io

import pytest
import srt

from setdown.lexicon import Lexicon
from setdown.model.routine import Evidence, Query
from setdown.model.transcript import Cue
from setdown.publish.captions import repair_captions
from setdown.publish.fixed_text import load_strings
from setdown.publish.reading import ReadingLimits, format_reading, read_captions
from setdown.publish.repair import find_repairs
from setdown.read import parse_transcript


def repair(text: str, lexicon: Lexicon) -> str:
    words = text.split()
    for one in reversed(find_repairs(words, lexicon)):
        words[one.start : one.end] = one.now.split()
    return " ".join(words)


@pytest.mark.parametrize(
    ("heard", "said"),
    [
        ("next is the gobble its quat ten of them", "next is the goblet squat ten of them"),
        ("grab your dumb bells and stand tall", "grab your dumbbells and stand tall"),
        ("one kettle ball at your feet", "one kettlebell at your feet"),
        ("ten raps then we rest", "ten reps then we rest"),
        ("now dumbbell rose ten of them", "now dumbbell rows ten of them"),
        ("hold it for tin seconds", "hold it for ten seconds"),
        ("next up hammer corals ten of them", "next up hammer curls ten of them"),
        ("first two are a shoulder price and a row", "first two are a shoulder press and a row"),
        ("into eternal rotation with the band", "into external rotation with the band"),
        ("a mug of tea gobble it squats feet apart", "a mug of tea goblet squats feet apart"),
        ("hold it there own minute now", "hold it there one minute now"),
        ("you get their seconds off", "you get three seconds off"),
        ("take ten pounds no twelve points yes twelve pounds", "take ten pounds no twelve pounds yes twelve pounds"),
        (
            "lie on the bench feet on the bench off the bench then back on the bunch",
            "lie on the bench feet on the bench off the bench then back on the bench",
        ),
    ],
)
def test_words_of_the_trade_are_put_right(heard, said, lexicon):
    """By the list, by sound, as one word, or by the company they keep."""
    assert repair(heard, lexicon) == said


@pytest.mark.parametrize(
    "text",
    [
        "a rose in the garden and a tin of beans",
        "we had lunch with the squad on friday",
        "she rose at six and ran for the bus",
        "it was the third time this week",
        "what a lovely morning the bees are out",
        "my neighbour has a black plank fence",
        "put the kettle on and sit down",
        "the price of a bench is a scratch on the purse",
        "take your own minute and do it in their time",
        "i got twelve points in the quiz",
        "a bunch of flowers on the bench",
    ],
)
def test_ordinary_talk_is_left_alone(text, lexicon):
    """The same sounds without the company."""
    assert repair(text, lexicon) == text


VTT = """WEBVTT

1
00:00:01.000 --> 00:00:03.500
Next is the Gobble its quat, ten of them.

00:00:03.500 --> 00:00:03.500
<v Wren>a rose & a <b>thorn</b>

00:00:05.000 --> 00:00:07.000
grab your dumb

00:00:07.000 --> 00:00:09.000
bells and go
"""


def read(text: str = VTT):
    return parse_transcript(text.encode(), name="x.vtt")


def test_a_change_keeps_times_capitals_and_punctuation(lexicon):
    """Only the words change, in the caption that they are in; the change list says what and why."""
    transcript = read()
    cues, changes = repair_captions(transcript, lexicon)
    assert [(cue.start, cue.end) for cue in cues] == [(cue.start, cue.end) for cue in transcript.cues]
    assert cues[0].text == "Next is the Goblet squat, ten of them."
    assert (changes[0].was, changes[0].now, changes[0].at // 1000) == ("Gobble its quat", "Goblet squat", 1)
    for change in changes:
        assert transcript.cues[change.cue].text[change.char_start : change.char_end] == change.was


def test_a_name_over_the_edge_of_a_caption_is_not_moved(lexicon):
    """'dumb' ends one caption and 'bells' begins the next: one word cannot stand in both."""
    cues, _ = repair_captions(read(), lexicon)
    assert [cue.text for cue in cues[2:]] == ["grab your dumb", "bells and go"]


@pytest.mark.parametrize(("state", "expected"), [("dismissed", "Gobble its quat"), ("accepted", "Split squat")])
def test_the_reviewer_has_the_last_word(state, expected, lexicon, routine):
    """What was dismissed stays as it was heard; what was accepted is written as accepted."""
    transcript = read()
    text = transcript.cues[0].text
    start = text.index("Gobble")
    quote = text[start : start + 15]
    evidence = Evidence(cue=0, char_start=start, char_end=start + 15, quote=quote, at=1.0)
    routine.queries = [
        Query(
            id="q",
            code="name-repaired",
            severity="note",
            message="?",
            suggestions=["split squat"],
            state=state,
            evidence=[evidence],
        )
    ]
    cues, _ = repair_captions(transcript, lexicon, routine)
    assert expected in cues[0].text


def test_subrip_and_change_list_are_read_back(publish, routine):
    """The srt package reads the SubRip; the change list is CSV with a heading and no formula."""
    made = publish(routine, "captions", transcript=read())
    subtitles = list(srt.parse(made["captions.srt"]))
    assert subtitles[0].content == "Next is the Goblet squat, ten of them."
    assert [s.index for s in subtitles] == [1, 2, 3, 4]
    rows = list(csv.reader(io.StringIO(made["captions.changes.csv"])))
    assert rows[0] == ["time", "caption", "was", "is", "why", "sureness"]
    assert rows[1][:4] == ["0:01", "1", "Gobble its quat", "Goblet squat"]


def test_reading_is_measured_against_captioning_practice():
    """42 characters in 2 s are 21 a second, more than 20; a line of 43 is too long, half a second too short.

    Limits: broadcasters' and platforms' style guides, from memory.
    """
    cues = (
        Cue(0, 0, 2000, "a" * 42),
        Cue(1, 2000, 5000, "a" * 43),
        Cue(2, 5000, 5500, "ten"),
        Cue(3, 6000, 14_000, "one\ntwo\nthree"),
        Cue(4, 14_000, 16_000, "ten of these now"),
        Cue(5, 16_000, 17_000, " "),
    )
    readings = read_captions(cues)
    assert [reading.faults for reading in readings] == [("speed",), ("line",), ("short",), ("lines", "long"), ()]
    assert readings[0].characters_s == 21
    report = format_reading(readings, load_strings("en"))
    assert "1 run faster than 20 characters a second" in report
    assert "0:06  caption 4" in report
    assert read_captions(cues[:1], ReadingLimits(characters_s=25))[0].faults == ()


def test_no_captions_have_a_report_too():
    """Of none."""
    assert "0 captions" in format_reading([], load_strings("en"))
