"""What the segmenter looks at: where each kind of mention lies, the silences, the pace, the punctuation."""

from __future__ import annotations

from dataclasses import dataclass
from statistics import median

import numpy as np
from numpy.typing import NDArray

from setdown.model.mention import TaggedTranscript

SENTENCE_ENDS, COMMAS = frozenset(".?!…"), frozenset(",;:–—")
LONG_BLOCK_MS = 8_000  # captions longer than this hide the pauses inside them


@dataclass(frozen=True, slots=True)
class Signals:
    """Arrays over the ``n`` words of a class (``starts``, ``ends`` in seconds) and its ``n + 1`` boundaries (``gaps``).

    ``kinds[k][i]`` is true where word ``i`` lies in a mention of kind ``k``. ``regime`` is ``fine`` when pauses can
    be seen (word times, or short captions) and ``block`` when captions are too long for that.
    """

    words: tuple[str, ...]
    starts: NDArray[np.float64]
    ends: NDArray[np.float64]
    gaps: NDArray[np.float64]
    kinds: dict[str, NDArray[np.bool_]]
    sentence_end: NDArray[np.bool_]
    comma: NDArray[np.bool_]
    regime: str

    @property
    def n(self) -> int:
        return len(self.words)


def choose_regime(tagged: TaggedTranscript) -> str:
    """``fine`` or ``block``, see :class:`Signals`."""
    transcript = tagged.transcript
    if transcript.timing == "word":
        return "fine"
    typical = median(c.end - c.start for c in transcript.cues) if transcript.cues else 0
    return "block" if typical > LONG_BLOCK_MS else "fine"


def gather_signals(tagged: TaggedTranscript) -> Signals:
    """All arrays for one class. The transcript must hold at least one word."""
    words = tagged.transcript.words
    n = len(words)
    starts = np.array([w.start for w in words], dtype=np.float64) / 1000
    ends = np.array([w.end for w in words], dtype=np.float64) / 1000
    gaps = np.zeros(n + 1)
    gaps[1:n] = np.maximum(0.0, starts[1:] - ends[:-1])
    gaps[n] = 10.0  # after the last word there is nothing but silence
    kinds: dict[str, NDArray[np.bool_]] = {}
    for m in tagged.mentions:
        cover = kinds.get(m.kind)
        if cover is None:
            cover = kinds[m.kind] = np.zeros(n, dtype=np.bool_)
        cover[m.start : m.end] = True
    last = [w.text[-1] for w in words]
    return Signals(
        words=tagged.words,
        starts=starts,
        ends=ends,
        gaps=gaps,
        kinds=kinds,
        sentence_end=np.array([False] + [c in SENTENCE_ENDS for c in last]),
        comma=np.array([False] + [c in COMMAS for c in last]),
        regime=choose_regime(tagged),
    )
