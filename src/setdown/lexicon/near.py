"""Near matches: names that captions wrote with other words of nearly the same sound or letters.

Comparing every window of one to four words with every name would be slow, so windows are first looked up by consonant
key in an index that also holds every key with one code left out: two keys that differ by one code, left out, put in or
exchanged, meet there. The few pairs that meet are then compared (see ``likeness``).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from rapidfuzz.fuzz import ratio

from setdown.lexicon.everyday import FUNCTION_WORDS, load_everyday
from setdown.lexicon.guard import Wanted
from setdown.lexicon.likeness import INEXACT_KEY, join_forms_key, join_letters, rate_likeness, take_off_shared
from setdown.lexicon.names import ListedName
from setdown.lexicon.normal import spell_out
from setdown.lexicon.sound import sound_key

LONGEST_WINDOW = 4  # words
_SHORTEST_NAME = 5  # letters
_SHORTEST_KEY = 3  # codes; below that too many words share a key
_LONGEST_NAME = 4  # words
_MOST_KEPT = 1 << 16  # keys whose names are remembered
_LEAST_LETTERS = 70.0  # per cent alike over all words; less is not worth a closer look
_IN_SENTENCES = """
    a an the and or with from for at of on in into by through your you it them that my our this these those i is are one
"""
_SENTENCE_WORDS = frozenset(_IN_SENTENCES.split())
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
    """A word as it was written: its key, and the key of its singular where that is another; what it may do.

    ``may_begin``, ``may_end``: a window may begin or end with it; ``telling``: it makes a window worth a look; ``odd``:
    it is neither an everyday word nor a word of a name; ``number``: a number that names have ('warrior two').
    """

    head: str
    body: str
    singular: str
    may_begin: bool
    may_end: bool
    telling: bool
    odd: bool
    number: bool


@dataclass(frozen=True, slots=True)
class HeardWords:
    """The words of a class as understood so far.

    Normal pieces, how they were written, and the movement that each is known to name (empty: none).
    """

    forms: Sequence[str]
    written: Sequence[str]
    taken: Sequence[str]


class NearIndex:
    """Names by consonant key, the key itself and with one code left out."""

    def __init__(self, names: Iterable[ListedName]) -> None:
        self._names: list[ListedName] = []
        self._spoken: list[tuple[str, ...]] = []
        self._keys: list[str] = []
        self._letters: dict[int, str] = {}  # filled as names are met; most never are
        # Nearly every bucket holds one name; a bare number is a third of the cost of a list with one number in it.
        self._buckets: dict[str, int | list[int]] = {}
        self._movements_of: dict[str, set[str]] = defaultdict(set)
        self._marks: dict[str, _Mark] = {}
        self._met: dict[str, tuple[int, ...]] = {}
        self._by_end: dict[str, list[ListedName]] = defaultdict(list)
        for name in names:
            for form in name.forms:
                self._movements_of[form].add(name.movement)
            if name.weak or not _is_namelike(name) or sum(map(len, name.forms)) < _SHORTEST_NAME:
                continue
            spoken = _write_as_spoken(name)
            self._place(name, spoken)
            if len(spoken) == 1 and not spoken[0].endswith("s"):
                self._place(name, (spoken[0] + "s",))  # 'bur piece' is the plural of a name

    def find(self, heard: HeardWords, wanted: Wanted) -> list[NearHit]:
        """The near matches in the words of a class; some overlap. ``wanted`` is asked with piece positions."""
        hits: list[NearHit] = []
        known_numbers, taken = self._met.get, heard.taken
        known = self._marks.get
        marks = [known(w) or self._mark(f, w) for f, w in zip(heard.forms, heard.written, strict=True)]
        size = len(marks)
        for start, first in enumerate(marks):
            if not first.may_begin:
                continue
            key, some_telling, free = first.head, False, False
            for end in range(start + 1, min(size, start + LONGEST_WINDOW) + 1):
                _, body, singular, _, may_end, telling, _, number = marks[end - 1]
                before = key
                if number and end - start > 1 and marks[end - 2].odd:
                    may_end = True  # 'virabadrasana two', but not 'squeeze two'
                if body:
                    key += body[1:] if key[-1:] == body[0] else body
                some_telling = some_telling or telling
                free = free or not taken[end - 1]
                if not (may_end and some_telling and free and len(key) >= _SHORTEST_KEY):
                    continue
                shorter = key if singular == body else _put_on(before, singular)
                numbers = known_numbers(key)
                if numbers is None:
                    numbers = self._meet(key)
                fewer = numbers if shorter is key else known_numbers(shorter)
                if fewer is None:
                    fewer = self._meet(shorter)
                if not (numbers or fewer) or not wanted(start, end):
                    continue
                if numbers:
                    self._choose(heard, start, end, key, False, numbers, hits)
                if fewer and shorter is not key:
                    self._choose(heard, start, end, shorter, True, fewer, hits)
        return hits

    def _place(self, name: ListedName, spoken: tuple[str, ...]) -> None:
        key = join_forms_key(spoken)
        if len(key) < _SHORTEST_KEY:
            return
        number = len(self._names)
        self._names.append(name)
        self._spoken.append(spoken)
        self._keys.append(key)
        buckets = self._buckets
        for probe in list_probes(key):
            there = buckets.get(probe)
            if there is None:
                buckets[probe] = number
            elif isinstance(there, int):
                buckets[probe] = [there, number]
            else:
                there.append(number)

    def _meet(self, key: str) -> tuple[int, ...]:
        """The numbers of the names whose key is this one or differs from it by one code; kept, for words recur."""
        buckets = self._buckets
        met: set[int] = set()
        for probe in list_probes(key):
            there = buckets.get(probe)
            if isinstance(there, int):
                met.add(there)
            elif there is not None:
                met.update(there)
        if len(self._met) >= _MOST_KEPT:
            self._met.clear()
        numbers = self._met[key] = tuple(sorted(met))
        return numbers

    def _mark(self, form: str, written: str) -> _Mark:
        bare = form in FUNCTION_WORDS or form.isdigit()
        odd = not bare and form not in self._movements_of and form not in load_everyday()
        telling = odd or (not bare and form in self._movements_of)
        number = form.isdigit() and form in self._movements_of
        head, body = sound_key(spell_out(written))
        singular = sound_key(spell_out(form)).body
        mark = _Mark(head, body, singular, not bare or form in _MAY_BEGIN, not bare, telling, odd, number)
        self._marks[written] = mark
        return mark

    def _choose(
        self,
        heard: HeardWords,
        start: int,
        end: int,
        key: str,
        as_singular: bool,
        numbers: tuple[int, ...],
        hits: list[NearHit],
    ) -> None:
        """Adds the best of the names that one window meets, if any is alike enough."""
        forms, written = heard.forms[start:end], heard.written[start:end]
        if as_singular:
            written = [*written[:-1], forms[-1]]
        letters = join_letters(written)
        known = self._letters
        best: tuple[float, int] | None = None
        for number in numbers:
            # Cheap test first: whole letters. Most pairs that meet by key end here.
            whole = ratio(letters, known.get(number) or self._write_out(number), score_cutoff=_LEAST_LETTERS) / 100
            if not whole:
                continue
            name = self._names[number]
            remains = take_off_shared(forms, written, name.forms, self._spoken[number])
            in_doubt = heard.taken[start + remains.front : end - remains.back]
            if any(movement and movement != name.movement for movement in in_doubt):
                continue
            score = rate_likeness(remains, whole, key, self._keys[number], self._count_movements)
            if score is not None and (best is None or (score, -number) > best):
                best = score, -number
        if best is not None:
            score, number = best[0], -best[1]
            sounds = key == self._keys[number]
            name = self._names[number] if sounds else self._find_closer(forms, written, self._names[number])
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
        for rival in self._list_by_end().get(back[-1] if back else front[0], ()):
            rest = rival.forms[len(front) : len(rival.forms) - len(back)]
            if rest and rival.forms == (*front, *rest, *back):
                likeness = ratio(heard, join_letters(rest))
                if likeness > closest:
                    best, closest = rival, likeness
        return best

    def _list_by_end(self) -> dict[str, list[ListedName]]:
        """The names by their first and by their last piece; made when the first near match wants it."""
        if not self._by_end:
            for name in self._names:
                for form in {name.forms[0], name.forms[-1]}:
                    self._by_end[form].append(name)
        return self._by_end

    def _write_out(self, number: int) -> str:
        letters = self._letters[number] = join_letters(self._spoken[number])
        return letters

    def _count_movements(self, form: str) -> int:
        return len(self._movements_of.get(form, ()))


def _is_namelike(name: ListedName) -> bool:
    """Whether a name is short and made of telling words; half a sentence ('squat with a band') is left out."""
    return name.usual or (len(name.forms) <= _LONGEST_NAME and _SENTENCE_WORDS.isdisjoint(name.forms))


def _write_as_spoken(name: ListedName) -> tuple[str, ...]:
    """The pieces of a name with the plural endings that stand within it ('arms circle'); the last one is singular."""
    words = name.name.replace("-", " ").split()
    if len(words) != len(name.forms) or not all(map(str.isalpha, words)):
        return name.forms
    return (*(f if f.isdigit() else w for f, w in zip(name.forms[:-1], words, strict=False)), name.forms[-1])


def _put_on(key: str, body: str) -> str:
    return key + body[1:] if key[-1:] == body[:1] else key + body


def list_probes(key: str) -> tuple[str, ...]:
    """The key and, when it is long enough to differ by one code, every key with one code left out, each once."""
    if len(key) < INEXACT_KEY:
        return (key,)
    return (key, *(key[:at] + key[at + 1 :] for at in range(len(key)) if at == 0 or key[at] != key[at - 1]))
