"""Second readings of the words: known mis-hearings put right, and compounds that were written as two words.

Each reading keeps the way back: every piece knows which pieces of the transcript it stands for.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from setdown.lexicon.compounds import Compounds
from setdown.lexicon.entries import MisheardRow
from setdown.lexicon.everyday import load_everyday
from setdown.lexicon.normal import Pieces

BREAK = "\x1f"  # stands between stretches that were not side by side; no name holds it


@dataclass(frozen=True, slots=True)
class Swap:
    """Pieces ``[start, end)`` read as ``forms``; ``row`` is the mis-hearing behind it, ``None`` for a mere join."""

    start: int
    end: int
    forms: tuple[str, ...]
    row: MisheardRow | None


@dataclass(frozen=True, slots=True)
class Reading:
    """Pieces with swaps made. Piece ``i`` stands for transcript pieces ``[start[i], end[i])``; ``swap[i]`` made it."""

    forms: list[str]
    start: list[int]
    end: list[int]
    swap: list[Swap | None]


class _Heard(NamedTuple):
    forms: tuple[str, ...]
    said: tuple[str, ...]
    literal: str  # the one word that it must be written as, empty: any spelling
    row: MisheardRow


class MisheardTable:
    """The rows of ``misheard.csv``, found by the first piece of what was heard."""

    def __init__(self, rows: Iterable[MisheardRow], compounds: Compounds) -> None:
        self._compounds = compounds
        self._rows: dict[str, list[_Heard]] = defaultdict(list)
        everyday = load_everyday()
        for row in rows:
            heard, said = compounds.cut_name(row.heard), compounds.cut_name(row.said)
            if heard and said and heard != said:
                # 'lunches' may be mis-heard lunges; then 'lunch', an everyday word, is not yet one.
                literal = row.heard if len(heard) == 1 and heard[0] in everyday else ""
                self._rows[heard[0]].append(_Heard(heard, said, literal, row))
        for found in self._rows.values():
            found.sort(key=lambda entry: -len(entry.forms))

    def find_swaps(self, words: Sequence[str], pieces: Pieces) -> list[Swap]:
        """All places where a mis-hearing or a split compound may stand, overlapping ones too, longest first."""
        forms = pieces.forms
        swaps = [Swap(i, i + 2, (forms[i] + forms[i + 1],), None) for i in self._compounds.find_joins(forms)]
        rows = self._rows
        for start, form in enumerate(forms):
            for heard in rows.get(form, ()):
                end = start + len(heard.forms)
                if tuple(forms[start:end]) == heard.forms and heard.literal in ("", words[pieces.word[start]]):
                    swaps.append(Swap(start, end, heard.said, heard.row))
        swaps.sort(key=lambda swap: (swap.start - swap.end, swap.row is None, swap.start))
        return swaps


def build_readings(forms: Sequence[str], swaps: Sequence[Swap], reach: int, most: int = 3) -> list[Reading]:
    """Readings that between them make every swap, at most ``most`` of them, each with ``reach`` pieces around a swap.

    Swaps that overlap go into different readings; those left over after ``most`` readings are given up.
    """
    readings: list[Reading] = []
    left = list(swaps)
    while left and len(readings) < most:
        taken: list[Swap] = []
        later: list[Swap] = []
        busy: set[int] = set()
        for swap in left:
            span = range(swap.start, swap.end)
            if busy.isdisjoint(span):
                busy.update(span)
                taken.append(swap)
            else:
                later.append(swap)
        taken.sort(key=lambda swap: swap.start)
        readings.append(_make_swaps(forms, taken, reach))
        left = later
    return readings


def _make_swaps(forms: Sequence[str], swaps: Sequence[Swap], reach: int) -> Reading:
    reading = Reading([], [], [], [])

    def copy(start: int, end: int) -> None:
        reading.forms.extend(forms[start:end])
        reading.start.extend(range(start, end))
        reading.end.extend(range(start + 1, end + 1))
        reading.swap.extend([None] * (end - start))

    done = 0
    for n, swap in enumerate(swaps):
        before = max(done, swap.start - reach)
        if before > done and reading.forms:
            reading.forms.append(BREAK)
            reading.start.append(before)
            reading.end.append(before)
            reading.swap.append(None)
        copy(before, swap.start)
        for form in swap.forms:
            reading.forms.append(form)
            reading.start.append(swap.start)
            reading.end.append(swap.end)
            reading.swap.append(swap)
        following = swaps[n + 1].start if n + 1 < len(swaps) else len(forms)
        done = min(swap.end + reach, following)
        copy(swap.end, done)
    return reading
