"""The normal form of words, in which spellings that mean the same name are equal.

A word is cut at hyphens and slashes into pieces; each piece loses its punctuation, possessive and plural ending, and
numbers become digits: ``Press-ups`` -> ``press up``, ``farmer's`` -> ``farmer``, ``flies``, ``flys`` and ``flyes`` ->
``fly``, ``warrior two`` and ``warrior II`` -> ``warrior 2``, ``one-armed`` and ``single arm`` -> ``1 arm``. The form is
for comparing, not for reading: it need not be an English word (``was`` -> ``wa``).
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_UNITS = "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen"
_NUMBERS = {word: str(n) for n, word in enumerate((_UNITS + " eighteen nineteen").split(), start=1)}
_NUMBERS |= {
    word: str(n * 10)
    for n, word in enumerate(["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"], start=2)
}
_SPOKEN = {digits: word for word, digits in _NUMBERS.items()}

# Spellings, abbreviations and word forms that never tell two movements apart.
_SAME = _NUMBERS | {
    "ii": "2",
    "iii": "3",
    "single": "1",
    "&": "and",
    "n": "and",
    "db": "dumbbell",
    "dumbell": "dumbbell",
    "kb": "kettlebell",
    "alternate": "alternating",
    "alternated": "alternating",
    "alt": "alternating",
    "armed": "arm",
    "legged": "leg",
    "handed": "hand",
    "calve": "calf",  # what is left of 'calves' once the s is gone
    "halve": "half",
    "feet": "foot",
    "flye": "fly",
    "plyometric": "plyo",
    "centre": "center",
    "manoeuvre": "maneuver",
}
_CUT = re.compile(r"[-‐‑–—/_+.,:;!?()\[\]\"“”*\s]+")
_APOSTROPHES = str.maketrans({"’": "'", "‘": "'", "ʼ": "'", "`": "'"})


# Short words whose s is no ending, and which without it would be another word.
_KEEP_S = frozenset(["is", "as", "us", "his", "this", "its", "was", "has", "yes", "bus", "gas", "plus", "thus"])


def take_off_plural(form: str) -> str:
    """The form without a regular plural (or third-person) ending: ``presses`` -> ``press``, ``ups`` -> ``up``.

    Where a singular and a plural would not meet (``plie``, ``plies``; ``chasse``, ``chasses``), both are cut alike.
    """
    if form.endswith("ie") and len(form) > 3:
        return form[:-2] + "y"
    if form.endswith("sse"):
        return form[:-1]
    if len(form) < 2 or not form.endswith("s") or form.endswith("ss") or form in _KEEP_S:
        return form
    if form.endswith("ies") and len(form) > 4:
        return form[:-3] + "y"
    if form.endswith(("sses", "shes", "ches", "xes", "zzes")):
        return form[:-2]
    return form[:-1]


def _normalise_piece(piece: str) -> tuple[str, ...]:
    if piece.endswith("'s"):
        piece = piece[:-2]
    piece = piece.replace("'", "")
    if not piece:
        return ()
    form = piece if piece in _SAME else take_off_plural(piece)
    form = _SAME.get(form, form)
    # 21 is said 'twenty-one' and heard as either; both become two pieces. 20 and 100 stay whole.
    if len(form) == 2 and form.isascii() and form.isdigit() and form[0] > "1" and form[1] != "0":
        return (form[0] + "0", form[1])
    return (form,)


@lru_cache(maxsize=1 << 16)
def normalise_word(word: str) -> tuple[str, ...]:
    """The normal pieces of one word as it stands in a transcript or a name: none for bare punctuation."""
    if word.isascii() and word.isalpha():
        return _normalise_piece(word.lower())
    plain = unicodedata.normalize("NFKD", word.translate(_APOSTROPHES).lower())
    cut = _CUT.split("".join(c for c in plain if not unicodedata.combining(c)))
    return tuple(form for piece in cut if piece for form in _normalise_piece(piece))


def normalise_name(name: str) -> tuple[str, ...]:
    """The normal pieces of a name or phrase of several words."""
    forms: tuple[str, ...] = ()
    for word in name.split():
        forms += normalise_word(word)
    return forms


def spell_out(form: str) -> str:
    """The letters of a piece: ``2`` -> ``two``; other pieces as they are. For comparing by letters and sound."""
    return _SPOKEN.get(form, form)


def is_number(form: str) -> bool:
    """Whether a normal piece is a number."""
    return form.isdigit()
