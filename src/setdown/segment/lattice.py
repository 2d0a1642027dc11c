"""The lattice: every way to cut a class into work and talk, as a graph that a decode can walk.

Its nodes are boundaries between words that may begin or end a set, or whose silence may be a set of its own. Edges are
spans of work (from a beginning to an end) and stretches of talk (from an end to the next beginning). A path from the
first word to the last is one reading of the class; two sets never overlap, but may touch.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setdown.segment.signals import Signals

Places = NDArray[np.intp]

FLOOR = -3.5  # boundaries less likely than this log-odds are not considered
SILENT_FLOOR = -4.0
MIN_SILENT_S = 6.0  # a set without a word is at least this long
MAX_SPAN_S = 600.0
MAX_SPAN_WORDS = 450
# A stretch of talk of REACH words or more goes over relays, which stand every STEP words: edges stay few however long
# the class is, and there is one way only between any two nodes.
REACH, STEP = 600, 300

FIRST, END, RELAY, SILENT, START, LAST = range(6)  # the roles of nodes, in their order at one boundary


@dataclass(frozen=True, slots=True)
class Lattice:
    """``place`` and ``role`` of the nodes, in order; ``source`` and ``target`` of the edges, by falling into targets.

    Edges are sorted by target, then source; those into node ``k`` are ``into[k]`` to ``into[k + 1]``. ``work`` tells
    spans of work from talk. A silent set is a node that talk leads to and from.
    """

    place: Places
    role: Places
    source: Places
    target: Places
    work: NDArray[np.bool_]
    into: Places


def build_lattice(signals: Signals, scores: NDArray[np.float64], also: Iterable[tuple[int, int]] = ()) -> Lattice:
    """The lattice over all boundaries that are likely enough.

    Args:
        signals: a class of at least one word.
        scores: log-odds (start, end, inside) at every boundary, shape (n + 1, 3).
        also: spans of words that must have a path, likely or not.
    """
    n = signals.n
    start, end = scores[:, 0], scores[:, 1]
    wanted = list(also)
    starts = set(np.flatnonzero(start[:n] > FLOOR).tolist()) | {a for a, b in wanted if a < b}
    ends = set((np.flatnonzero(end[1:] > FLOOR) + 1).tolist()) | {b for a, b in wanted if a < b}
    quiet = (signals.gaps[1:n] >= MIN_SILENT_S) & (start[1:n] > SILENT_FLOOR) & (end[1:n] > SILENT_FLOOR)
    silent = set((np.flatnonzero(quiet) + 1).tolist()) | {a for a, b in wanted if a == b}
    nodes = [(0, FIRST), (n, LAST)]
    nodes += [(p, END) for p in ends]
    nodes += [(p, RELAY) for p in range(STEP, n + 1, STEP)]
    nodes += [(p, SILENT) for p in silent]
    nodes += [(p, START) for p in starts]
    place, role = np.array(sorted(nodes), dtype=np.intp).T
    work = _list_work(place, role, signals)
    talk = _list_talk(place, role, n)
    source = np.concatenate([work[0], talk[0]])
    target = np.concatenate([work[1], talk[1]])
    order = np.lexsort((source, target))
    into = np.searchsorted(target[order], np.arange(len(place) + 1))
    return Lattice(place, role, source[order], target[order], order < len(work[0]), into)


def _list_work(place: Places, role: Places, signals: Signals) -> tuple[Places, Places]:
    """Sources and targets of all spans of work that are not too long."""
    opening, closing = np.flatnonzero(role == START), np.flatnonzero(role == END)
    low = np.searchsorted(place[closing], place[opening], side="right")
    high = np.searchsorted(place[closing], place[opening] + MAX_SPAN_WORDS, side="right")
    source, target = _pair(opening, closing, low, high)
    short = signals.ends[place[target] - 1] - signals.starts[place[source]] <= MAX_SPAN_S
    return source[short], target[short]


def _list_talk(place: Places, role: Places, n: int) -> tuple[Places, Places]:
    """Sources and targets of all stretches of talk; between a silence and a set there is at least one word."""
    leaving = np.flatnonzero((role == FIRST) | (role == END) | (role == SILENT) | (role == RELAY))
    meeting = np.flatnonzero((role == SILENT) | (role == START) | (role == LAST))
    first_relay = -(-(place[leaving] + REACH) // STEP) * STEP
    limit = np.where(role[leaving] == RELAY, place[leaving] + STEP, first_relay)
    low = np.searchsorted(meeting, leaving, side="right")
    high = np.searchsorted(place[meeting], limit, side="left")
    source, target = _pair(leaving, meeting, low, np.maximum(low, high))
    touch = place[source] == place[target]
    parted = ~touch | (role[source] == RELAY) | ((role[source] != SILENT) & (role[target] != SILENT))
    relays = np.flatnonzero(role == RELAY)
    far = limit <= n
    onward = relays[np.searchsorted(place[relays], limit[far])]
    return np.concatenate([source[parted], leaving[far]]), np.concatenate([target[parted], onward])


def _pair(left: Places, right: Places, low: Places, high: Places) -> tuple[Places, Places]:
    """Each of ``left`` with ``right[low]`` to ``right[high]``."""
    sizes = high - low
    offsets = np.cumsum(sizes) - sizes
    at = np.arange(int(sizes.sum())) + np.repeat(low - offsets, sizes)
    return np.repeat(left, sizes), right[at]


def find_path(lattice: Lattice, spans: Iterable[tuple[int, int]]) -> list[int]:
    """The edges of one reading of the class, in order.

    Raises:
        KeyError: the lattice has no such path.
    """
    nodes = {(p, r): k for k, (p, r) in enumerate(zip(lattice.place.tolist(), lattice.role.tolist(), strict=True))}
    edges = {e: k for k, e in enumerate(zip(lattice.source.tolist(), lattice.target.tolist(), strict=True))}
    path: list[int] = []
    at = nodes[0, FIRST]
    stops = [((a, SILENT),) if a == b else ((a, START), (b, END)) for a, b in spans]
    last = max(lattice.place.tolist())
    for stop in [*stops, ((last, LAST),)]:
        for wanted in stop:
            to = nodes[wanted]
            while (at, to) not in edges:
                here = int(lattice.place[at])
                relay = here + STEP if lattice.role[at] == RELAY else -(-(here + REACH) // STEP) * STEP
                path.append(edges[at, nodes[relay, RELAY]])
                at = nodes[relay, RELAY]
            path.append(edges[at, to])
            at = to
    return path
