"""Near matches: names that captions wrote with other words of nearly the same sound or letters.

Comparing every window of one to four words with every name would be slow, so the windows where a movement is wanted are
first looked up by consonant key (see ``near_keys``). The few pairs that meet there are compared (see ``likeness``).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import compress
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray
from rapidfuzz.fuzz import ratio

from setdown.lexicon.everyday import FUNCTION_WORDS, load_everyday
from setdown.lexicon.guard import Wanted
from setdown.lexicon.likeness import join_letters, rate_likeness, take_off_shared
from setdown.lexicon.names import ListedName, NameIndex
from setdown.lexicon.near_keys import SHORTEST_KEY, KeyIndex, write_as_spoken, write_plural
from setdown.lexicon.normal import spell_out
from setdown.lexicon.sound import sound_key

LONGEST_WINDOW = 4  # words
_WIDTH_BITS = 3  # that hold the width of a window
_MOST_KEPT = 1 << 16  # words that are remembered
_LEAST_LETTERS = 70.0  # per cent alike over all words; less is not worth a closer look
# Function words that captions make of the first syllable of a name: 'in climb press', 'on jenny asana', 'but kicks'.
_MAY_BEGIN = frozenset({"in", "on", "but", "oh", "or", "up", "over"})


class NearHit(NamedTuple):
    """Pieces ``[start, end)`` are nearly ``name``."""

    start: int
    end: int
    name: ListedName
    sounds: bool
    score: float


class _Mark(NamedTuple):
    """A word as it was written: its letters, its key, and the key of its singular; what it may do."""

    letters: str
    head: str
    body: str
    singular: str
    flags: int


# Pieces [start, end) and their key, and the key with the last word singular where that differs, else an empty one.
_Window = tuple[int, int, str, str]

_BEGINS, _ENDS = 1, 2  # a window may begin or end with the word
_TELLS = 4  # it makes a window worth a look
_ODD = 8  # it is neither an everyday word nor a word of a name
_NUMBER = 16  # it is a number that names have ('warrior two')


class _Spoken(NamedTuple):
    """A name as it is compared with heard words: its pieces with inner plurals, their letters, its key."""

    name: ListedName
    forms: tuple[str, ...]
    letters: str
    key: str


@dataclass(frozen=True, slots=True)
class HeardWords:
    """The words of a class as understood so far.

    Normal pieces, how they were written, and the movement that each is known to name (empty: none). Piece ``i`` stands
    for the words ``[first[i], last[i])``.
    """

    forms: Sequence[str]
    written: Sequence[str]
    taken: Sequence[str]
    first: Sequence[int]
    last: Sequence[int]


class NearIndex:
    """Names by consonant key; ``keys`` and ``movements_of`` are those of a ``NameTable``.

    Two keys belong to each name: place ``2 * n`` is that of name ``n``, ``2 * n + 1`` that of its plural.
    """

    def __init__(self, names: NameIndex, keys: Sequence[str], movements_of: Mapping[str, int]) -> None:
        self._names = names
        self._keys = keys
        self._movements_of = movements_of
        self._spoken: dict[int, _Spoken] = {}
        self._marks: dict[tuple[str, str], _Mark] = {}

    @cached_property
    def _by_key(self) -> KeyIndex:
        return KeyIndex(self._keys)

    def find(self, heard: HeardWords, wanted: Wanted) -> list[NearHit]:
        """The near matches in the words of a class; some overlap."""
        hits: list[NearHit] = []
        known = self._marks.get
        if len(self._marks) > _MOST_KEPT:
            self._marks.clear()
        marks = [known(pair) or self._mark(*pair) for pair in zip(heard.forms, heard.written, strict=True)]
        windows = _list_windows(marks, heard, wanted)
        if not windows:
            return hits
        met = self._by_key.find([key for window in windows for key in window[2:] if key])
        for start, end, key, shorter in windows:
            if met[key] or (shorter and met[shorter]):
                letters = [mark.letters for mark in marks[start:end]]
                if met[key]:
                    self._choose(heard, start, end, key, letters, met[key], hits)
                if shorter and met[shorter]:
                    letters[-1] = spell_out(heard.forms[end - 1])
                    self._choose(heard, start, end, shorter, letters, met[shorter], hits)
        return hits

    def _mark(self, form: str, written: str) -> _Mark:
        bare, of_name = form in FUNCTION_WORDS or form.isdigit(), form in self._movements_of
        odd = not bare and not of_name and form not in load_everyday()
        flags = 0 if bare else _BEGINS | _ENDS
        flags |= _BEGINS if form in _MAY_BEGIN else 0
        flags |= _TELLS if odd or (not bare and of_name) else 0
        flags |= _ODD if odd else 0
        flags |= _NUMBER if of_name and form.isdigit() else 0
        letters = spell_out(written)
        head, body = sound_key(letters)
        singular = sound_key(spell_out(form)).body
        mark = _Mark(letters, head, body, singular, flags)
        self._marks[form, written] = mark
        return mark

    def _choose(
        self,
        heard: HeardWords,
        start: int,
        end: int,
        key: str,
        written: Sequence[str],
        places: Sequence[int],
        hits: list[NearHit],
    ) -> None:
        """Adds the best of the names that the pieces ``[start, end)``, so ``written``, meet, if any is alike enough."""
        letters = "".join(written)
        known = self._spoken
        best: tuple[float, int] | None = None
        forms: Sequence[str] = ()
        for place in places:
            if place not in known:
                known[place] = self._write_out(place)
            spoken = known[place]
            # Cheap test first: whole letters. Most pairs that meet by key end here.
            alike = ratio(letters, spoken.letters, score_cutoff=_LEAST_LETTERS)
            if not alike:
                continue
            name = spoken.name
            forms = forms or heard.forms[start:end]
            remains = take_off_shared(forms, written, name.forms, spoken.forms)
            in_doubt = heard.taken[start + remains.front : end - remains.back]
            if any(movement and movement != name.movement for movement in in_doubt):
                continue
            score = rate_likeness(remains, alike / 100, key, spoken.key, self._count_movements)
            if score is not None and (best is None or (score, -place) > best):
                best = score, -place
        if best is not None:
            score, spoken = best[0], known[-best[1]]
            sounds = key == spoken.key
            name = spoken.name if sounds else self._find_closer(forms, written, spoken.name)
            hits.append(NearHit(start, end, name, sounds, score))

    def _find_closer(self, forms: Sequence[str], written: Sequence[str], name: ListedName) -> ListedName:
        """The name with the same words in common that is spelled more like what was heard, or the name itself.

        'eternal rotation' differs from 'internal' by one sound and from 'external' by two, but 'external' it was.
        """
        remains = take_off_shared(forms, written, name.forms, name.forms)
        front, back = name.forms[: remains.front], name.forms[len(name.forms) - remains.back :]
        if not front and not back:
            return name
        heard = join_letters(remains.heard)
        best, closest = name, ratio(heard, join_letters(remains.name))
        for number in self._names.list_between(front, back):
            if self._keys[2 * number] or self._keys[2 * number + 1]:
                rival = self._names.at(number)
                likeness = ratio(heard, join_letters(rival.forms[len(front) : len(rival.forms) - len(back)]))
                if likeness > closest:
                    best, closest = rival, likeness
        return best

    def _write_out(self, place: int) -> _Spoken:
        name = self._names.at(place // 2)
        forms = write_as_spoken(name) if place % 2 == 0 else write_plural(name)
        return _Spoken(name, forms, join_letters(forms), self._keys[place])

    def _count_movements(self, form: str) -> int:
        return self._movements_of.get(form, 0)


def _list_windows(marks: Sequence[_Mark], heard: HeardWords, wanted: Wanted) -> list[_Window]:
    """The windows that may be a name, with their keys: a few hundred in a class."""
    found = _find_windows(marks, heard)
    starts, ends = found >> _WIDTH_BITS, (found >> _WIDTH_BITS) + (found & (1 << _WIDTH_BITS) - 1)
    firsts = np.array(heard.first, dtype=np.int64)[starts].tolist()
    lasts = np.array(heard.last, dtype=np.int64)[ends - 1].tolist()
    spans = zip(starts.tolist(), ends.tolist(), strict=True)
    windows: list[_Window] = []
    begin, at, key, before = -1, 0, "", ""
    for start, end in compress(spans, map(wanted, firsts, lasts)):
        if start != begin:  # else a longer window of the same beginning: its key goes on
            begin = at = start
            key = marks[start].head
        while at < end:
            mark = marks[at]
            before, body = key, mark.body
            key += body[1:] if key[-1:] == body[:1] else body  # words that meet on one sound share it
            at += 1
        if len(key) < SHORTEST_KEY:
            continue
        singular = mark.singular
        if singular == body:
            shorter = ""
        else:
            shorter = before + singular[1:] if before[-1:] == singular[:1] else before + singular
        windows.append((start, end, key, shorter))
    return windows


def _find_windows(marks: Sequence[_Mark], heard: HeardWords) -> NDArray[np.int64]:
    """Start and width, packed into one number each, of the windows whose words may be a name; in order."""
    flags = np.array([mark.flags for mark in marks], dtype=np.uint8)
    begins, ends = flags & _BEGINS > 0, flags & _ENDS > 0
    telling, free = flags & _TELLS > 0, np.array([not movement for movement in heard.taken], dtype=np.bool_)
    some_telling, some_free = telling, free
    found: list[NDArray[np.int64]] = []
    for width in range(1, min(LONGEST_WINDOW, len(marks)) + 1):
        if width == 2:  # 'virabadrasana two', but not 'squeeze two'
            ends[1:] |= (flags[1:] & _NUMBER > 0) & (flags[:-1] & _ODD > 0)
        if width > 1:
            some_telling = some_telling[:-1] | telling[width - 1 :]
            some_free = some_free[:-1] | free[width - 1 :]
        fits = begins[: len(marks) - width + 1] & ends[width - 1 :] & some_telling & some_free
        found.append(np.flatnonzero(fits) << _WIDTH_BITS | width)
    return np.sort(np.concatenate(found)) if found else np.zeros(0, dtype=np.int64)
