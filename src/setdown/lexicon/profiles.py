"""How a movement is talked about: a small word model per movement, so that one that is only described is recognised.

Built from the movement's names, its described rows and the example lines in ``lexicon/coached/*.csv`` (`id,text`).
A text's score for a movement is the sum of smoothed log-odds of its distinct words and word pairs against all lines.
"""

from __future__ import annotations

import csv
import hashlib
import json
import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from setdown.lexicon.lexicon import Lexicon

SMOOTHING = 25.0
FLOOR = -0.4
CEILING = 4.0
NAME_WEIGHT = 2
DESCRIBED_WEIGHT = 2
MIN_COUNT = 2
COMPILED = "profiles.json"
_STOP_TEXT = """
    a an the and or but so of to it its it's is be are was i you your you're we we're us our my me he she they them this
    that that's these those for on in at as if not no do don't just like really then now okay right well yeah oh um em
    i'm i've got get there here what when with have has one two three four five six seven eight nine ten
"""
_STOP = frozenset(_STOP_TEXT.split())


@lru_cache(maxsize=20_000)
def stem_word(word: str) -> str:
    """A crude stem, the same for both sides of the comparison: plural, -ing and -ed endings go."""
    word = word.replace("'s", "")
    if len(word) > 5 and word.endswith("ing"):
        word = word[:-3]
    elif (len(word) > 4 and word.endswith("ed")) or (len(word) > 3 and word.endswith("es") and word[-3] in "shxz"):
        word = word[:-2]
    elif len(word) > 3 and word.endswith("s") and not word.endswith("ss"):
        word = word[:-1]
    if len(word) > 3 and word[-1] == word[-2] and word[-1] not in "lsze":
        word = word[:-1]
    return word[:-1] if len(word) > 4 and word.endswith("e") else word


def list_terms(words: Sequence[str]) -> list[str]:
    """Stems of the content words, and pairs of neighbours among them, in order."""
    stems = [stem_word(p) for w in words if w not in _STOP for p in w.split("-") if p]
    return stems + [f"{a} {b}" for a, b in pairwise(stems)]


class ProfileModel:
    """Word models of all movements that there is text for.

    ``terms`` maps a term to the movements that use it more than others do, as positions in ``ids`` and log-odds; every
    other movement gets ``FLOOR`` for it.

    Attributes:
        ids: movement ids; ``score`` has one column for each, in this order.
        index: position of each id.
    """

    def __init__(self, ids: Sequence[str], terms: Mapping[str, tuple[Sequence[int], Sequence[float]]]) -> None:
        self.ids = tuple(ids)
        self.index = {movement: i for i, movement in enumerate(self.ids)}
        self.terms = terms
        self._arrays: dict[str, tuple[NDArray[np.intp], NDArray[np.float64]]] = {}

    def score(self, words: Sequence[str]) -> NDArray[np.float64]:
        """Log-odds of every movement for these normalised words, in order of ``ids``."""
        total = np.zeros(len(self.ids))
        known = [t for t in dict.fromkeys(list_terms(words)) if t in self.terms]
        if not known:
            return total
        for term in known:
            places, gains = self._term(term)
            total[places] += gains
        return total + FLOOR * len(known)

    def _term(self, term: str) -> tuple[NDArray[np.intp], NDArray[np.float64]]:
        found = self._arrays.get(term)
        if found is None:
            places, odds = self.terms[term]
            found = self._arrays[term] = (np.array(places, dtype=np.intp), np.array(odds) - FLOOR)
        return found


def learn_profiles(texts: Iterable[tuple[str, Sequence[str], int]]) -> ProfileModel:
    """A model from (movement id, words, weight)."""
    counts: dict[str, Counter[str]] = {}
    for movement, words, weight in texts:
        own = counts.setdefault(movement, Counter())
        for term in set(list_terms(words)):
            own[term] += weight
    total: Counter[str] = Counter()
    for own in counts.values():
        total.update(own)
    mass = sum(total.values())
    terms: dict[str, tuple[list[int], list[float]]] = {}
    ids = sorted(counts)
    for i, movement in enumerate(ids):
        own = counts[movement]
        size = sum(own.values())
        for term in sorted(own):
            if total[term] < MIN_COUNT:
                continue
            background = total[term] / mass
            odds = math.log((own[term] + SMOOTHING * background) / (size + SMOOTHING) / background)
            if odds > FLOOR:
                places, values = terms.setdefault(term, ([], []))
                places.append(i)
                values.append(round(min(odds, CEILING), 2))
    return ProfileModel(ids, terms)


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


def format_profiles(model: ProfileModel, sources: str) -> str:
    """The compiled file: ids, terms, and the fingerprint of the sources that it was made from."""
    terms = {t: [list(places), list(odds)] for t, (places, odds) in sorted(model.terms.items())}
    return json.dumps({"sources": sources, "ids": list(model.ids), "terms": terms}, separators=(",", ":")) + "\n"


def fingerprint_sources(folder: Path) -> str:
    """Short hash of the files that profiles are made from."""
    digest = hashlib.sha256()
    for pattern in ("movements/*.csv", "described/*.csv", "coached/*.csv"):
        for path in sorted(folder.glob(pattern)):
            digest.update(path.name.encode() + b"\0" + path.read_bytes())
    return digest.hexdigest()[:12]


@lru_cache(maxsize=4)
def load_profiles(lexicon: Lexicon) -> ProfileModel:
    """The model of a lexicon: the compiled file when it is current, else made from the sources (slower, the same)."""
    compiled = lexicon.folder / COMPILED
    if compiled.is_file():
        raw = json.loads(compiled.read_text(encoding="utf-8"))
        if raw.get("sources") == fingerprint_sources(lexicon.folder):
            return ProfileModel(raw["ids"], raw["terms"])
    return learn_profiles(gather_texts(lexicon))
