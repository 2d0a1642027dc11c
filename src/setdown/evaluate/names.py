"""When do two exercise cells name the same movement?

A gold cell lists accepted names (``lateral raise|side raise``). Two cells agree when any of their names agree after
case, punctuation, plurals, spaces and leading words of kit or position are taken away.
"""

from __future__ import annotations

import re
from functools import lru_cache

LEADING = re.compile(
    r"^(dumbbell|db|barbell|kettlebell|kb|banded|band|resistance band|cable|bodyweight|body weight|seated|standing"
    r"|static|alternating|single|chair|weighted)\s+"
)
MUSCLE_PLURAL = re.compile(r"\b(triceps|biceps)\b")
WORD = re.compile(r"\w+")
NOT_A_NAME = re.compile(r"[^a-z0-9 ]")


def make_singular(word: str) -> str:
    """The word without its regular plural ending; words of two letters and in -ss, -us, -is stay."""
    if len(word) < 3 or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies"):
        return word[:-3] + "y"
    if word.endswith(("ches", "shes", "sses", "xes")):
        return word[:-2]
    return word[:-1] if word.endswith("s") else word


def normalise_name(name: str) -> str:
    """``Dumbbell Triceps Kick-backs`` -> ``dumbbell tricep kick back``."""
    text = NOT_A_NAME.sub(" ", name.lower().replace("&", " and ").replace("'s", ""))
    text = MUSCLE_PLURAL.sub(lambda m: m.group()[:-1], text)
    text = WORD.sub(lambda m: make_singular(m.group()), text)
    return " ".join(text.split())


@lru_cache(maxsize=8192)
def list_variants(cell: str) -> frozenset[str]:
    """Every normalised form of the names in a cell, with and without leading kit or position, and without spaces."""
    found = set()
    for name in cell.split("|"):
        form = normalise_name(name)
        found |= {form, form.replace(" ", "")}
        while LEADING.match(form):
            form = LEADING.sub("", form, count=1)
            found |= {form, form.replace(" ", "")}
    return frozenset(found)


def is_same_name(gold: str, pred: str) -> bool:
    """Whether a name of the one cell is a name of the other."""
    return bool(list_variants(gold) & list_variants(pred))
