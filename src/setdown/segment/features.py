"""Features of a boundary between two words: which kinds of mention, silences and words stand to its left and right.

Feature names read like what they see: ``go@-3:0`` is a go-word among the three words to the left, ``movement@0:20``
a named movement among the twenty to the right, ``gap>4`` a silence longer than four seconds just there,
``w-1=ready`` the word to the left.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from setdown.segment.signals import Array, Signals

WINDOWS = ((-1, 0), (-3, 0), (-8, 0), (-20, 0), (-45, 0), (0, 1), (0, 3), (0, 8), (0, 20))
GAPS = (0.3, 0.7, 1.5, 2.5, 4.0, 6.0, 8.0, 11.0, 15.0, 20.0)
NEIGHBOURS = ((1, "before1"), (2, "before2"), (3, "before3"), (-1, "after1"), (-2, "after2"), (-3, "after3"))
SILENCE_WINDOWS = ((-25, 0), (-10, 0), (1, 5), (1, 11), (1, 26))
SILENCES = (1.5, 4.0, 8.0, 15.0, 25.0)
PACES = (1.2, 1.5, 2.0, 2.6, 3.5)
WORD_OFFSETS = (-3, -2, -1, 0, 1, 2)
PAIR_OFFSETS = (-2, -1, 0)

Wanted = Callable[[str], bool]


def _everything(_: str) -> bool:
    return True


def iter_features(signals: Signals, wanted: Wanted = _everything) -> Iterator[tuple[str, Array]]:
    """(name, values of length n + 1) of every feature that ``wanted`` asks for, except the lexical ones."""
    yield from _mention_windows(signals, wanted)
    yield from _silences(signals, wanted)
    yield from _pace(signals, wanted)
    yield from _place(signals, wanted)


def _mention_windows(signals: Signals, wanted: Wanted) -> Iterator[tuple[str, Array]]:
    n = signals.n
    at = np.arange(n + 1)
    bounds = [(a, b, np.clip(at + a, 0, n), np.clip(at + b, 0, n)) for a, b in WINDOWS]
    for kind, cover in signals.kinds.items():
        names = [f"{kind}@{a}:{b}" for a, b in WINDOWS]
        if not any(wanted(name) for name in names):
            continue
        total = np.concatenate([[0], np.cumsum(cover)])
        for name, (_, _, low, high) in zip(names, bounds, strict=True):
            if wanted(name):
                yield name, ((total[high] - total[low]) > 0).astype(np.float32)


def _silences(signals: Signals, wanted: Wanted) -> Iterator[tuple[str, Array]]:
    gaps, n = signals.gaps, signals.n
    for limit in GAPS:
        if wanted(f"gap>{limit}"):
            yield f"gap>{limit}", (gaps > limit).astype(np.float32)
    for shift, label in NEIGHBOURS:
        name = f"pause {label}"
        if wanted(name):
            moved = np.zeros(n + 1)
            if shift > 0:
                moved[shift:] = gaps[:-shift]
            else:
                moved[:shift] = gaps[-shift:]
            yield name, (moved > 2.5).astype(np.float32)
    total = np.concatenate([[0.0], np.cumsum(np.minimum(gaps, 20.0))])
    at = np.arange(n + 1)
    for a, b in SILENCE_WINDOWS:
        silent = total[np.clip(at + b, 0, n + 1)] - total[np.clip(at + a, 0, n)]
        for limit in SILENCES:
            if wanted(f"silence@{a}:{b}>{limit}"):
                yield f"silence@{a}:{b}>{limit}", (silent > limit).astype(np.float32)


def _pace(signals: Signals, wanted: Wanted) -> Iterator[tuple[str, Array]]:
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
                yield f"pace@{a}:{b}>{limit}", (pace > limit).astype(np.float32)


def _place(signals: Signals, wanted: Wanted) -> Iterator[tuple[str, Array]]:
    if wanted("after sentence"):
        yield "after sentence", signals.sentence_end.astype(np.float32)
    if wanted("after comma"):
        yield "after comma", signals.comma.astype(np.float32)
    share = np.arange(signals.n + 1) / signals.n
    for tenth in range(10):
        if wanted(f"tenth={tenth}"):
            yield f"tenth={tenth}", ((share >= tenth / 10) & (share < (tenth + 1) / 10)).astype(np.float32)


def lexical_names(words: tuple[str, ...], boundary: int) -> list[str]:
    """Names of the lexical features at one boundary (used to train; scoring uses tables)."""
    padded = {o: _word(words, boundary + o) for o in range(-3, 4)}
    names = [f"w{o}={padded[o]}" for o in WORD_OFFSETS]
    names += [f"ww{o}={padded[o]} {padded[o + 1]}" for o in PAIR_OFFSETS]
    return names


def _word(words: tuple[str, ...], index: int) -> str:
    return words[index] if 0 <= index < len(words) else "-"


def score_lexical(
    words: tuple[str, ...], weights: Mapping[str, NDArray[np.float64]], targets: int
) -> NDArray[np.float64]:
    """Sum of the lexical weights at every boundary, shape (n + 1, targets).

    ``weights`` maps a feature name to one weight per target.
    """
    n = len(words)
    scores = np.zeros((n + 1, targets))
    vocabulary = ["-", *dict.fromkeys(words)]
    place = {w: i for i, w in enumerate(vocabulary)}
    padded = np.array([0, 0, 0, *(place[w] for w in words), 0, 0, 0])
    for offset in WORD_OFFSETS:
        table = np.zeros((len(vocabulary), targets))
        for i, word in enumerate(vocabulary):
            found = weights.get(f"w{offset}={word}")
            if found is not None:
                table[i] = found
        scores += table[padded[3 + offset : 3 + offset + n + 1]]
    pairs = {name[2:]: value for name, value in weights.items() if name.startswith("ww")}
    if pairs:
        around = ["-", "-", "-", *words, "-", "-", "-"]
        neighbours = [f"{a} {b}" for a, b in pairwise(around)]
        for offset in PAIR_OFFSETS:
            known = {name[len(f"{offset}=") :]: w for name, w in pairs.items() if name.startswith(f"{offset}=")}
            for i, pair in enumerate(neighbours[3 + offset : 3 + offset + n + 1]):
                if pair in known:
                    scores[i] += known[pair]
    return scores
