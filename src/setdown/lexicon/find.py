"""Movement names in the words of a class: exact, other spellings, known mis-hearings, then near matches.

All finders work on *pieces* (see ``normal``); only here are pieces turned back into words.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import cached_property
from typing import NamedTuple

from setdown.lexicon.compounds import Pieces
from setdown.lexicon.data import LexiconData
from setdown.lexicon.entries import Method, NameHit, Repair
from setdown.lexicon.everyday import load_everyday
from setdown.lexicon.guard import Wanted, build_guard
from setdown.lexicon.misheard import MisheardTable, Reading, build_readings
from setdown.lexicon.name_table import NameTable, load_name_table
from setdown.lexicon.names import ListedName, NameIndex, NameRows
from setdown.lexicon.near import HeardWords, NearIndex
from setdown.lexicon.prefixes import PrefixTable

VARIANT_SCORE = 0.98
MISHEARD_SCORE = 0.92
BEST_NEAR_SCORE = 0.9


class Candidate(NamedTuple):
    """A possible hit, in pieces. A tuple, because a class has thousands.

    ``weak``: the words are everyday words too. ``bare``: nothing but single words that may have been mis-heard.
    """

    start: int
    end: int
    name: ListedName
    method: Method
    score: float
    repaired: str = ""
    weak: bool = False
    bare: bool = False


class MovementFinder:
    """Finds the names of one lexicon; the indexes behind it are built on first use."""

    def __init__(self, data: LexiconData) -> None:
        self._data = data

    @cached_property
    def _rows(self) -> NameRows:
        return NameRows(self._data.movements.values(), self._data.aliases)

    @cached_property
    def _table(self) -> NameTable:
        return load_name_table(self._rows, self._data.folder, self._data.names_from)

    @cached_property
    def names(self) -> NameIndex:
        """The index of listed names."""
        return NameIndex(self._rows, self._table.cut)

    @cached_property
    def misheard(self) -> MisheardTable:
        """The table of known mis-hearings."""
        return MisheardTable(self._data.misheard, self.names.compounds)

    @cached_property
    def near(self) -> NearIndex:
        """The index for near matches."""
        return NearIndex(self.names, self._table.keys, self._table.movements_of)

    @cached_property
    def prefixes(self) -> PrefixTable:
        """Kit and stance words that may stand before a name."""
        return PrefixTable(self.names)

    def find(self, words: Sequence[str], wanted: Wanted | None) -> list[NameHit]:
        """See ``Lexicon.find_movements``."""
        if not words:
            return []
        compounds = self.names.compounds
        pieces = compounds.cut_words(words)
        joins = compounds.find_joins(pieces.forms)
        want = wanted if wanted is not None else build_guard(words)
        listed = choose_candidates([*self._find_listed(words, pieces), *self._find_misheard(words, pieces, joins)])
        chosen = self._add_near(pieces, joins, listed, want)
        return self._finish(words, pieces, chosen, want)

    def find_repairs(self, words: Sequence[str]) -> list[Repair]:
        """See ``Lexicon.find_repairs``."""
        pieces = self.names.compounds.cut_words(words)
        joins = self.names.compounds.find_joins(pieces.forms)
        repairs: list[Repair] = []
        busy: set[int] = set()
        for swap in self.misheard.find_swaps(words, pieces, joins):
            if swap.row is None:
                continue
            start, end = pieces.word[swap.start], pieces.word[swap.end - 1] + 1
            if busy.isdisjoint(range(start, end)):
                busy.update(range(start, end))
                repairs.append(Repair(start, end, " ".join(words[start:end]), swap.row.said))
        return sorted(repairs, key=lambda repair: repair.start)

    def _find_listed(self, words: Sequence[str], pieces: Pieces) -> Iterable[Candidate]:
        forms, origin, _ = pieces
        everyday = load_everyday()
        for start, end, name in self.names.find(forms):
            if " ".join(words[origin[start] : origin[end - 1] + 1]).lower() == name.name:
                yield Candidate(start, end, name, "exact", 1.0, weak=name.weak)
            else:
                # 'hammers' may be listed as it stands, but 'hammer' is an everyday word.
                weak = name.weak or (end - start == 1 and forms[start] in everyday)
                yield Candidate(start, end, name, "variant", VARIANT_SCORE, weak=weak)

    def _find_misheard(self, words: Sequence[str], pieces: Pieces, joins: Sequence[int]) -> Iterable[Candidate]:
        swaps = self.misheard.find_swaps(words, pieces, joins)
        for reading in build_readings(pieces.forms, swaps, self.names.longest):
            for start, end, name in self.names.find(reading.forms):
                made = [swap for swap in reading.swap[start:end] if swap is not None]
                if not made:
                    continue
                first, last = reading.start[start], reading.end[end - 1]
                if all(swap.row is None for swap in made):
                    yield Candidate(first, last, name, "variant", VARIANT_SCORE, weak=name.weak)
                    continue
                alone = len(made) == end - start and all(swap.end - swap.start == 1 for swap in made)
                repaired = _read_back(words, pieces, reading, start, end)
                yield Candidate(first, last, name, "misheard", MISHEARD_SCORE, repaired, name.weak, bare=alone)

    def _add_near(
        self, pieces: Pieces, joins: Sequence[int], listed: Sequence[Candidate], wanted: Wanted
    ) -> list[Candidate]:
        """The listed hits, with near matches in between, or in place of listed ones that they go beyond."""
        heard, start_of, end_of = _apply_listed(pieces, joins, listed)
        found = self.near.find(heard, wanted)
        if not found:
            return list(listed)
        near = [
            Candidate(
                start_of[hit.start],
                end_of[hit.end - 1],
                hit.name,
                "sound" if hit.sounds else "fuzzy",
                min(hit.score, BEST_NEAR_SCORE),
                repaired=hit.name.name,
            )
            for hit in found
        ]
        # Among themselves the most alike wins; then a near match takes the place of the (weak) listed names that it
        # goes beyond. What is listed as a whole was said as it stands.
        whole = [(hit.start, hit.end) for hit in listed]
        near = [n for n in near if not any(start <= n.start and n.end <= end for start, end in whole)]
        kept = choose_candidates(near, prefer_alike)
        covered = {piece for hit in kept for piece in range(hit.start, hit.end)}
        rest = [hit for hit in listed if covered.isdisjoint(range(hit.start, hit.end))]
        return sorted([*rest, *kept], key=lambda c: c.start)

    def _finish(
        self, words: Sequence[str], pieces: Pieces, chosen: Sequence[Candidate], wanted: Wanted
    ) -> list[NameHit]:
        """Words for pieces, prefixes taken in, and no two hits on one word."""
        hits: list[NameHit] = []
        forms, origin, _ = pieces
        free_from = 0
        for hit in chosen:
            start, end = origin[hit.start], origin[hit.end - 1] + 1
            if hits and start < hits[-1].end:
                continue  # two names within one hyphenated word: the first keeps it
            name, method = hit.name, hit.method
            left: tuple[str, ...] = ()
            before = self.prefixes.find_before(forms, hit.start, free_from)
            if before:
                start = origin[before[-1][0]]
                texts = [text for _, text in before]
                other = self.prefixes.find_listed(texts, name)
                if other is not None:
                    name, left = other
                    method = "variant" if method == "exact" else method
                else:
                    left = tuple(texts)
                if hits and start < hits[-1].end:
                    start = hits[-1].end
            weak = (hit.weak if name is hit.name else name.weak) or (hit.bare and not wanted(start, end))
            score = hit.score if method == hit.method else VARIANT_SCORE
            hits.append(
                NameHit(start, end, name.movement, name.name, method, score, weak, hit.repaired, tuple(reversed(left)))
            )
            free_from = hit.end
        return hits


def prefer_long(candidate: Candidate) -> tuple[float, ...]:
    """Sorts the longest first, of equals the best, then the one that says most, then the first."""
    return (candidate.start - candidate.end, -candidate.score, -len(candidate.name.forms), candidate.start)


def prefer_alike(candidate: Candidate) -> tuple[float, ...]:
    """Sorts the best first, of equals the longest, then the first."""
    return (-candidate.score, candidate.start - candidate.end, candidate.start)


def choose_candidates(
    candidates: Iterable[Candidate], order: Callable[[Candidate], tuple[float, ...]] = prefer_long
) -> list[Candidate]:
    """Candidates that do not overlap, in order of place; where some do, the one that ``order`` sorts first."""
    busy: set[int] = set()
    chosen: list[Candidate] = []
    for candidate in sorted(candidates, key=order):
        span = range(candidate.start, candidate.end)
        if busy.isdisjoint(span):
            busy.update(span)
            chosen.append(candidate)
    return sorted(chosen, key=lambda c: c.start)


def _apply_listed(
    pieces: Pieces, joins: Sequence[int], listed: Sequence[Candidate]
) -> tuple[HeardWords, list[int], list[int]]:
    """The words as understood so far: listed names in their own pieces, split compounds joined.

    With the transcript pieces that each piece stands for, as start and end.
    """
    forms: list[str] = []
    written: list[str] = []
    taken: list[str] = []
    start_of: list[int] = []
    end_of: list[int] = []

    def copy(at: int, stop: int) -> None:
        forms.extend(pieces.forms[at:stop])
        written.extend(pieces.written[at:stop])
        start_of.extend(range(at, stop))
        end_of.extend(range(at + 1, stop + 1))

    at = done = 0
    for hit in (*listed, None):
        stop = hit.start if hit else len(pieces.forms)
        while done < len(joins) and joins[done] + 1 < stop:
            join = joins[done]
            done += 1
            if join >= at:
                copy(at, join)
                forms.append(pieces.forms[join] + pieces.forms[join + 1])
                written.append(forms[-1])
                start_of.append(join)
                at = join + 2
                end_of.append(at)
        copy(at, stop)
        taken.extend([""] * (len(forms) - len(taken)))
        if hit:
            size = len(hit.name.forms)
            forms.extend(hit.name.forms)
            written.extend(hit.name.forms)
            start_of.extend([hit.start] * size)
            end_of.extend([hit.end] * size)
            # A weak name may be a scrap of a mis-heard one: 'oot cat asana'.
            taken.extend(["" if hit.weak else hit.name.movement] * size)
            at = hit.end
    first = [pieces.word[start] for start in start_of]
    last = [pieces.word[end - 1] + 1 for end in end_of]
    return HeardWords(forms, written, taken, first, last), start_of, end_of


def _read_back(words: Sequence[str], pieces: Pieces, reading: Reading, start: int, end: int) -> str:
    """The words that reading pieces ``[start, end)`` stand for, with what was said in place of what was heard."""
    said: list[str] = []
    last: object = None
    for at in range(start, end):
        swap = reading.swap[at]
        if swap is not None and swap.row is not None:
            if swap is not last:
                said.append(swap.row.said)
            last = swap
            continue
        for piece in range(reading.start[at], reading.end[at]):
            word = pieces.word[piece]
            if word != last:
                said.append(words[word])
            last = word
    return " ".join(said)
