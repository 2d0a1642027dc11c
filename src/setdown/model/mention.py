"""Mentions: what the words are about, before it is decided what they mean for the class."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any


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
