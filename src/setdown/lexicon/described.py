"""Movements described without their name: all the keywords of a row close together, in any order.

Which rows can match at all is found for all rows at once, over stretches of 14 words. For those few, numbers are used
as sets of words: bit ``n`` of a slot's number says that one of its keywords is in reach of word ``n``. Only where the
bits of all slots meet is a row filled in.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from itertools import accumulate, chain

import numpy as np

from setdown.lexicon.entries import Described, DescribedHit
from setdown.lexicon.normal import normalise_word

WITHIN = 14  # words that may lie between first and last keyword, both included
_MOST_KEPT = 1 << 16  # words that are remembered


class DescribedIndex:
    """The rows of ``described/*.csv``, with each slot kept once."""

    def __init__(self, rows: Iterable[Described]) -> None:
        numbers: dict[frozenset[str], int] = {}
        self._rows: list[tuple[str, tuple[int, ...]]] = [
            (row.movement, tuple([numbers.setdefault(slot, len(numbers)) for slot in row.slots]))
            for row in rows
            if len(row.slots) > 1 and all(row.slots)
        ]
        self._slots = list(numbers)
        self._forms = {form: n for n, form in enumerate(sorted(frozenset().union(*self._slots)))}
        self._forms_of = _Lists([[self._forms[form] for form in sorted(slot)] for slot in self._slots])
        self._slots_of = _Lists([row for _, row in self._rows])
        self._keys: dict[str, tuple[int, ...]] = {}  # the keywords that a word is, by number

    def find(self, words: Sequence[str]) -> list[DescribedHit]:
        """See ``Lexicon.find_described``."""
        if not self._rows or not words:
            return []
        places = self._find_places(words)
        places_of_slot: dict[int, list[int]] = {}
        reach_of_slot: dict[int, int] = {}
        hits: dict[str, list[DescribedHit]] = defaultdict(list)
        for at in self._find_rows(places, len(words)):
            movement, row = self._rows[at]
            common = -1
            for number in row:
                if number not in reach_of_slot:
                    of_forms = {place for form in self._slots[number] for place in places.get(self._forms[form], ())}
                    places_of_slot[number] = sorted(of_forms)
                    reach_of_slot[number] = _reach_of(places_of_slot[number], len(words))
                common &= reach_of_slot[number]
            if common:
                hits[movement].extend(_fill_row(movement, row, places_of_slot, common))
        kept = [hit for of_one in hits.values() for hit in _drop_overlaps(of_one)]
        return sorted(kept, key=lambda hit: (hit.start, hit.end, hit.movement))

    def _find_places(self, words: Sequence[str]) -> dict[int, list[int]]:
        """The positions of the keywords, which are given by number, in the words."""
        keys, forms = self._keys, self._forms
        if len(keys) > _MOST_KEPT:
            keys.clear()
        for word in set(words) - keys.keys():
            keys[word] = tuple([forms[form] for form in dict.fromkeys(normalise_word(word)) if form in forms])
        places: dict[int, list[int]] = defaultdict(list)
        for place, word in enumerate(words):
            for form in keys[word]:
                places[form].append(place)
        return places

    def _find_rows(self, places: Mapping[int, Sequence[int]], size: int) -> list[int]:
        """The rows all of whose slots have a keyword in some two stretches of 14 words side by side, in order."""
        there = np.zeros((len(self._forms), (size // WITHIN // 64 + 1) * 64), dtype=np.bool_)
        sizes = np.fromiter(map(len, places.values()), np.intp, len(places))
        stretches = np.fromiter(chain.from_iterable(places.values()), np.intp, int(sizes.sum())) // WITHIN
        there[np.repeat(np.fromiter(places, np.intp, len(places)), sizes), stretches] = True
        there[:, :-1] |= there[:, 1:]
        packed = np.packbits(there, axis=1).view(np.uint64)  # of which only the bits count, in whatever order
        of_slot = np.bitwise_or.reduceat(packed[self._forms_of.members], self._forms_of.starts)
        of_row = np.bitwise_and.reduceat(of_slot[self._slots_of.members], self._slots_of.starts)
        rows: list[int] = np.flatnonzero(of_row.any(axis=1)).tolist()
        return rows


class _Lists:
    """Lists of numbers, none of them empty, one behind the other; where each begins."""

    def __init__(self, lists: Sequence[Sequence[int]]) -> None:
        self.members = np.array(list(chain.from_iterable(lists)), dtype=np.intp)
        self.starts = np.array(list(accumulate(map(len, lists), initial=0))[:-1], dtype=np.intp)


def _reach_of(places: Sequence[int], size: int) -> int:
    """A number whose bit ``n`` is set when one of the places is less than 14 words from word ``n``."""
    marks = bytearray(size // 8 + 1)
    for place in places:
        marks[place >> 3] |= 1 << (place & 7)
    bits = int.from_bytes(marks, "little")
    bits |= bits << 1
    bits |= bits << 2
    bits |= bits << 4
    bits |= bits << 6  # now the 14 words from each place on
    return bits | bits >> WITHIN - 1


def _fill_row(
    movement: str, row: Sequence[int], places: Mapping[int, Sequence[int]], common: int
) -> Iterable[DescribedHit]:
    """The tightest filling of all slots around each place of the rarest; ``common``: where all slots are in reach."""
    anchor = min(range(len(row)), key=lambda n: len(places[row[n]]))
    others = [n for n in range(len(row)) if n != anchor]
    reached = common.to_bytes((common.bit_length() + 7) // 8, "little")
    for place in places[row[anchor]]:
        if place >> 3 >= len(reached):
            break
        if not reached[place >> 3] >> (place & 7) & 1:
            continue
        near = [_cut_out(places[row[n]], place - WITHIN + 1, place + WITHIN) for n in others]
        filled = _fill_tightly(place, near)
        if filled is not None:
            by_slot = dict(zip(others, filled, strict=True)) | {anchor: place}
            used = tuple(by_slot[n] for n in range(len(row)))
            start, end = min(used), max(used) + 1
            yield DescribedHit(start, end, movement, used, _score(len(row), end - start))


def _cut_out(places: Sequence[int], start: int, end: int) -> Sequence[int]:
    return places[bisect_left(places, start) : bisect_left(places, end)]


def _fill_tightly(place: int, near: Sequence[Sequence[int]]) -> list[int] | None:
    """One place of each list, all different, so that they and ``place`` lie within 14 words, as close as can be."""
    best: list[int] | None = None
    best_width = WITHIN + 1
    # Fullest-first would be wrong: a slot with one choice must not lose it to a slot with several.
    order = sorted(range(len(near)), key=lambda n: len(near[n]))
    for begin in sorted({place, *(p for places in near for p in places if place - WITHIN < p < place)}, reverse=True):
        used = {place}
        filled: list[int] = []
        for n in order:
            places = near[n]
            at = bisect_left(places, begin)
            while at < len(places) and places[at] in used:
                at += 1
            if at == len(places):
                break
            used.add(places[at])
            filled.append(places[at])
        else:
            width = max(used) - min(used) + 1
            if width < best_width:
                best_width = width
                back = dict(zip(order, filled, strict=True))
                best = [back[n] for n in range(len(near))]
    return best


def _score(slots: int, width: int) -> float:
    """0.5 to 0.9: more keywords, and closer together, make chance less likely. Weights are a judgement, no source."""
    closeness = 1.0 - (width - slots) / WITHIN
    return round(min(0.9, 0.35 + 0.08 * slots + 0.2 * max(0.0, closeness)), 4)


def _drop_overlaps(hits: Sequence[DescribedHit]) -> Iterable[DescribedHit]:
    """The hits that overlap none with a higher score, the best first."""
    spans: list[tuple[int, int]] = []  # of those kept, in order; they do not overlap
    for hit in sorted(hits, key=lambda h: (-h.score, h.start, h.end)):
        at = bisect_left(spans, (hit.end, 0))
        if not at or spans[at - 1][1] <= hit.start:
            insort(spans, (hit.start, hit.end))
            yield hit
