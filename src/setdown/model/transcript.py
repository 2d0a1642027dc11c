"""What every reader produces: cues, words with times, and what was set aside.

All times are integer milliseconds from the start of the recording.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple


class Word(NamedTuple):
    """One spoken word. ``text`` is exactly ``cues[cue].text[char_start:char_end]``.

    A tuple, because a class has thousands and a tuple is made four times as fast as a frozen dataclass.
    """

    text: str
    start: int
    end: int
    cue: int
    char_start: int
    char_end: int
    probability: float | None = None


@dataclass(frozen=True, slots=True)
class Aside:
    """Text that is in the cue but was not spoken as part of the class: a speaker mark, a sound, a laugh; or that nobody
    said at all, because a recogniser made it up."""

    kind: str  # 'speaker' | 'sound' | 'artefact'
    char_start: int
    char_end: int
    text: str


@dataclass(frozen=True, slots=True)
class Cue:
    """One caption as a viewer sees it, after markup and repeated rolling lines are taken out.

    ``line`` is the 1-based line of the file where the cue starts (0 where the format has no lines).
    """

    index: int
    start: int
    end: int
    text: str
    line: int = 0
    identifier: str = ""
    speaker: str = ""
    asides: tuple[Aside, ...] = ()


@dataclass(frozen=True, slots=True)
class Notice:
    """Something the reader put up with and the user should know. Never fatal."""

    code: str
    message: str
    line: int | None = None


@dataclass(frozen=True, slots=True)
class ClassInfo:
    """What the user tells about a recording, by options or in ``NAME.meta.toml``; nothing here is guessed."""

    title: str = ""
    instructor: str = ""
    date: str = ""  # ISO 8601, YYYY-MM-DD
    media: str = ""  # path or address of the recording
    tags: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Transcript:
    """A timed transcript. ``words`` are in time order and cover every spoken character of every cue.

    ``timing`` is ``word`` when the file itself gave word times, else ``cue`` (times interpolated in the cue).
    ``resolution`` is the typical uncertainty of a word's time in ms (half the median cue length when interpolated).
    """

    name: str
    format: str  # webvtt | subrip | ttml | asr_json | bracketed
    sha256: str
    size: int
    cues: tuple[Cue, ...]
    words: tuple[Word, ...]
    timing: str
    resolution: int
    language: str = "en"
    info: ClassInfo = field(default_factory=ClassInfo)
    notices: tuple[Notice, ...] = ()

    @property
    def duration(self) -> int:
        """End of the last cue, in ms; 0 for a transcript without cues."""
        return max((c.end for c in self.cues), default=0)
