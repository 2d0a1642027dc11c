"""Phrases of structure and coaching (go-words, rests, sides, form cues, prohibitions …), from ``lexicon/phrases``."""

from __future__ import annotations

from collections.abc import Sequence

from setdown.lexicon import Lexicon
from setdown.lexicon.phrases import load_phrase_finder
from setdown.model.mention import Mention


def tag_phrases(words: Sequence[str], lexicon: Lexicon) -> list[Mention]:
    """One mention per phrase; ``kind`` is the phrase table's name, ``value`` the words, ``rule`` the phrase itself."""
    found: list[Mention] = []
    for kind, start, end in load_phrase_finder(lexicon.folder / "phrases").find(words):
        text = " ".join(words[start:end])
        found.append(Mention(kind, start, end, text, f"{kind}: {text}"))
    return found
