"""Finding words that were said: which classes by the full-text index, and where in a class by its captions."""

from __future__ import annotations

import re
import sqlite3
import unicodedata
from bisect import bisect_right
from itertools import accumulate
from typing import cast

from setdown.catalogue.describe import unpack
from setdown.errors import SetdownError

PLACES = 5  # of one class that are shown
_TOKEN = re.compile(r"[^\W_]+")
_PHRASE = re.compile(r'"([^"]*)"?|(\S+)')


def match_text(words: str) -> str:
    """The words as the index wants them: all must be said, those in double quotes one after the other.

    Raises:
        SetdownError: there is no word in it.
    """
    phrases = list_phrases(words)
    return " ".join('"' + " ".join(phrase) + '"' for phrase in phrases)


def list_phrases(words: str) -> list[list[str]]:
    """``"soft knees" breathe`` -> ``[["soft", "knees"], ["breathe"]]``. Raises SetdownError when there is no word."""
    found = [cut_tokens(quoted or plain) for quoted, plain in _PHRASE.findall(words)]
    phrases = [phrase for phrase in found if phrase]
    if not phrases:
        raise SetdownError(f"there is no word in {words!r}", expected="words that were said")
    return phrases


def cut_tokens(text: str) -> list[str]:
    """The text as the index cuts it: letters and digits, lower case, without accents (SQLite's ``unicode61``)."""
    return _TOKEN.findall(_flatten(text))


def find_said(connection: sqlite3.Connection, class_id: int, words: str) -> list[tuple[int, str]]:
    """Where in a class the words were said: start in ms and text of the caption, the first few places."""
    row = connection.execute("SELECT captions FROM spoken WHERE class_id = ?", (class_id,)).fetchone()
    if row is None:
        return []
    captions = cast("list[tuple[int, str]]", unpack(row[0]))
    flat = [_flatten(text) for _, text in captions]
    starts = list(accumulate((len(text) + 1 for text in flat), initial=0))
    whole = "\n".join(flat)
    found: set[int] = set()
    for phrase in list_phrases(words):
        # A phrase may begin in one caption and go on in the next.
        pattern = re.compile(r"(?<![^\W_])" + r"[\W_]+".join(map(re.escape, phrase)) + r"(?![^\W_])")
        mine: set[int] = set()
        for match in pattern.finditer(whole):
            mine.add(bisect_right(starts, match.start()) - 1)
            if len(mine) == PLACES:
                break
        found |= mine
    return [(captions[at][0], captions[at][1]) for at in sorted(found)[:PLACES]]


def _flatten(text: str) -> str:
    """Lower case, without accents."""
    if not text.isascii():
        text = "".join(c for c in unicodedata.normalize("NFD", text) if not unicodedata.combining(c))
    return text.lower()
