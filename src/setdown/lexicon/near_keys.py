"""Names by what they sound like: which names have the consonant key of some words, or one that differs by one code.

Two keys that differ by one code, left out, put in or exchanged, are the same with one code left out of either. So all
keys are kept with their *probes*: the key itself and the key without each of its codes in turn. Probes are kept as
numbers in one sorted array, where those of a whole class are looked up at once.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from setdown.lexicon.likeness import INEXACT_KEY, join_forms_key
from setdown.lexicon.names import ListedName

SHORTEST_KEY = 3  # codes; below that too many words share a key
_SHORTEST_NAME = 5  # letters
_LONGEST_NAME = 4  # words
_MOST_KEPT = 1 << 16  # keys whose names are remembered
_IN_SENTENCES = """
    a an the and or with from for at of on in into by through your you it them that my our this these those i is are one
"""
_SENTENCE_WORDS = frozenset(_IN_SENTENCES.split())
_BASE = 0x9E3779B97F4A7C15  # odd, so that its powers modulo 2**64 never become 0


def write_as_spoken(name: ListedName) -> tuple[str, ...]:
    """The pieces of a name with the plural endings that stand within it ('arms circle'); the last one is singular."""
    words = name.name.replace("-", " ").split()
    if len(words) != len(name.forms) or not all(map(str.isalpha, words)):
        return name.forms
    return (*(f if f.isdigit() else w for f, w in zip(name.forms[:-1], words, strict=False)), name.forms[-1])


def write_plural(name: ListedName) -> tuple[str, ...]:
    """The plural of a name of one piece ('bur piece' sounds like one)."""
    return (name.forms[0] + "s",)


def list_spoken(name: ListedName) -> list[tuple[str, ...]]:
    """What is compared with heard words: the name, and the plural of a name of one piece.

    Nothing for a weak name, for half a sentence ('squat with a band') and for a name that is too short.
    """
    if name.weak or sum(map(len, name.forms)) < _SHORTEST_NAME:
        return []
    if not name.usual and (len(name.forms) > _LONGEST_NAME or not _SENTENCE_WORDS.isdisjoint(name.forms)):
        return []
    has_plural = len(name.forms) == 1 and not name.forms[0].endswith("s")
    return [write_as_spoken(name), write_plural(name)] if has_plural else [write_as_spoken(name)]


def list_keys(name: ListedName) -> list[str]:
    """The keys of what ``list_spoken`` gives, in the same order; empty ones where a key is too short."""
    keys = map(join_forms_key, list_spoken(name))
    return [key if len(key) >= SHORTEST_KEY else "" for key in keys]


class KeyIndex:
    """Finds the keys, by their place in ``keys``, that are the same as other keys or nearly so."""

    def __init__(self, keys: Sequence[str]) -> None:
        there = [place for place, key in enumerate(keys) if key]
        probes, owner = number_probes([keys[place] for place in there])
        order = np.argsort(probes)
        self._probes = probes[order]
        self._places = np.array(there, dtype=np.int32)[owner[order]]
        self._met: dict[str, tuple[int, ...]] = {}

    def find(self, keys: Iterable[str]) -> dict[str, tuple[int, ...]]:
        """For each key the places of those that meet it, in order; kept, because words recur."""
        met = self._met
        if len(met) > _MOST_KEPT:
            met.clear()
        new = sorted({key for key in keys if key not in met})
        if new:
            met.update(dict.fromkeys(new, ()))
            owner, places = self._look_up(new)
            ends = np.flatnonzero(np.diff(owner, append=-1)) + 1
            start = 0
            for at, end in zip(owner[ends - 1].tolist(), ends.tolist(), strict=True):
                met[new[at]] = places[start:end]
                start = end
        return met

    def _look_up(self, keys: Sequence[str]) -> tuple[NDArray[np.int64], tuple[int, ...]]:
        """Every key, by its index, with every place that it meets: in order, each pair once."""
        probes, owner = number_probes(keys)
        order = np.argsort(probes)  # in order they are looked up several times faster
        probes, owner = probes[order], owner[order]
        starts = np.searchsorted(self._probes, probes)
        there = starts < len(self._probes)
        there[there] = self._probes[starts[there]] == probes[there]
        starts, owner = starts[there], owner[there]
        sizes = np.searchsorted(self._probes, probes[there], side="right") - starts
        within = np.arange(sizes.sum()) - np.repeat(np.cumsum(sizes) - sizes, sizes)
        pairs = np.repeat(owner, sizes) << 32 | self._places[np.repeat(starts, sizes) + within]
        pairs.sort()
        pairs = pairs[np.diff(pairs, prepend=-1) > 0]
        return pairs >> 32, tuple((pairs & 0xFFFFFFFF).tolist())


def number_probes(keys: Sequence[str]) -> tuple[NDArray[np.uint64], NDArray[np.int64]]:
    """The probes of some keys as numbers, and for each the index of its key. Alike probes have alike numbers.

    A key shorter than ``INEXACT_KEY`` codes is its own only probe. The number of codes c0 c1 c2 … is the sum of
    c_i * BASE**i modulo 2**64: two of ten thousand keys get the same one by chance about never.
    """
    if not keys:
        return np.zeros(0, dtype=np.uint64), np.zeros(0, dtype=np.int64)
    sizes = np.array(list(map(len, keys)))
    ends = np.cumsum(sizes)
    owner = np.repeat(np.arange(len(keys)), sizes)  # of each code of all keys in a row
    place = np.arange(ends[-1]) - (ends - sizes)[owner]
    codes = np.frombuffer("".join(keys).encode("ascii"), dtype=np.uint8).astype(np.uint64)
    powers = np.array([pow(_BASE, i, 1 << 64) for i in range(-1, int(sizes.max()))], dtype=np.uint64)
    here, moved = codes * powers[place + 1], codes * powers[place]  # where it is, and one place further to the front
    through, moved_through = np.cumsum(here), np.cumsum(moved)
    whole = np.diff(through[ends - 1], prepend=np.uint64(0))
    # Without one code: the codes before it, and those behind it moved.
    without = through - here - (through[ends - 1] - whole)[owner] + moved_through[ends - 1][owner] - moved_through
    long = (sizes >= INEXACT_KEY)[owner]
    return np.concatenate([whole, without[long]]), np.concatenate([np.arange(len(keys)), owner[long]])
