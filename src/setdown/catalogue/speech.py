"""Finding words that were said: which classes by the full-text index, and where in a class by its captions."""

from __future__ import annotations

import re
import sqlite3
import unicodedata
from typing import NamedTuple, cast

from setdown.catalogue.describe import unpack
from setdown.errors import SetdownError

PLACES = 5  # of one class that are shown
_PHRASE = re.compile(r'"([^"]*)"?|(\S+)')


class _Said(NamedTuple):
    token: str
    caption: int


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
    plain = unicodedata.normalize("NFD", text)
    kept = "".join(c for c in plain if not unicodedata.combining(c))
    return [token.lower() for token in re.findall(r"[^\W_]+", kept)]


def find_said(connection: sqlite3.Connection, class_id: int, words: str) -> list[tuple[int, str]]:
    """Where in a class the words were said: start in ms and text of the caption, the first few places."""
    row = connection.execute("SELECT captions FROM spoken WHERE class_id = ?", (class_id,)).fetchone()
    if row is None:
        return []
    captions = cast("list[tuple[int, str]]", unpack(row[0]))
    said = [_Said(token, at) for at, (_, text) in enumerate(captions) for token in cut_tokens(text)]
    found: set[int] = set()
    for phrase in list_phrases(words):
        size = len(phrase)
        starts = (n for n, one in enumerate(said) if one.token == phrase[0])
        found.update(said[n].caption for n in starts if [one.token for one in said[n : n + size]] == phrase)
    return [(captions[at][0], captions[at][1]) for at in sorted(found)[:PLACES]]
