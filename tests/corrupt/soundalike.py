"""Words that sound alike: the hand list ``lexicon/misheard.csv`` turned round, and Double Metaphone over a vocabulary.

Double Metaphone: Lawrence Philips, "The Double Metaphone Search Algorithm", C/C++ Users Journal, June 2000, as the
package ``metaphone`` has it.
"""

from __future__ import annotations

import csv
import re
from functools import cache
from pathlib import Path

from metaphone import doublemetaphone

ROOT = Path(__file__).resolve().parents[2]
NUMBERS = {  # what number words are heard as (common practice, no source)
    "one": "won", "two": "to", "three": "free", "four": "for", "six": "sicks", "eight": "ate", "ten": "then",
    "eleven": "leaven", "twelve": "twelfth", "thirteen": "thirty", "fifteen": "fifty", "sixteen": "sixty",
    "eighteen": "eighty", "thirty": "thirteen", "forty": "fourteen", "fifty": "fifteen",
}  # fmt: skip
OTHER_NUMBERS = frozenset(
    {"five", "seven", "nine", "fourteen", "seventeen", "nineteen", "twenty", "sixty", "seventy", "eighty", "ninety"}
    | {"hundred", "half", "twos", "threes", "fours", "fives", "sixes", "sevens", "eights", "nines", "tens", "twelves"}
    | {"fifteens", "twenties"}
)


def plain(word: str) -> str:
    """Lower case, without outer punctuation."""
    return re.sub(r"^[^\w]+|[^\w%]+$", "", word.lower())


@cache
def load_misheard() -> dict[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """What was said -> the ways in which it is heard, by words."""
    found: dict[tuple[str, ...], list[tuple[str, ...]]] = {}
    with (ROOT / "lexicon" / "misheard.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            said, heard = (tuple(row[key].rstrip("?").split()) for key in ("said", "heard"))  # '?' marks everyday words
            if said != heard:
                found.setdefault(said, []).append(heard)
    return {said: tuple(sorted(set(heard))) for said, heard in sorted(found.items())}


@cache
def load_vocabulary() -> tuple[str, ...]:
    """Everyday words, and those of the movements' names and of the lines in which they are coached."""
    texts = [ROOT / "src/setdown/lexicon/everyday.txt", *sorted((ROOT / "lexicon").glob("[cm]o*/*.csv"))]
    return tuple(sorted({w for t in texts for w in re.findall(r"[a-z]{3,}", t.read_text(encoding="utf-8").lower())}))


@cache
def load_sounds() -> dict[str, tuple[str, ...]]:
    """First Double Metaphone code -> the vocabulary's words that have it."""
    found: dict[str, list[str]] = {}
    for word in load_vocabulary():
        found.setdefault(doublemetaphone(word)[0], []).append(word)
    return {code: tuple(words) for code, words in found.items()}


@cache
def list_soundalikes(word: str) -> tuple[str, ...]:
    """Other words of the vocabulary with the same code; none for words without enough sound to go by."""
    code = doublemetaphone(word)[0]
    if len(code) < 2 or not word.isalpha():
        return ()
    return tuple(other for other in load_sounds().get(code, ()) if other != word)


@cache
def split_compound(word: str) -> tuple[str, str] | None:
    """A written-together word as two words of the vocabulary, the most even split; ``None`` for others."""
    if "-" in word.strip("-"):
        left, _, right = word.partition("-")
        return (left, right) if left and right else None
    if len(word) < 6 or not word.isalpha():
        return None
    known = set(load_vocabulary())
    cuts = [k for k in range(3, len(word) - 2) if word[:k] in known and word[k:] in known]
    if not cuts:
        return None
    cut = min(cuts, key=lambda k: (abs(len(word) - 2 * k), k))
    return word[:cut], word[cut:]


def is_number(word: str) -> bool:
    """Digits, or a number word."""
    text = plain(word)
    return any(c.isdigit() for c in text) or text in NUMBERS or text in OTHER_NUMBERS
