"""Mentions: what the words are about, before it is decided what they mean for the class."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from setdown.model.transcript import Transcript


@dataclass(frozen=True, slots=True)
class Mention:
    """Words ``[start, end)`` of ``Transcript.words`` that say something of one kind.

    ``kind`` is one of the names listed in the package ``setdown.tag``; ``value`` depends on the kind; ``rule`` names
    the rule that fired, in words that read like the phrase it matches; ``score`` is 0..1, how sure the rule is.
    """

    kind: str
    start: int
    end: int
    value: Any
    rule: str
    score: float = 1.0


@dataclass(frozen=True, slots=True)
class TaggedTranscript:
    """A transcript with its normalised words and all mentions, in order of (start, end, kind).

    ``words[i]`` is ``transcript.words[i].text`` in lower case without outer punctuation (never empty: a word that is
    only punctuation keeps its text).
    """

    transcript: Transcript
    words: tuple[str, ...]
    mentions: tuple[Mention, ...]

    def of_kind(self, *kinds: str) -> list[Mention]:
        """Mentions of any of the kinds, in order."""
        return [m for m in self.mentions if m.kind in kinds]
