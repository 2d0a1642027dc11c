"""Features of whole spans of work and of the talk between them: what no single boundary can see.

How long it lasts and in how many words, what is said in its first words, in its middle, in its last ones, whether the
counting begins anew in it, whether a target that was announced is reached. Names read like what they see:
``in rest`` is a rest announced in the middle of work, ``talk go 2`` two go-words in one stretch of talk.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setdown.model.mention import TaggedTranscript
from setdown.segment.lattice import FIRST, LAST, RELAY, SILENT, Lattice
from setdown.segment.signals import Signals

Floats = NDArray[np.float64]
Places = NDArray[np.intp]
Named = Iterator[tuple[str, NDArray[np.float64] | NDArray[np.bool_]]]

LENGTHS_S = (2, 4, 7, 11, 16, 24, 35, 50, 75, 110, 170, 300)
LENGTHS_WORDS = (0, 2, 5, 10, 20, 40, 80, 160)
PAUSES_S = (0, 1, 3, 6, 12, 25, 50, 100, 250)
PAUSES_WORDS = (0, 1, 3, 7, 14, 25, 50, 100, 250)
HEAD, TAIL = 4, 3  # words at the two ends of a span in which a mention may belong to its neighbour
KINDS = (
    "go", "setup", "rest", "stop", "round", "round_end", "side_other", "side_left", "side_right", "again", "movement",
    "described", "halfway", "last", "remaining", "countdown", "count", "keep_on", "form", "time_left", "outro",
    "interval_talk", "correction", "option", "hold", "pulses", "past", "future", "announce", "load", "kit", "reps",
    "work_s", "movement_weak", "warm_up", "cool_down", "main_part", "ordinal", "superset", "aside",
)  # fmt: skip
TWICE = ("movement", "setup", "go", "rest", "reps", "side_other", "again", "work_s", "described")
NEAR_WORDS = 25  # a counting that goes on within so many words is the same counting
ANNOUNCED_WORDS = 50  # how long before the work its target is said


@dataclass(frozen=True, slots=True)
class Evidence:
    """What spans are judged by: boundary log-odds, times, and how many mentions of each kind begin before each word."""

    scores: Floats
    inside: Floats
    begins: Floats
    stops: Floats
    gaps: Floats
    so_far: dict[str, NDArray[np.int32]]
    counts: NDArray[np.int64]  # (first word, word after it, first number, last number) of every counting, shape (k, 4)
    targets: NDArray[np.int64]  # (word, reps) of every target said
    durations: Floats  # (word, seconds of work) of every duration said
    plans: Floats  # the same for intervals, which hold until the next one


def gather_evidence(tagged: TaggedTranscript, signals: Signals, scores: Floats) -> Evidence:
    """The evidence of one class; ``scores`` as :func:`setdown.segment.boundaries.score_boundaries` gives them."""
    n = signals.n
    so_far = {}
    for kind in KINDS:
        if (cover := signals.kinds.get(kind)) is not None:
            begin = cover.copy()
            begin[1:] &= ~cover[:-1]
            so_far[kind] = np.concatenate([[0], np.cumsum(begin)]).astype(np.int32)
    counts, targets, durations, plans = [], [], [], []
    for m in tagged.mentions:
        if m.kind == "count":
            counts.append((m.start, m.end, m.value.first, m.value.n))
        elif m.kind == "reps" and m.value.lo:
            targets.append((m.start, m.value.lo))
        elif m.kind in ("work_s", "interval", "emom") and getattr(m.value, "work", None):
            durations.append((m.start, float(m.value.work)))
            if m.kind == "interval":
                plans.append((m.start, float(m.value.work)))
    return Evidence(
        scores=scores,
        inside=np.concatenate([[0.0], np.cumsum(scores[:n, 2])]),
        begins=np.concatenate([signals.starts, [signals.ends[-1] + 1.0]]),
        stops=np.concatenate([[signals.starts[0]], signals.ends]),
        gaps=signals.gaps,
        so_far=so_far,
        counts=np.array(counts, dtype=np.int64).reshape(-1, 4),
        targets=np.array(targets, dtype=np.int64).reshape(-1, 2),
        durations=np.array(sorted(durations), dtype=np.float64).reshape(-1, 2),
        plans=np.array(plans, dtype=np.float64).reshape(-1, 2),
    )


def iter_work_features(seen: Evidence, a: Places, b: Places) -> Named:
    """(name, values) of every feature of the spans of work over words ``[a, b)``."""
    seconds = np.maximum(seen.stops[b] - seen.begins[a], 1.0)
    yield from _spread("lasts {} s", np.log(seconds), np.log(LENGTHS_S), LENGTHS_S)
    yield from _spread("{} words", np.log1p(b - a), np.log1p(LENGTHS_WORDS), LENGTHS_WORDS)
    inside = seen.inside[b] - seen.inside[a]
    yield "starts", seen.scores[a, 0]
    yield "ends", seen.scores[b, 1]
    yield "inside", inside / 10
    yield "inside, mean", inside / (b - a)
    head, tail = np.minimum(a + HEAD, b), np.maximum(b - TAIL, np.minimum(a + HEAD, b))
    for kind, total in seen.so_far.items():
        middle = total[tail] - total[head]
        yield f"in {kind}", middle > 0
        yield f"in {kind} 2", middle > 1
        yield f"in {kind} n", np.minimum(middle, 8).astype(np.float64)
        yield f"tail {kind}", total[b] > total[tail]
    yield from _counting(seen, a, b)
    for name, said, reach in (("said", seen.durations, ANNOUNCED_WORDS), ("plan", seen.plans, None)):
        if len(said):
            at = np.searchsorted(said[:, 0], a + HEAD) - 1
            known = (at >= 0) if reach is None else (at >= 0) & (a - said[np.maximum(at, 0), 0] < reach)
            off = np.log(seconds / np.maximum(said[np.maximum(at, 0), 1], 1.0))
            yield f"{name} exact", known & (np.abs(off) < 0.1)
            yield f"{name} near", known & (np.abs(off) < 0.25)
            yield f"{name} far short", known & (off < -0.5)
            yield f"{name} far long", known & (off > 0.4)


def _counting(seen: Evidence, a: Places, b: Places) -> Named:
    """Does the counting begin with the span, begin anew in it, go on after it, reach what was announced?"""
    counts = seen.counts
    if not len(counts):
        return
    word, stop, first, last = counts.T
    low, high = np.searchsorted(word, a), np.searchsorted(word, b)
    has = high > low
    begins, ends = np.minimum(low, len(counts) - 1), np.maximum(high - 1, 0)
    before, after = np.maximum(low - 1, 0), np.minimum(high, len(counts) - 1)
    anew = np.concatenate([[0], np.cumsum((first[1:] < last[:-1]) & (first[1:] <= 3))])
    resets = np.where(has, anew[ends] - anew[begins], 0)
    early = word[begins] - a <= 6
    yield "count", has
    yield "count from 1", has & (first[begins] <= 2) & early
    yield "count from 1 later", has & (first[begins] <= 2) & ~early
    yield "count from the middle", has & (first[begins] > 3)
    yield "count anew", resets > 0
    yield "count anew 2", resets > 1
    yield "count cut at the start", (low > 0) & (stop[before] > a)
    yield "count cut at the end", (high > 0) & (stop[ends] > b)
    joined = (low > 0) & (a - stop[before] < NEAR_WORDS) & (last[before] < first[begins])
    yield "count begun before", has & (first[begins] > 2) & joined
    follows = has & (high < len(counts))
    yield "count goes on", follows & (first[after] > last[ends]) & (word[after] - b < NEAR_WORDS)
    begun = (first[after] <= last[ends]) & (first[after] < 3)
    yield "count begins just after", follows & begun & (word[after] - b < 12)
    yield "count to the end", has & (b - stop[ends] <= 5)
    yield "count ends early", has & (b - stop[ends] > 24)
    if len(seen.targets):
        at = np.searchsorted(seen.targets[:, 0], a + TAIL) - 1
        said, reps = seen.targets[np.maximum(at, 0)].T
        known = has & (at >= 0) & (a - said < ANNOUNCED_WORDS)
        off = last[ends] - reps
        yield "target reached", known & (np.abs(off) <= 1)
        yield "target missed", known & (off < -3)
        yield "target exceeded", known & (off > 3)


def iter_talk_features(seen: Evidence, a: Places, b: Places, source: Places, target: Places) -> Named:
    """(name, values) of every feature of stretches of talk over words ``[a, b)``, with the roles of their two nodes."""
    silent = target == SILENT
    if silent.any():
        yield "silent", silent
        yield "silent, starts", np.where(silent, seen.scores[b, 0], 0.0)
        yield "silent, ends", np.where(silent, seen.scores[b, 1], 0.0)
        length = np.log(np.maximum(seen.gaps[b], 1.0))
        for name, values in _spread("silent {} s", length, np.log(LENGTHS_S), LENGTHS_S):
            yield name, values * silent
    yield "talk first", source == FIRST
    yield "talk last", target == LAST
    yield "talk inside", (seen.inside[b] - seen.inside[a]) / 10
    between = (source != FIRST) & (source != RELAY) & (target != LAST)
    yield "touch", between & (a == b)
    seconds = np.maximum(seen.begins[b] - seen.stops[a], 0.0)
    for name, values in _spread("talk {} s", np.log1p(seconds), np.log1p(PAUSES_S), PAUSES_S):
        yield name, values * between
    for name, values in _spread("talk {} words", np.log1p(b - a), np.log1p(PAUSES_WORDS), PAUSES_WORDS):
        yield name, values * between
    for kind, total in seen.so_far.items():
        said = total[b] - total[a]
        yield f"talk {kind}", between & (said > 0)
        if kind in TWICE:
            yield f"talk {kind} 2", between & (said > 1)


def _spread(name: str, x: Floats, knots: Floats, labels: tuple[int, ...]) -> Iterator[tuple[str, Floats]]:
    """``x`` between two knots counts for both, the more the nearer: weights make a line with corners at the knots."""
    x = np.clip(x, knots[0], knots[-1])
    left = np.clip(np.searchsorted(knots, x, side="right") - 1, 0, len(knots) - 2)
    share = (x - knots[left]) / (knots[left + 1] - knots[left])
    for k, label in enumerate(labels):
        yield name.format(label), np.where(left == k, 1.0 - share, np.where(left == k - 1, share, 0.0))


def iter_edge_features(
    lattice: Lattice, seen: Evidence
) -> Iterator[tuple[str, Places, NDArray[np.float64] | NDArray[np.bool_]]]:
    """(name, edges, values) of every feature of a lattice; it is 0 on all edges that are not listed."""
    work, talk = np.flatnonzero(lattice.work), np.flatnonzero(~lattice.work)
    a, b = lattice.place[lattice.source], lattice.place[lattice.target]
    for name, values in iter_work_features(seen, a[work], b[work]):
        yield name, work, values
    roles = lattice.role[lattice.source[talk]], lattice.role[lattice.target[talk]]
    for name, values in iter_talk_features(seen, a[talk], b[talk], *roles):
        yield name, talk, values
