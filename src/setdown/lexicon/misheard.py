"""Second readings of the words: known mis-hearings put right, and compounds that were written as two words.

Each reading keeps the way back: every piece knows which pieces of the transcript it stands for.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from setdown.lexicon.compounds import Compounds, Pieces
from setdown.lexicon.entries import MisheardRow
from setdown.lexicon.everyday import load_everyday

BREAK = "\x1f"  # stands between stretches that were not side by side; no name holds it


class Swap(NamedTuple):
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
    said: tuple[str, ...]
    literal: str  # the one word that it must be written as, empty: any spelling
    row: MisheardRow


class MisheardTable:
    """The rows of ``misheard.csv``, found by the first piece of what was heard.

    A class has few of those first pieces, so the rows behind one are only cut into pieces when it is met.
    """

    def __init__(self, rows: Iterable[MisheardRow], compounds: Compounds) -> None:
        self._compounds = compounds
        self._uncut: dict[str, list[MisheardRow]] = defaultdict(list)
        self._rows: dict[str, list[tuple[int, dict[tuple[str, ...], list[_Heard]]]]] = {}  # by number of pieces
        for row in rows:
            first = next((pieces[0] for word in row.heard.split() if (pieces := compounds.cut_word(word))), None)
            if first is not None:
                self._uncut[first].append(row)

    def find_swaps(self, words: Sequence[str], pieces: Pieces, joins: Iterable[int]) -> list[Swap]:
        """All places where a mis-hearing or a split compound may stand, overlapping ones too, longest first.

        ``joins`` are the places that ``Compounds.find_joins`` finds in the pieces.
        """
        forms = pieces.forms
        swaps = [Swap(i, i + 2, (forms[i] + forms[i + 1],), None) for i in joins]
        for first in self._uncut.keys() & set(forms):
            self._rows[first] = self._cut_rows(self._uncut.pop(first))
        rows = self._rows
        for start, form in enumerate(forms):
            if form in rows:
                for size, by_forms in rows[form]:
                    for heard in by_forms.get(tuple(forms[start : start + size]), ()):
                        if heard.literal in ("", words[pieces.word[start]]):
                            swaps.append(Swap(start, start + size, heard.said, heard.row))
        swaps.sort(key=lambda swap: (swap.start - swap.end, swap.row is None, swap.start))
        return swaps

    def _cut_rows(self, rows: Iterable[MisheardRow]) -> list[tuple[int, dict[tuple[str, ...], list[_Heard]]]]:
        """The rows that change something, by their number of pieces and by their pieces."""
        everyday, cut = load_everyday(), self._compounds.cut_name
        found: dict[int, dict[tuple[str, ...], list[_Heard]]] = {}
        for row in rows:
            heard, said = cut(row.heard), cut(row.said)
            if heard and said and heard != said:
                # 'lunches' may be mis-heard lunges; then 'lunch', an everyday word, is not yet one.
                literal = row.heard if len(heard) == 1 and heard[0] in everyday else ""
                found.setdefault(len(heard), {}).setdefault(heard, []).append(_Heard(said, literal, row))
        return list(found.items())


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
