"""Whole classes in every style of captions."""

from __future__ import annotations

from pathlib import Path

import pytest

from read.check_transcript import check_transcript, list_words
from setdown.model.transcript import Transcript
from setdown.read import read_transcript

STYLES = {
    ".vtt": "webvtt",
    ".clean.vtt": "webvtt",
    ".srt": "subrip",
    ".txt": "bracketed",
    ".rolling.vtt": "webvtt",
    ".words.json": "asr_json",
}
NAMES = sorted(path.stem for path in (Path(__file__).parents[1] / "gold" / "scripts").glob("*.script"))


@pytest.fixture(scope="module", params=NAMES)
def transcripts(request: pytest.FixtureRequest, gold_folder: Path) -> dict[str, Transcript]:
    """One class in every style."""
    return {style: read_transcript(gold_folder / f"{request.param}{style}") for style in STYLES}


def test_there_are_classes() -> None:
    """The annotated classes were found."""
    assert len(NAMES) > 20


def test_every_style_is_sound(transcripts: dict[str, Transcript]) -> None:
    """Every style is recognised, keeps the invariants, is English and gives rise to no notice."""
    for style, transcript in transcripts.items():
        check_transcript(transcript)
        assert transcript.format == STYLES[style]
        assert (transcript.language, transcript.notices) == ("en", ())
        assert transcript.timing == ("word" if style in (".rolling.vtt", ".words.json") else "cue")


def test_every_style_has_the_same_words(transcripts: dict[str, Transcript]) -> None:
    """Rolling captions, plain ones, SubRip, blocks and recogniser JSON of one class say the same words in order."""
    words = list_words(transcripts[".vtt"])
    for style in (".srt", ".txt", ".rolling.vtt", ".words.json"):
        assert list_words(transcripts[style]) == words


def test_word_times_agree(transcripts: dict[str, Transcript]) -> None:
    """Starts of rolling captions are those of the JSON; interpolated ones lie within the cue they are in.

    Tolerance: 10 ms of the JSON's rounding for words with a time of their own; within hyphenated words, which have one
    time for two words, a quarter of a second.
    """
    rolling, words = transcripts[".rolling.vtt"].words, transcripts[".words.json"].words
    differences = sorted(abs(a.start - b.start) for a, b in zip(rolling, words, strict=True))
    assert differences[len(differences) * 95 // 100] <= 10
    assert differences[-1] <= 250
    for style in (".vtt", ".txt"):
        transcript = transcripts[style]
        for word in transcript.words:
            cue = transcript.cues[word.cue]
            assert cue.start <= word.start <= word.end <= cue.end


def test_interpolated_times_are_within_the_resolution(transcripts: dict[str, Transcript]) -> None:
    """Nine in ten interpolated starts in short captions are nearer to the true ones than the stated resolution."""
    transcript, true = transcripts[".vtt"], transcripts[".words.json"].words
    differences = sorted(abs(a.start - b.start) for a, b in zip(transcript.words, true, strict=True))
    assert differences[len(differences) * 9 // 10] < transcript.resolution
