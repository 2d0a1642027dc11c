"""Classes that train the same, and classes that repeat each other.

*Train the same*: the cosine between what two classes train, as sets for each group of muscles, for each pattern, and
eased sets; 1 is the same mixture whatever the amount.

*Repeat*: nearly the same movements in nearly the same order. Likeness is 1 - d / (m + n), with d the insertions and
deletions that turn one class's sequence of movements and sides into the other's (the indel distance, as rapidfuzz has
it). Not every pair is compared: two sequences of likeness s have at least s / (2 - s) of their steps in common (0.67
for 0.8), and MinHash in bands lets such pairs meet (Broder 1997; Leskovec, Rajaraman and Ullman, "Mining of Massive
Datasets", chapter 3; from memory).
"""

from __future__ import annotations

import hashlib
import sqlite3
from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from rapidfuzz.distance import Indel

from setdown.catalogue.together import read_profiles

ALIKE = 0.8  # likeness from which a class is said to repeat another
BANDS, ROWS = 48, 3  # with two thirds of their steps in common, two classes fail to meet once in twenty million times
LEADERS = 64  # classes of one band that a class is compared with


@dataclass(frozen=True, slots=True)
class Repeat:
    """The class ``id`` repeats the earlier class ``first``; ``likeness`` 0..1."""

    id: int
    first: int
    likeness: float


def rank_alike(
    connection: sqlite3.Connection, class_id: int, limit: int = 0, among: Collection[int] | None = None
) -> list[tuple[int, float]]:
    """The classes that train something of the same, the likest first, with their likeness 0..1.

    ``limit`` 0 is all; ``among`` are the classes that may be named, None for any. The class itself is not named.
    """
    every = read_profiles(connection)
    ids = every.ids
    place = int(np.searchsorted(ids, class_id))
    if place == len(ids) or ids[place] != class_id or not every.sizes[place]:
        return []
    first = int(every.sizes[:place].sum(dtype=np.int64))
    mine = slice(first, first + int(every.sizes[place]))
    target = np.zeros(1 << 16)  # a dimension has two bytes
    target[every.dimensions[mine]] = every.sets[mine]
    dots = every.sum_parts(target[every.dimensions] * every.sets)
    scale = every.lengths * every.lengths[place]
    likeness = np.divide(dots, scale, out=np.zeros(len(ids)), where=scale > 0).clip(0.0, 1.0)
    likeness = likeness.round(9)  # before they are ordered, so that no machine's last digit decides
    named = (likeness > 0) & (ids != class_id)
    if among is not None:
        named &= np.isin(ids, np.fromiter(among, dtype=np.int64, count=len(among)))
    places = np.flatnonzero(named)
    if 0 < limit < len(places):  # of so many only the likest need be ordered
        least = np.partition(likeness[places], len(places) - limit)[len(places) - limit]
        places = places[likeness[places] >= least]
    order = places[np.argsort(-likeness[places], kind="stable")]  # ids go up, so equals are in their order
    return [(int(ids[place]), float(likeness[place])) for place in (order[:limit] if limit else order)]


def find_repeats(connection: sqlite3.Connection, least: float = ALIKE) -> list[Repeat]:
    """The classes that repeat an earlier one, each with the earliest that it is likest to, the likest first.

    Classes go by date, undated ones last. One that repeats another is not itself compared with later ones: of many
    repeats of one class, each is told with that one.
    """
    order = [id for (id,) in connection.execute("SELECT id FROM class ORDER BY date = '', date, location")]
    return match_sequences(order, dict(_read_sequences(connection)), least)


def match_sequences(order: Sequence[int], sequences: Mapping[int, Sequence[str]], least: float) -> list[Repeat]:
    """``find_repeats`` for classes in this order, each with its movements and sides in order."""
    bands: dict[tuple[int, int], list[int]] = {}
    found = []
    for id in order:
        sequence = sequences.get(id)
        if not sequence:
            continue
        keys = _list_bands(sequence)
        near = dict.fromkeys(first for key in keys for first in bands.get(key, ())[:LEADERS])
        scored = [(_compare(sequences[first], sequence), first) for first in near]
        best = max(scored, key=lambda one: one[0], default=(0.0, 0))
        if best[0] >= least and best[0] > 0:
            found.append(Repeat(id, best[1], best[0]))
            continue
        for key in keys:
            bands.setdefault(key, []).append(id)
    place = {id: n for n, id in enumerate(order)}
    return sorted(found, key=lambda one: (-one.likeness, place[one.first], place[one.id]))


def _read_sequences(connection: sqlite3.Connection) -> Iterator[tuple[int, list[str]]]:
    """For each class with sets its movements and sides, in order."""
    rows = connection.execute(
        "SELECT class_id, key || ' ' || side FROM performed JOIN movement ON movement.id = movement_id "
        "ORDER BY class_id, position"
    )
    current, sequence = 0, list[str]()
    for id, step in rows:
        if id != current:
            if sequence:
                yield current, sequence
            current, sequence = id, []
        sequence.append(step)
    if sequence:
        yield current, sequence


def _compare(first: Sequence[str], second: Sequence[str]) -> float:
    """The likeness, rounded, so that 0.8 is 0.8 whatever the last digit of a quotient."""
    return round(1 - Indel.distance(first, second) / (len(first) + len(second)), 9)


def _list_bands(sequence: Sequence[str]) -> list[tuple[int, int]]:
    """The bands of a class: classes with many steps in common, however often each, are likely to share one."""
    seen: Counter[str] = Counter()
    steps = set()
    for step in sequence:
        seen[step] += 1
        steps.add(f"{step} {seen[step]}")
    hashes = np.array([_hash(step) for step in sorted(steps)], dtype=np.uint64)
    least = ((hashes[:, None] ^ _SALTS[None, :]) * _FACTORS[None, :] >> np.uint64(7)).min(axis=0)
    return [(n, hash(tuple(least[n * ROWS : (n + 1) * ROWS].tolist()))) for n in range(BANDS)]


def _hash(text: str) -> int:
    return int.from_bytes(hashlib.blake2b(text.encode("utf-8", "surrogatepass"), digest_size=8).digest(), "little")


_SALTS = np.array([_hash(f"salt {n}") for n in range(BANDS * ROWS)], dtype=np.uint64)
_FACTORS = np.array([_hash(f"factor {n}") | 1 for n in range(BANDS * ROWS)], dtype=np.uint64)
