"""Features of a boundary between two words: which kinds of mention, silences and words stand to its left and right.

Feature names read like what they see: ``go@-3:0`` is a go-word among the three words to the left, ``movement@0:20``
a named movement among the twenty to the right, ``gap>4`` a silence longer than four seconds just there,
``w-1=ready`` the word to the left.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

import numpy as np
from numpy.typing import NDArray

from setdown.segment.signals import Signals

WINDOWS = ((-1, 0), (-3, 0), (-8, 0), (-20, 0), (-45, 0), (0, 1), (0, 3), (0, 8), (0, 20))
GAPS = (0.3, 0.7, 1.5, 2.5, 4.0, 6.0, 8.0, 11.0, 15.0, 20.0)
NEIGHBOURS = ((1, "before1"), (2, "before2"), (3, "before3"), (-1, "after1"), (-2, "after2"), (-3, "after3"))
SILENCE_WINDOWS = ((-25, 0), (-10, 0), (1, 5), (1, 11), (1, 26))
SILENCES = (1.5, 4.0, 8.0, 15.0, 25.0)
PACES = (1.2, 1.5, 2.0, 2.6, 3.5)
WORD_OFFSETS = (-3, -2, -1, 0, 1, 2)
PAIR_OFFSETS = (-2, -1, 0)

Wanted = Callable[[str], bool]
Flags = NDArray[np.bool_]


def _everything(_: str) -> bool:
    return True


def iter_features(signals: Signals, wanted: Wanted = _everything) -> Iterator[tuple[str, Flags]]:
    """(name, flags of length n + 1) of every feature that ``wanted`` asks for, except the lexical ones."""
    yield from _mention_windows(signals, wanted)
    yield from _silences(signals, wanted)
    yield from _pace(signals, wanted)
    yield from _place(signals, wanted)


def _mention_windows(signals: Signals, wanted: Wanted) -> Iterator[tuple[str, Flags]]:
    n = signals.n
    before, after = -min(a for a, _ in WINDOWS), max(b for _, b in WINDOWS)
    for kind, cover in signals.kinds.items():
        named = [(f"{kind}@{a}:{b}", before + a, before + b) for a, b in WINDOWS]
        asked = [window for window in named if wanted(window[0])]
        if not asked:
            continue
        # counts so far, drawn out at both ends, so that a window around every boundary is two slices
        total = np.zeros(before + n + 1 + after, dtype=np.int32)
        np.cumsum(cover, out=total[before + 1 : before + 1 + n])
        total[before + 1 + n :] = total[before + n]
        for name, low, high in asked:
            yield name, total[high : high + n + 1] > total[low : low + n + 1]


def _silences(signals: Signals, wanted: Wanted) -> Iterator[tuple[str, Flags]]:
    gaps, n = signals.gaps, signals.n
    for limit in GAPS:
        if wanted(f"gap>{limit}"):
            yield f"gap>{limit}", gaps > limit
    for shift, label in NEIGHBOURS:
        name = f"pause {label}"
        if wanted(name):
            moved = np.zeros(n + 1)
            if shift > 0:
                moved[shift:] = gaps[:-shift]
            else:
                moved[:shift] = gaps[-shift:]
            yield name, moved > 2.5
    total = np.concatenate([[0.0], np.cumsum(np.minimum(gaps, 20.0))])
    at = np.arange(n + 1)
    for a, b in SILENCE_WINDOWS:
        silent = total[np.clip(at + b, 0, n + 1)] - total[np.clip(at + a, 0, n)]
        for limit in SILENCES:
            if wanted(f"silence@{a}:{b}>{limit}"):
                yield f"silence@{a}:{b}>{limit}", silent > limit


def _pace(signals: Signals, wanted: Wanted) -> Iterator[tuple[str, Flags]]:
    """Slow speech around a boundary, relative to the quickest stretches of the class (their 10th percentile)."""
    n = signals.n
    times = np.concatenate([signals.starts, signals.ends[-1:]])
    base = float(np.percentile((times[20:] - times[:-20]) / 20, 10)) if n > 20 else 0.4
    at = np.arange(n + 1)
    for a, b in ((-20, 0), (0, 20)):
        low, high = np.clip(at + a, 0, n), np.clip(at + b, 0, n)
        pace = (times[high] - times[low]) / np.maximum(high - low, 1) / max(base, 0.05)
        for limit in PACES:
            if wanted(f"pace@{a}:{b}>{limit}"):
                yield f"pace@{a}:{b}>{limit}", pace > limit


def _place(signals: Signals, wanted: Wanted) -> Iterator[tuple[str, Flags]]:
    if wanted("after sentence"):
        yield "after sentence", signals.sentence_end
    if wanted("after comma"):
        yield "after comma", signals.comma
    share = np.arange(signals.n + 1) / signals.n
    for tenth in range(10):
        if wanted(f"tenth={tenth}"):
            yield f"tenth={tenth}", (share >= tenth / 10) & (share < (tenth + 1) / 10)


def lexical_names(words: tuple[str, ...], boundary: int) -> list[str]:
    """Names of the lexical features at one boundary (used to train; scoring uses tables)."""
    padded = {o: _word(words, boundary + o) for o in range(-3, 4)}
    names = [f"w{o}={padded[o]}" for o in WORD_OFFSETS]
    names += [f"ww{o}={padded[o]} {padded[o + 1]}" for o in PAIR_OFFSETS]
    return names


def _word(words: tuple[str, ...], index: int) -> str:
    return words[index] if 0 <= index < len(words) else "-"


def score_lexical(
    words: tuple[str, ...], weights: Mapping[str, Mapping[str, NDArray[np.float64]]], targets: int
) -> NDArray[np.float64]:
    """Sum of the lexical weights at every boundary, shape (n + 1, targets).

    ``weights`` has, for each place such as ``w-1`` or ``ww0``, a table from what stands there to one weight per target.
    """
    n = len(words)
    scores = np.zeros((n + 1, targets))
    place = {w: i for i, w in enumerate(dict.fromkeys(("-", *words)))}
    padded = np.array([0, 0, 0, *map(place.__getitem__, words), 0, 0, 0])
    for offset in WORD_OFFSETS:
        known = weights.get(f"w{offset}", {})
        table = np.zeros((len(place), targets))
        for word in known.keys() & place.keys():
            table[place[word]] = known[word]
        scores += table[padded[3 + offset : 3 + offset + n + 1]]
    neighbours = padded[:-1] * len(place) + padded[1:]  # one number for each pair of words
    for offset in PAIR_OFFSETS:
        sayable: dict[int, NDArray[np.float64]] = {}
        for pair, values in weights.get(f"ww{offset}", {}).items():
            left, _, right = pair.partition(" ")
            if left in place and right in place:
                sayable[place[left] * len(place) + place[right]] = values
        if sayable:
            numbers = np.array(sorted(sayable))
            here = neighbours[3 + offset : 3 + offset + n + 1]
            at = np.searchsorted(numbers, here).clip(max=len(numbers) - 1)
            heard = np.flatnonzero(numbers[at] == here)
            scores[heard] += np.array([sayable[k] for k in numbers.tolist()])[at[heard]]
    return scores
