"""Speaker marks and sounds are told from speech."""

from __future__ import annotations

import pytest

from read.check_transcript import check_transcript, list_words
from setdown.errors import SetdownError
from setdown.model.transcript import Transcript
from setdown.read import parse_transcript


def parse(*texts: str) -> Transcript:
    blocks = [f"00:{i:02}.000 --> 00:{i + 1:02}.000\n{text}" for i, text in enumerate(texts)]
    transcript = parse_transcript(("WEBVTT\n\n" + "\n\n".join(blocks)).encode(), name="class.vtt")
    check_transcript(transcript)
    return transcript


def list_asides(transcript: Transcript) -> list[tuple[str, str]]:
    return [(aside.kind, aside.text) for cue in transcript.cues for aside in cue.asides]


@pytest.mark.parametrize(
    ("text", "sound"),
    [
        ("[Music] okay let's go", "[Music]"),
        ("okay [Applause] let's go", "[Applause]"),
        ("okay let's [ __ ] go", "[ __ ]"),
        ("[upbeat music playing] okay let's go", "[upbeat music playing]"),
        ("okay (laughs) let's go", "(laughs)"),
        ("okay (laughs), let's go", "(laughs),"),
        ("(upbeat music) okay let's go", "(upbeat music)"),
        ("(music playing) okay let's go", "(music playing)"),
        ("(laughs softly) okay let's go", "(laughs softly)"),
        ("(dog barking) okay let's go", "(dog barking)"),
        ("okay ♪ push it to the limit ♪ let's go", "♪ push it to the limit ♪"),
        ("♪♪ okay let's go", "♪♪ okay let's go"),
        ("okay let's go ♪", "♪"),
        ("okay [15 people laughing] let's go", "[15 people laughing]"),
    ],
)
def test_sounds(text: str, sound: str) -> None:
    """A sound stays in the caption at its place, as an aside, and gives no word."""
    transcript = parse(text, "and one")
    assert list_asides(transcript) == [("sound", sound)]
    assert transcript.cues[0].text == text
    assert list_words(transcript) == [*text.replace(sound, " ").split(), "and", "one"]


@pytest.mark.parametrize(
    "text",
    [
        "take the heavy ones (if you have them)",
        "that is [15 reps] each side",
        "(clapping push-ups) are next",
        "(grab your bell) and go",
        "(static) lunges",
        "ten (10) of those",
        "( and ) go",
        "one [ and",
        "my (yoga pants) rip",
    ],
)
def test_brackets_that_are_speech(text: str) -> None:
    """Round brackets without a sound's name, and square ones with a number, are speech."""
    assert list_asides(parse(text, "and one")) == []


@pytest.mark.parametrize(
    ("text", "mark", "speaker"),
    [
        (">> okay let's go", ">>", ""),
        (">>> okay let's go", ">>>", ""),
        ("&gt;&gt; okay let's go", ">>", ""),
        (">> Deb: okay let's go", ">> Deb:", "Deb"),
        (">> deb: okay let's go", ">> deb:", "deb"),
        ("DEB: okay let's go", "DEB:", "DEB"),
        ("COACH DEB: okay let's go", "COACH DEB:", "COACH DEB"),
        ("DR. O'NEIL: okay let's go", "DR. O'NEIL:", "DR. O'NEIL"),
        ("SPEAKER 1: okay let's go", "SPEAKER 1:", "SPEAKER 1"),
        ("- okay let's go", "-", ""),
    ],
)
def test_speaker_marks(text: str, mark: str, speaker: str) -> None:
    """A mark is an aside at its place; a name becomes the cue's speaker."""
    transcript = parse(text, "and one")
    assert list_asides(transcript) == [("speaker", mark)]
    assert transcript.cues[0].speaker == speaker
    assert list_words(transcript) == ["okay", "let's", "go", "and", "one"]


@pytest.mark.parametrize(
    "text",
    [
        "remember: breathe",
        "Remember: breathe",
        "REMEMBER: breathe",
        "it is 12:30 here",
        "12:30: go",
        "Next: squats and rows",
        "NEXT: squats and rows",
        "ROUND 2: squats and rows",
        "so here is the thing: breathe",
        "Deb says: breathe",
        "ratio of 2:1",
        "http://example.org is the place",
        "10 >> 12",
    ],
)
def test_colons_that_are_speech(text: str) -> None:
    """Times, sentences and words of a class before a colon are no names."""
    transcript = parse(text, "and one")
    assert [aside for aside in list_asides(transcript) if aside[1] != ">>"] == []
    assert transcript.cues[0].speaker == ""


def test_names_that_begin_most_cues_are_speakers() -> None:
    """In a file where two names begin the captions, they are speakers in any letters; other colons stay speech."""
    texts = [
        "Deb: okay let's go",
        "Gord: right behind you",
        "Deb: remember: breathe",
        "Gord: will do",
        "Deb: tip: go slow",
    ]
    transcript = parse(*texts)
    assert [cue.speaker for cue in transcript.cues] == ["Deb", "Gord", "Deb", "Gord", "Deb"]
    assert list_words(transcript)[6:8] == ["remember:", "breathe"]


def test_movements_before_colons_are_not_speakers() -> None:
    """Many different words before colons are headings of what follows, not people."""
    texts = [
        "Squats: ten of them",
        "Lunges: ten of them",
        "Thrusters: ten of them",
        "Burpees: ten of them",
        "Swings: go",
    ]
    assert list_asides(parse(*texts)) == []


def test_file_in_capitals() -> None:
    """Where everything is in capitals, capitals do not make a name."""
    assert list_asides(parse("THRUSTERS: TEN OF THEM", "AND REST")) == []


def test_two_speakers_in_a_caption() -> None:
    """Dashes at both lines of a caption; the first name is the cue's speaker."""
    transcript = parse("- hi there\n- hello you", "ANNA: go\nBEN: stop", "and one")
    assert list_asides(transcript)[:2] == [("speaker", "-"), ("speaker", "-")]
    assert transcript.cues[0].text == "- hi there - hello you"
    assert transcript.cues[1].speaker == "ANNA"
    assert list_words(transcript) == ["hi", "there", "hello", "you", "go", "stop", "and", "one"]


def test_marks_take_no_time() -> None:
    """The first word after a speaker mark begins with the cue; a sound takes time like words."""
    assert parse(">> DEB: okay", "and one").words[0].start == 0
    assert parse("[Music] okay", "and one").words[0].start > 0


def test_sounds_alone_are_no_speech() -> None:
    """A cue with nothing else stays, without words; a file with nothing else is refused."""
    transcript = parse("[Music]", "okay let's go")
    assert (transcript.cues[0].text, transcript.words[0].cue) == ("[Music]", 1)
    with pytest.raises(SetdownError, match="no speech") as caught:
        parse("[Music]", "♪ la la ♪")
    assert "[Music]" in caught.value.hint
