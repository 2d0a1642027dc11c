"""Words as the taggers compare them: lower case, straight apostrophes, no punctuation at either end."""

from __future__ import annotations

import re
from collections.abc import Iterable

_OUTER = re.compile(r"^[^\w$£€]+|[^\w%]+$")
_APOSTROPHE = str.maketrans({"\u2019": "'", "\u2018": "'", "\u02bc": "'", "\u2011": "-", "\u2010": "-"})


def normalise_word(text: str) -> str:
    """``Push-ups,`` -> ``push-ups``; a word that is only punctuation keeps its text."""
    plain = text.lower().translate(_APOSTROPHE)
    return _OUTER.sub("", plain) or plain


def normalise_words(texts: Iterable[str]) -> tuple[str, ...]:
    """All words of a class; repeated words are normalised once."""
    seen: dict[str, str] = {}
    out: list[str] = []
    for text in texts:
        word = seen.get(text)
        if word is None:
            word = seen[text] = normalise_word(text)
        out.append(word)
    return tuple(out)
