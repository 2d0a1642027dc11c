"""How a movement is talked about: a small word model per movement, so that one that is only described is recognised.

Built from the movement's names, its described rows and the example lines in ``lexicon/coached/*.csv`` (`id,text`).
A text's score for a movement is the sum of smoothed log-odds of its distinct words and word pairs against all lines.
"""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Iterable, Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from setdown.lexicon.lexicon import Lexicon

SMOOTHING = 25.0
FLOOR = -0.4
CEILING = 4.0
NAME_WEIGHT = 2
DESCRIBED_WEIGHT = 2
MIN_COUNT = 2
_STOP = frozenset(
    "a an the and or but so of to it its it's is be are was i you your you're we we're us our my me he she they them this "
    "that that's these those for on in at as if not no do don't just like really then now okay right well yeah oh um em "
    "i'm i've got get there here what when with have has one two three four five six seven eight nine ten".split()
)


@lru_cache(maxsize=20_000)
def stem_word(word: str) -> str:
    """A crude stem, the same for both sides of the comparison: plural, -ing and -ed endings go."""
    word = word.replace("'s", "")
    if len(word) > 5 and word.endswith("ing"):
        word = word[:-3]
    elif len(word) > 4 and word.endswith("ed"):
        word = word[:-2]
    elif len(word) > 3 and word.endswith("es") and word[-3] in "shxz":
        word = word[:-2]
    elif len(word) > 3 and word.endswith("s") and not word.endswith("ss"):
        word = word[:-1]
    if len(word) > 3 and word[-1] == word[-2] and word[-1] not in "lsze":
        word = word[:-1]
    return word[:-1] if len(word) > 4 and word.endswith("e") else word


def list_terms(words: Sequence[str]) -> list[str]:
    """Stems of the content words, and pairs of neighbours among them, in order."""
    stems = [stem_word(p) for w in words if w not in _STOP for p in w.split("-") if p]
    return stems + [f"{a} {b}" for a, b in zip(stems, stems[1:], strict=False)]


class ProfileModel:
    """Word models of all movements that there is text for.

    Attributes:
        ids: movement ids; ``score`` has one column for each, in this order.
    """

    def __init__(self, texts: Iterable[tuple[str, Sequence[str], int]]) -> None:
        counts: dict[str, Counter[str]] = {}
        for movement, words, weight in texts:
            own = counts.setdefault(movement, Counter())
            for term in set(list_terms(words)):
                own[term] += weight
        total: Counter[str] = Counter()
        for own in counts.values():
            total.update(own)
        self.ids = tuple(sorted(counts))
        self.index = {movement: i for i, movement in enumerate(self.ids)}
        terms = sorted(t for t, n in total.items() if n >= MIN_COUNT)
        self._row = {t: i for i, t in enumerate(terms)}
        table = np.zeros((len(terms), len(self.ids)), dtype=np.float32)
        sizes = np.zeros(len(self.ids), dtype=np.float32)
        for movement, own in counts.items():
            column = self.index[movement]
            sizes[column] = sum(own.values())
            for term, n in own.items():
                row = self._row.get(term)
                if row is not None:
                    table[row, column] = n
        background = table.sum(axis=1) / max(float(table.sum()), 1.0)
        share = (table + SMOOTHING * background[:, None]) / (sizes[None, :] + SMOOTHING)
        with np.errstate(divide="ignore", invalid="ignore"):
            odds = np.log(share / background[:, None])
        self._odds: NDArray[np.float32] = np.clip(np.nan_to_num(odds), FLOOR, CEILING).astype(np.float32)

    def score(self, words: Sequence[str]) -> NDArray[np.float32]:
        """Log-odds of every movement for these normalised words, in order of ``ids``."""
        rows = sorted({self._row[t] for t in list_terms(words) if t in self._row})
        if not rows:
            return np.zeros(len(self.ids), dtype=np.float32)
        return np.asarray(self._odds[rows].sum(axis=0), dtype=np.float32)


def gather_texts(lexicon: Lexicon, without: frozenset[str] = frozenset()) -> list[tuple[str, Sequence[str], int]]:
    """(movement id, words, weight) of everything the lexicon tells about how its movements are talked about.

    Files of ``coached`` named in ``without`` are left out.
    """
    texts: list[tuple[str, Sequence[str], int]] = []
    for movement in lexicon.movements.values():
        texts += [(movement.id, name.split(), NAME_WEIGHT) for name in (movement.name, *movement.names[:12])]
    for row in lexicon.described:
        texts += [(row.movement, [form], DESCRIBED_WEIGHT) for slot in row.slots for form in sorted(slot)]
    for path in sorted((lexicon.folder / "coached").glob("*.csv")):
        if path.name in without:
            continue
        with path.open(encoding="utf-8", newline="") as file:
            for line in csv.DictReader(file):
                if line["id"] in lexicon.movements:
                    texts.append((line["id"], line["text"].split(), 1))
    return texts


@lru_cache(maxsize=4)
def load_profiles(lexicon: Lexicon) -> ProfileModel:
    """The model of a lexicon, built once."""
    return ProfileModel(gather_texts(lexicon))
