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
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from setdown.lexicon.lexicon import Lexicon
from setdown.lexicon.packed_terms import PackedTerms, Term, Terms, pack_terms

SMOOTHING = 25.0
FLOOR = -0.3
CEILING = 5.0
CENTROID = 2.5
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


@lru_cache(maxsize=20_000)
def stem_parts(word: str) -> tuple[str, ...]:
    """Stems of the parts of a hyphenated word, most often one; none for a word that tells nothing."""
    return () if word in _STOP else tuple(stem_word(p) for p in word.split("-") if p)


def list_terms(words: Sequence[str]) -> list[str]:
    """Stems of the content words, and pairs of neighbours among them, in order."""
    stems = [stem for word in words for stem in stem_parts(word)]
    return stems + [f"{a} {b}" for a, b in pairwise(stems)]


class ProfileModel:
    """Word models of all movements that there is text for.

    ``terms`` maps a term to the movements that use it more than others do, as positions in ``ids`` and log-odds; every
    other movement gets ``FLOOR`` for it.

    Attributes:
        ids: movement ids; ``score`` has one column for each, in this order.
        index: position of each id.
    """

    def __init__(self, ids: Sequence[str], terms: Terms) -> None:
        self.ids = tuple(ids)
        self.index = {movement: i for i, movement in enumerate(self.ids)}
        self.terms = terms
        self._arrays: dict[str, Term] = {}

    def score(self, words: Sequence[str]) -> NDArray[np.float64]:
        """Log-odds of every movement for these normalised words, in order of ``ids``."""
        return self.read(words).score(0, len(words))

    def read(self, words: Sequence[str]) -> ReadWords:
        """The words of a class, ready for scores of many stretches of them."""
        terms = self.terms.numbers if isinstance(self.terms, PackedTerms) else self.terms
        stems: list[str] = []
        before = [0]
        for word in words:
            stems += stem_parts(word)
            before.append(len(stems))
        singles = [stem if stem in terms else "" for stem in stems]
        pairs = [pair if pair in terms else "" for pair in map(" ".join, pairwise(stems))]
        return ReadWords(self, before, singles, pairs)

    def add_up(self, known: Collection[str]) -> NDArray[np.float64]:
        """Log-odds of every movement for terms of the model."""
        if not known:
            return np.zeros(len(self.ids))
        arrays = [self._arrays.get(term) or self._read_term(term) for term in known]
        places = np.concatenate([a[0] for a in arrays])
        gains = np.concatenate([a[1] for a in arrays])
        return np.asarray(np.bincount(places, gains, len(self.ids)) + FLOOR * len(known), dtype=np.float64)

    def _read_term(self, term: str) -> Term:
        places, odds = self.terms[term]
        found = self._arrays[term] = (np.array(places, dtype=np.intp), np.array(odds) - FLOOR)
        return found


@dataclass(frozen=True, slots=True)
class ReadWords:
    """Words as terms of a model: ``before[i]`` stems come before word ``i``; what is no term is an empty string."""

    model: ProfileModel
    before: Sequence[int]
    singles: Sequence[str]
    pairs: Sequence[str]

    def score(self, start: int, end: int) -> NDArray[np.float64]:
        """``ProfileModel.score`` of words ``[start, end)``."""
        low, high = self.before[start], self.before[max(start, end)]
        known = dict.fromkeys([*self.singles[low:high], *self.pairs[low : max(low, high - 1)]])
        known.pop("", None)
        return self.model.add_up(known)


def learn_profiles(texts: Iterable[tuple[str, Sequence[str], int]]) -> ProfileModel:
    """A model from (movement id, words, weight).

    A term's worth for a movement is its smoothed log-odds against all talk and, beside it, its part in the movement's
    tf-idf centroid: the first knows how telling a term is, the second how usual it is for the movement.
    """
    lines = [(movement, frozenset(list_terms(words)), weight) for movement, words, weight in texts]
    counts: dict[str, Counter[str]] = {}
    for movement, terms, weight in lines:
        own = counts.setdefault(movement, Counter())
        for term in terms:
            own[term] += weight
    total: Counter[str] = Counter()
    for own in counts.values():
        total.update(own)
    mass = sum(total.values())
    usual = _find_centroids(lines)
    found: dict[str, tuple[list[int], list[float]]] = {}
    ids = sorted(counts)
    for i, movement in enumerate(ids):
        own = counts[movement]
        size = sum(own.values())
        for term in sorted(own):
            if total[term] < MIN_COUNT:
                continue
            background = total[term] / mass
            odds = math.log((own[term] + SMOOTHING * background) / (size + SMOOTHING) / background)
            worth = min(max(odds, FLOOR), CEILING) + CENTROID * usual[movement].get(term, 0.0)
            if worth > FLOOR:
                places, values = found.setdefault(term, ([], []))
                places.append(i)
                values.append(round(worth, 2))
    return ProfileModel(ids, found)


def _find_centroids(lines: Sequence[tuple[str, frozenset[str], int]]) -> dict[str, dict[str, float]]:
    """Each movement's mean line as tf-idf of length 1, every term once more weighed by its idf."""
    spread = Counter(term for _, terms, _ in lines for term in terms)
    idf = {term: math.log(len(lines) / n) for term, n in spread.items() if n >= MIN_COUNT}
    sums: dict[str, dict[str, float]] = {}
    for movement, terms, weight in lines:
        known = sorted(t for t in terms if t in idf)
        length = math.sqrt(sum(idf[t] ** 2 for t in known))
        own = sums.setdefault(movement, {})
        for term in known if length else ():
            own[term] = own.get(term, 0.0) + weight * idf[term] / length
    for own in sums.values():
        length = math.sqrt(sum(x * x for x in own.values())) or 1.0
        for term in own:
            own[term] *= idf[term] / length
    return sums


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
    compiled = {"sources": sources, "ids": list(model.ids), **pack_terms(model.terms)}
    return json.dumps(compiled, ensure_ascii=False, indent=0) + "\n"


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
            return ProfileModel(raw["ids"], PackedTerms(raw))
    return learn_profiles(gather_texts(lexicon))
