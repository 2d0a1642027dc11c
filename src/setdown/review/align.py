"""Which set of one routine is which of another?

By id first: extraction makes ids of the words around a set, so that equal ids mean the same set. The others are paired
by time and movement, so that the whole agrees best.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from setdown.evaluate.names import is_same_name
from setdown.model.routine import Set
from setdown.review.assign import assign_pairs

NEAR_S = 30.0  # starts so near may belong to one set
FAR_S = 120.0  # the same movement so near too
PLACE, MOVEMENT, DETAIL = 2.0, 1.5, 0.25  # what agreement in time, movement, and side or round is worth


def align_sets(old: Sequence[Set], new: Sequence[Set]) -> list[tuple[int, int]]:
    """Pairs ``(position in old, position in new)``, in order of ``old``; sets without a partner are not listed."""
    by_id: dict[str, int] = {}
    for k, one in enumerate(new):
        by_id.setdefault(one.id, k)
    pairs: list[tuple[int, int]] = []
    for n, one in enumerate(old):
        if one.id in by_id:
            pairs.append((n, by_id.pop(one.id)))
    old_left = sorted(set(range(len(old))) - {n for n, _ in pairs})
    new_left = sorted(set(range(len(new))) - {k for _, k in pairs})
    scores = np.array([[score_likeness(old[n], new[k]) for k in new_left] for n in old_left], dtype=float)
    pairs += [(old_left[n], new_left[k]) for n, k in assign_pairs(scores.reshape(len(old_left), len(new_left)))]
    return sorted(pairs)


def score_likeness(a: Set, b: Set) -> float:
    """How likely two sets are the same one, from 0 (surely not) to 5 (the same time, movement, side and round)."""
    apart = abs(a.start - b.start)
    shared = min(a.end, b.end) - max(a.start, b.start)
    named = bool(a.exercise.id and a.exercise.id == b.exercise.id) or is_same_name(a.exercise.name, b.exercise.name)
    if not (shared > 0 or apart <= NEAR_S or (named and apart <= FAR_S)):
        return 0.0
    whole = max(a.end, b.end) - min(a.start, b.start)
    likeness = PLACE / 2 / (1 + apart / 10)
    if shared > 0 and whole > 0:
        likeness += PLACE / 2 * shared / whole
    likeness += MOVEMENT * named + DETAIL * (a.side == b.side) + DETAIL * (a.round == b.round)
    # Two moves of different name that only lie near each other are two sets, not one that was renamed.
    return likeness if named or shared > 0.3 * min(a.end - a.start, b.end - b.start) else 0.0
