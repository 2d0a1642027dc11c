"""Which sets, groups and sections of three routines are the same."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from setdown.model.routine import Group, Routine, Section, Set
from setdown.review.align import align_sets
from setdown.review.assign import assign_pairs

Place = tuple[Section, Group, Set]


@dataclass(slots=True)
class Triple:
    """One set in up to three routines: positions in base, edited and new, ``None`` where it is not."""

    base: int | None = None
    edited: int | None = None
    new: int | None = None


@dataclass(slots=True, eq=False)
class Node:
    """One group or section in up to three routines."""

    base: Any = None
    edited: Any = None
    new: Any = None


@dataclass(frozen=True, slots=True)
class Side:
    """One of the three routines, with its sets and where they are."""

    routine: Routine
    places: Sequence[Place]

    @property
    def sets(self) -> list[Set]:
        return [one for _, _, one in self.places]


def take_side(routine: Routine) -> Side:
    return Side(routine, routine.iter_sets())


def match_sets(base: Side, edited: Side, new: Side) -> list[Triple]:
    """Every set of the three, once."""
    triples = [Triple(base=n) for n in range(len(base.places))]
    for n, k in align_sets(base.sets, edited.sets):
        triples[n].edited = k
    for n, k in align_sets(base.sets, new.sets):
        triples[n].new = k
    mine = sorted(set(range(len(edited.places))) - {t.edited for t in triples})
    theirs = sorted(set(range(len(new.places))) - {t.new for t in triples})
    # Both may have found the same set that was missing.
    both = dict(_pair_added([edited.sets[n] for n in mine], [new.sets[k] for k in theirs]))
    triples += [Triple(edited=n, new=theirs[both[i]] if i in both else None) for i, n in enumerate(mine)]
    triples += [Triple(new=k) for i, k in enumerate(theirs) if i not in both.values()]
    return triples


def match_nodes(
    base: Side,
    edited: Side,
    new: Side,
    triples: Sequence[Triple],
    pick: Callable[[Place], Any],
    listed: Callable[[Routine], list[Any]],
) -> list[Node]:
    """Groups or sections (``listed``) of the three, once each; those are the same that share most sets."""
    nodes = [Node(base=part) for part in listed(base.routine)]
    for name, side in (("edited", edited), ("new", new)):
        shared: Counter[tuple[int, int]] = Counter()
        for t in triples:
            at = t.edited if name == "edited" else t.new
            if t.base is not None and at is not None:
                shared[id(pick(base.places[t.base])), id(pick(side.places[at]))] += 1
        parts = listed(side.routine)
        pairs = dict(_pair_parts([n.base for n in nodes], parts, shared))
        for n, k in pairs.items():
            setattr(nodes[n], name, parts[k])
    found = {id(n.edited) for n in nodes}, {id(n.new) for n in nodes}
    mine = [part for part in listed(edited.routine) if id(part) not in found[0]]
    theirs = [part for part in listed(new.routine) if id(part) not in found[1]]
    shared = Counter()
    for t in triples:
        if t.edited is not None and t.new is not None:
            shared[id(pick(edited.places[t.edited])), id(pick(new.places[t.new]))] += 1
    both = dict(_pair_parts(mine, theirs, shared))
    nodes += [Node(edited=part, new=theirs[both[n]] if n in both else None) for n, part in enumerate(mine)]
    return nodes + [Node(new=part) for k, part in enumerate(theirs) if k not in both.values()]


def _pair_added(mine: list[Set], theirs: list[Set]) -> list[tuple[int, int]]:
    """Sets that both sides added, and that lie in the same time for the most part."""
    scores = np.zeros((len(mine), len(theirs)))
    for n, a in enumerate(mine):
        for k, b in enumerate(theirs):
            shared = min(a.end, b.end) - max(a.start, b.start)
            shorter = min(a.end - a.start, b.end - b.start)
            same = a.id == b.id or (shorter > 0 and shared >= 0.5 * shorter)
            scores[n, k] = 1 + max(shared, 0.0) + (a.exercise == b.exercise) if same else 0
    return assign_pairs(scores)


def _pair_parts(mine: list[Any], theirs: list[Any], shared: Counter[tuple[int, int]]) -> list[tuple[int, int]]:
    scores = np.zeros((len(mine), len(theirs)))
    for n, a in enumerate(mine):
        for k, b in enumerate(theirs):
            count = shared[id(a), id(b)]
            alike = a.id == b.id and getattr(a, "kind", "") == getattr(b, "kind", "")
            if count or (alike and isinstance(a, Section)):
                scores[n, k] = count + 0.5 * alike
    return assign_pairs(scores)
