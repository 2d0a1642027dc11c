"""Movements described without their name: all the keywords of a row close together, in any order.

The rarest slot of a row in the words at hand is its anchor; only around the places of its words are the other slots
looked for, so that rows with a rare keyword cost next to nothing.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterable, Sequence

from setdown.lexicon.entries import Described, DescribedHit
from setdown.lexicon.normal import normalise_words

WITHIN = 14  # words that may lie between first and last keyword, both included


def find_described(words: Sequence[str], rows: Iterable[Described]) -> list[DescribedHit]:
    """See ``Lexicon.find_described``."""
    forms, origin = normalise_words(words)
    places: dict[str, list[int]] = defaultdict(list)
    for form, word in zip(forms, origin, strict=True):
        if not places[form] or places[form][-1] != word:
            places[form].append(word)
    slot_places: dict[frozenset[str], list[int]] = {}
    hits: dict[str, list[DescribedHit]] = defaultdict(list)
    for row in rows:
        slots = [slot_places.get(slot) or _gather(slot, places, slot_places) for slot in row.slots]
        if len(slots) > 1 and all(slots):
            hits[row.movement].extend(_find_row(row.movement, slots))
    kept = [hit for of_one in hits.values() for hit in _drop_overlaps(of_one)]
    return sorted(kept, key=lambda hit: (hit.start, hit.end, hit.movement))


def _gather(
    slot: frozenset[str], places: dict[str, list[int]], known: dict[frozenset[str], list[int]]
) -> list[int]:
    found = sorted({word for form in slot if form in places for word in places[form]})
    known[slot] = found
    return found


def _find_row(movement: str, slots: Sequence[Sequence[int]]) -> Iterable[DescribedHit]:
    """The tightest filling of all slots around every place of the anchor slot."""
    order = sorted(range(len(slots)), key=lambda n: len(slots[n]))
    anchor, others = order[0], order[1:]
    for place in slots[anchor]:
        near: list[Sequence[int]] = []
        for n in others:
            low = bisect_left(slots[n], place - WITHIN + 1)
            high = bisect_right(slots[n], place + WITHIN - 1, lo=low)
            if low == high:
                break
            near.append(slots[n][low:high])
        else:
            filled = _fill_tightly(place, near)
            if filled is not None:
                by_slot = dict(zip(others, filled, strict=True)) | {anchor: place}
                used = tuple(by_slot[n] for n in range(len(slots)))
                start, end = min(used), max(used) + 1
                yield DescribedHit(start, end, movement, used, _score(len(slots), end - start))


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
