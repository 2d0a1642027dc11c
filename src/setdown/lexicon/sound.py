"""What a word sounds like: a consonant key after the idea of Double Metaphone, made coarser on purpose.

Captions mis-hear vowels freely and take voiced consonants for voiceless ones (plank/blank, curl/girl, squat/squad), so
vowels are left out and b-p, d-t-th, g-k, v-f, z-s and ch-j-sh share a letter each. Keys of words can be put together:
``bur`` + ``piece`` gives the key of ``burpees``, whatever way the caption cut the sounds into words.

Codes: P b p; T d t th; K c g k q x(KS); F f v ph; S s z soft c; X sh ch j soft g (-ge, -dge), -tion; M N L R.
An initial vowel (also w, y) is A and an initial h is H; both count only at the start of what is compared.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

_VOWELS = frozenset("aeiouy")
_SIMPLE = {
    "b": "P",
    "d": "T",
    "f": "F",
    "j": "X",
    "k": "K",
    "l": "L",
    "m": "M",
    "n": "N",
    "p": "P",
    "q": "K",
    "r": "R",
    "v": "F",
    "z": "S",
}
_SILENT_STARTS = {"kn": 1, "gn": 1, "pn": 1, "wr": 1, "ps": 1, "pt": 1, "wh": 1}


class Key(NamedTuple):
    """``head`` is A, H or empty: how the word starts when it starts with a vowel or h; ``body`` its consonants."""

    head: str
    body: str


@lru_cache(maxsize=1 << 16)
def sound_key(word: str) -> Key:
    """The consonant key of one word (letters a to z; all else is passed over)."""
    letters = "".join(c for c in word.lower() if "a" <= c <= "z")
    if not letters:
        return Key("", "")
    at = _SILENT_STARTS.get(letters[:2], 0) if len(letters) > 2 else 0
    head = ""
    if letters[at] in _VOWELS or letters[at] == "w":
        head = "A"
    elif letters[at] == "h":
        head = "H"
    codes: list[str] = []
    while at < len(letters):
        code, step = _code_at(letters, at)
        if code and not (codes and codes[-1][-1:] == code[:1] and letters[at - 1] == letters[at]):
            codes.append(code)
        at += step
    return Key(head, merge_doubles("".join(codes)))


def join_keys(words: Iterable[str]) -> str:
    """The key of words said one after the other; words that meet on one sound share it (``bent to`` -> PNT)."""
    key = ""
    first = True
    for word in words:
        head, body = sound_key(word)
        if first:
            key, first = head, False
        key += body[1:] if body and key[-1:] == body[0] else body
    return key


def merge_doubles(key: str) -> str:
    """The key with a code that follows itself left out."""
    return "".join(code for at, code in enumerate(key) if at == 0 or code != key[at - 1])


def _code_at(letters: str, at: int) -> tuple[str, int]:
    """The code of the letter at ``at``, and how many letters it uses up."""
    letter = letters[at]
    following = letters[at + 1 : at + 2]
    if letter in _SIMPLE:
        if letter == "p" and following == "h":
            return "F", 2
        if letter == "d" and letters[at + 1 : at + 3] in ("ge", "gi", "gy"):
            return "X", 2
        if letter == "b" and following == "" and letters[at - 1 : at] == "m":
            return "", 1
        return _SIMPLE[letter], 1
    if letter == "c":
        return _code_c(letters, at, following)
    if letter == "g":
        return _code_g(letters, at, following)
    if letter == "s":
        return _code_s(letters, at, following)
    if letter == "t":
        if letters[at + 1 : at + 3] in ("io", "ia"):
            return "X", 1
        if letters[at + 1 : at + 3] == "ch":
            return "X", 3
        return "T", 2 if following == "h" else 1
    if letter == "x":
        return ("S", 1) if at == 0 else ("KS", 1)
    return "", 1  # vowels, h and w


def _code_c(letters: str, at: int, following: str) -> tuple[str, int]:
    if following == "h":
        return ("K", 2) if letters[at + 2 : at + 3] in ("r", "l") else ("X", 2)
    if following and following in "eiy":
        return ("X", 1) if letters[at + 1 : at + 3] in ("ia", "io") else ("S", 1)
    return "K", 2 if following in ("k", "q") else 1


def _code_g(letters: str, at: int, following: str) -> tuple[str, int]:
    if following == "h":
        return ("K", 2) if at == 0 else ("", 2)
    if letters[at + 1 :] in ("e", "es", "ed", "er", "ers"):
        return "X", 1
    return "K", 1


def _code_s(letters: str, at: int, following: str) -> tuple[str, int]:
    if following == "h":
        return "X", 2
    if letters[at + 1 : at + 3] == "ch":
        return "SK", 3
    if following == "c" and letters[at + 2 : at + 3] and letters[at + 2] in "eiy":
        return "S", 2
    if letters[at + 1 : at + 3] in ("io", "ia"):
        return "X", 1
    return "S", 1
