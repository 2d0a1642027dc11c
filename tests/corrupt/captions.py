"""Captions as the corruptions see them: words with times, and a number that stays theirs whatever happens."""

from __future__ import annotations

import json
import random
from dataclasses import dataclass, replace
from pathlib import Path

from setdown.model.transcript import Transcript
from setdown.read import read_transcript

Number = tuple[int, ...]  # of a word in the transcript that was read; parts and copies have longer ones


@dataclass(frozen=True, slots=True)
class Said:
    """One word, its times in seconds, and its number."""

    text: str
    start: float
    end: float
    number: Number


@dataclass(frozen=True, slots=True)
class Caption:
    start: float
    end: float
    words: tuple[Said, ...]

    @property
    def text(self) -> str:
        return " ".join(w.text for w in self.words)


Captions = tuple[Caption, ...]


@dataclass(frozen=True, slots=True)
class Dice:
    """Draws that depend only on the seed, on what is drawn for, and on the number of the word.

    So a word that is hit at some strength is hit at every greater one, and in the same way.
    """

    seed: int
    kind: str

    def draw(self, number: Number, turn: int = 0) -> float:
        """A number from 0 up to 1."""
        return random.Random(f"{self.seed} {self.kind} {number} {turn}").random()

    def gauss(self, number: Number) -> float:
        """A standard normal number."""
        return random.Random(f"{self.seed} {self.kind} {number} gauss").gauss(0, 1)


def read_captions(path: Path) -> Captions:
    """The spoken words of a transcript in any format, by caption."""
    return take_captions(read_transcript(path))


def take_captions(transcript: Transcript) -> Captions:
    by_cue: dict[int, list[Said]] = {}
    for n, word in enumerate(transcript.words):
        by_cue.setdefault(word.cue, []).append(Said(word.text, word.start / 1000, word.end / 1000, (n,)))
    return tuple(
        Caption(cue.start / 1000, cue.end / 1000, tuple(by_cue[cue.index]))
        for cue in transcript.cues
        if cue.index in by_cue
    )


def change_words(captions: Captions, change: dict[Number, tuple[Said, ...]]) -> Captions:
    """The captions with words replaced by none, one or several; captions without words go."""
    out = []
    for caption in captions:
        words = tuple(new for old in caption.words for new in change.get(old.number, (old,)))
        if words:
            out.append(replace(caption, words=words))
    return tuple(out)


def share_time(texts: list[str], old: Said) -> tuple[Said, ...]:
    """Several words in the place of one."""
    step = (old.end - old.start) / max(len(texts), 1)
    return tuple(
        Said(text, old.start + k * step, old.start + (k + 1) * step, (*old.number, k)) for k, text in enumerate(texts)
    )


def list_words(captions: Captions) -> list[Said]:
    return [w for caption in captions for w in caption.words]


def format_vtt(captions: Captions) -> str:
    """WebVTT, one cue a caption."""
    blocks = (f"{_clock(c.start)} --> {_clock(max(c.end, c.start + 0.001))}\n{c.text}" for c in captions)
    return "WEBVTT\n\n" + "\n\n".join(blocks) + "\n"


def format_words_json(captions: Captions) -> str:
    """Segments with words, as recognisers write them."""
    segments = [
        {
            "id": n,
            "start": round(c.start, 3),
            "end": round(c.end, 3),
            "text": " " + c.text,
            "words": [{"word": " " + w.text, "start": round(w.start, 3), "end": round(w.end, 3)} for w in c.words],
        }
        for n, c in enumerate(captions)
    ]
    return json.dumps({"segments": segments, "language": "en"}, indent=1)


def _clock(seconds: float) -> str:
    ms = round(seconds * 1000)
    return f"{ms // 3600000:02d}:{ms // 60000 % 60:02d}:{ms // 1000 % 60:02d}.{ms % 1000:03d}"
