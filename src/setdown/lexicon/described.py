"""Movements described without their name: all the keywords of a row close together, in any order.

Which rows can match, and where, is found for all rows at once with numbers used as sets of words: bit ``n`` of a
slot's number says that one of its keywords is in reach of word ``n``. Only where the bits of all slots meet is a row
filled in.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterable, Sequence

from setdown.lexicon.entries import Described, DescribedHit
from setdown.lexicon.normal import normalise_words

WITHIN = 14  # words that may lie between first and last keyword, both included


class DescribedIndex:
    """The rows of ``described/*.csv``, with each slot kept once."""

    def __init__(self, rows: Iterable[Described]) -> None:
        numbers: dict[frozenset[str], int] = {}
        self._rows: list[tuple[str, tuple[int, ...]]] = [
            (row.movement, tuple(numbers.setdefault(slot, len(numbers)) for slot in row.slots)) for row in rows
        ]
        self._slots = list(numbers)
        self._keywords = frozenset().union(*self._slots)

    def find(self, words: Sequence[str]) -> list[DescribedHit]:
        """See ``Lexicon.find_described``."""
        places = self._find_places(words)
        reach = {form: _reach_of(there) for form, there in places.items()}
        reach_of_slot: list[int] = []
        for slot in self._slots:
            bits = 0
            for form in slot:
                if form in reach:
                    bits |= reach[form]
            reach_of_slot.append(bits)
        hits: dict[str, list[DescribedHit]] = defaultdict(list)
        for movement, row in self._rows:
            common = -1
            for number in row:
                common &= reach_of_slot[number]
            if common and len(row) > 1:
                hits[movement].extend(_fill_row(movement, [self._slots[number] for number in row], common, places))
        kept = [hit for of_one in hits.values() for hit in _drop_overlaps(of_one)]
        return sorted(kept, key=lambda hit: (hit.start, hit.end, hit.movement))

    def _find_places(self, words: Sequence[str]) -> dict[str, list[int]]:
        """The positions of the keywords in the words."""
        places: dict[str, list[int]] = {}
        for form, word in zip(*normalise_words(words), strict=True):
            if form in self._keywords:
                there = places.setdefault(form, [])
                if not there or there[-1] != word:
                    there.append(word)
        return places


def _reach_of(places: Sequence[int]) -> int:
    """A number whose bit ``n`` is set when one of the places is less than 14 words from word ``n``."""
    bits = 0
    for place in places:
        bits |= 1 << place
    bits |= bits << 1
    bits |= bits << 2
    bits |= bits << 4
    bits |= bits << 6  # now the 14 words from each place on
    return bits | bits >> WITHIN - 1


def _fill_row(
    movement: str, slots: Sequence[frozenset[str]], common: int, places: dict[str, list[int]]
) -> Iterable[DescribedHit]:
    """The tightest filling of all slots around each place of the rarest; ``common``: where all slots are in reach."""
    slot_places = [sorted({place for form in slot for place in places.get(form, ())}) for slot in slots]
    anchor = min(range(len(slots)), key=lambda n: len(slot_places[n]))
    others = [n for n in range(len(slots)) if n != anchor]
    for place in slot_places[anchor]:
        if not common >> place & 1:
            continue
        near = [_cut_out(slot_places[n], place - WITHIN + 1, place + WITHIN) for n in others]
        filled = _fill_tightly(place, near)
        if filled is not None:
            by_slot = dict(zip(others, filled, strict=True)) | {anchor: place}
            used = tuple(by_slot[n] for n in range(len(slots)))
            start, end = min(used), max(used) + 1
            yield DescribedHit(start, end, movement, used, _score(len(slots), end - start))


def _cut_out(places: Sequence[int], start: int, end: int) -> Sequence[int]:
    return places[bisect_left(places, start) : bisect_left(places, end)]


def _fill_tightly(place: int, near: Sequence[Sequence[int]]) -> list[int] | None:
    """One place of each list, all different, so that they and ``place`` lie within 14 words, as close as can be."""
    best: list[int] | None = None
    best_width = WITHIN + 1
    for begin in sorted({place, *(p for places in near for p in places if place - WITHIN < p < place)}, reverse=True):
        used = {place}
        filled: list[int] = []
        # Fullest-first would be wrong: a slot with one choice must not lose it to a slot with several.
        for places in sorted(near, key=len):
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
                order = sorted(range(len(near)), key=lambda n: len(near[n]))
                back = dict(zip(order, filled, strict=True))
                best = [back[n] for n in range(len(near))]
    return best


def _score(slots: int, width: int) -> float:
    """0.5 to 0.9: more keywords, and closer together, make chance less likely. Weights are a judgement, no source."""
    closeness = 1.0 - (width - slots) / WITHIN
    return round(min(0.9, 0.35 + 0.08 * slots + 0.2 * max(0.0, closeness)), 4)


def _drop_overlaps(hits: Sequence[DescribedHit]) -> list[DescribedHit]:
    kept: list[DescribedHit] = []
    for hit in sorted(hits, key=lambda h: (-h.score, h.start, h.end)):
        if all(hit.end <= other.start or other.end <= hit.start for other in kept):
            kept.append(hit)
    return kept
