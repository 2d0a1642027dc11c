"""Near matches: names that captions wrote with other words of nearly the same sound or letters.

Comparing every window of one to four words with every name would be slow, so windows are first looked up by consonant
key in an index that also holds every key with one code left out: two keys that differ by one code, left out, put in or
exchanged, meet there. The few pairs that meet are then compared by letters with rapidfuzz.

Two things keep ordinary talk out. The words of a name that the caption has right are taken off both sides, and what
remains must be alike by itself (``jump squat`` is not ``pump squat`` just because both have a squat). And where the
rest of the name is a common word, or the heard words are everyday words, more likeness is asked for.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from rapidfuzz.fuzz import ratio

from setdown.lexicon.everyday import FUNCTION_WORDS, is_everyday
from setdown.lexicon.guard import Wanted
from setdown.lexicon.names import ListedName
from setdown.lexicon.normal import spell_out
from setdown.lexicon.sound import join_keys, sound_key

LONGEST_WINDOW = 4  # words
_SHORTEST_NAME = 5  # letters
_SHORTEST_KEY = 3  # codes; below that too many words share a key
_INEXACT_KEY = 5  # codes from which a key may differ by one
_LONGEST_NAME = 4  # words
_SENTENCE_WORDS = frozenset("""
    a an the and or with from for at of on in into by through your you it them that my our this these those i is are one
""".split())
_NEVER = 2.0
_RARE = 4  # a word in the names of at most so many movements says much about which is meant


@dataclass(frozen=True, slots=True)
class NearHit:
    """Pieces ``[start, end)`` are nearly ``name``."""

    start: int
    end: int
    name: ListedName
    sounds: bool
    score: float


class _Mark(NamedTuple):
    """A piece: its key; ``bare``: no window begins or ends with it; ``telling``: it makes a window worth a look."""

    head: str
    body: str
    bare: bool
    telling: bool


class NearIndex:
    """Names by consonant key, the key itself and with one code left out."""

    def __init__(self, names: Iterable[ListedName]) -> None:
        self._names: list[ListedName] = []
        self._keys: list[str] = []
        self._letters: dict[int, str] = {}  # filled as names are met; most never are
        # Nearly every bucket holds one name; a bare number is a third of the cost of a list with one number in it.
        self._buckets: dict[str, int | list[int]] = {}
        self._movements_of: dict[str, set[str]] = defaultdict(set)
        self._marks: dict[str, _Mark] = {}
        for name in names:
            for form in name.forms:
                self._movements_of[form].add(name.movement)
            if not name.weak and _is_namelike(name):
                key = join_forms_key(name.forms)
                if len(key) >= _SHORTEST_KEY and sum(map(len, name.forms)) >= _SHORTEST_NAME:
                    self._place(name, key)

    def _place(self, name: ListedName, key: str) -> None:
        number = len(self._names)
        self._names.append(name)
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

    def find(self, forms: Sequence[str], taken: Sequence[bool], wanted: Wanted) -> list[NearHit]:
        """The near matches in the pieces of a class; some overlap. ``taken``: pieces that exact hits cover.

        ``wanted`` is asked with piece positions.
        """
        hits: list[NearHit] = []
        buckets = self._buckets
        marks = [self._marks.get(form) or self._mark(form) for form in forms]
        size = len(forms)
        for start, mark in enumerate(marks):
            if mark.bare:
                continue
            key, some_telling, free = mark.head, False, False
            for end in range(start + 1, min(size, start + LONGEST_WINDOW) + 1):
                mark = marks[end - 1]
                body = mark.body
                key += body[1:] if body and key[-1:] == body[0] else body
                some_telling = some_telling or mark.telling
                free = free or not taken[end - 1]
                if mark.bare or not (some_telling and free) or len(key) < _SHORTEST_KEY or not wanted(start, end):
                    continue
                found = [buckets[probe] for probe in list_probes(key) if probe in buckets]
                if found:
                    best = self._choose(forms, taken, start, end, key, found)
                    if best is not None:
                        hits.append(best)
        return hits

    def _mark(self, form: str) -> _Mark:
        bare = form in FUNCTION_WORDS or form.isdigit()
        telling = not bare and (form in self._movements_of or not is_everyday(form))
        known = self._marks[form] = _Mark(*sound_key(spell_out(form)), bare, telling)
        return known

    def _write_out(self, number: int) -> str:
        letters = self._letters[number] = join_letters(self._names[number].forms)
        return letters

    def _choose(
        self,
        forms: Sequence[str],
        taken: Sequence[bool],
        start: int,
        end: int,
        key: str,
        found: Iterable[int | list[int]],
    ) -> NearHit | None:
        window = tuple(forms[start:end])
        letters = join_letters(window)
        best: NearHit | None = None
        for number in sorted({n for there in found for n in ((there,) if isinstance(there, int) else there)}):
            # Cheap test first: whole letters. Most pairs that meet by key end here.
            whole = ratio(letters, self._letters.get(number) or self._write_out(number), score_cutoff=66.0) / 100
            if not whole:
                continue
            name, name_key = self._names[number], self._keys[number]
            score = self._compare(window, name.forms, whole, key, name_key, taken[start:end])
            if score is not None and (best is None or score > best.score):
                best = NearHit(start, end, name, key == name_key, score)
        return best

    def _compare(
        self,
        window: tuple[str, ...],
        name: tuple[str, ...],
        whole: float,
        key: str,
        whole_key: str,
        taken: Sequence[bool],
    ) -> float | None:
        """How alike, 0..1, or ``None`` when not alike enough to be the name."""
        front, back = count_shared(window, name)
        rest, rest_of_name = window[front : len(window) - back], name[front : len(name) - back]
        if not rest or not rest_of_name or any(taken[front : len(window) - back]):
            return None
        by_letters = ratio(join_letters(rest), join_letters(rest_of_name)) / 100
        rest_key, name_key = join_forms_key(rest), join_forms_key(rest_of_name)
        by_sound = ratio(rest_key, name_key) / 100
        shared = window[:front] + window[len(window) - back :]
        rare = bool(shared) and min(len(self._movements_of.get(form, ())) for form in shared) <= _RARE
        if rest_key == name_key:
            enough = by_letters >= self._letters_asked(rest, rest_of_name, bool(shared), rare)
        elif len(key) < _INEXACT_KEY or len(whole_key) < _INEXACT_KEY or whole < 0.8:
            enough = False
        elif self._are_plain(rest):
            enough = len(rest) + len(shared) > 1 and (by_letters + by_sound) / 2 >= 0.9
        elif rare:
            enough = by_letters >= 0.65 and by_sound >= 0.65
        else:
            enough = (len(window) > 1 or len(name) == 1) and (by_letters + by_sound) / 2 >= 0.76
        # Of two windows that are as alike, the one with fewer words in doubt is the better guess.
        return round(0.5 * whole + 0.25 * (by_letters + by_sound) - 0.01 * (len(rest) - 1), 4) if enough else None

    def _letters_asked(self, rest: Sequence[str], rest_of_name: Sequence[str], shared: bool, rare: bool) -> float:
        """How alike by letters words must be that sound alike. Chosen on invented classes and talk; no source."""
        if not shared and len(rest) == 1:
            if rest[0] in self._movements_of or is_everyday(rest[0]) or _is_form_of(rest[0], rest_of_name[0]):
                return _NEVER
            return 0.9 if len(rest_of_name) > 1 else 0.75
        if all(form in self._movements_of for form in rest):
            return 0.86  # words of the trade were most likely said as they stand
        if all(is_everyday(form) for form in rest):
            return 0.5 if rare else 0.75 if shared else 0.86
        return 0.5 if shared and len(rest) == 1 else 0.75

    def _are_plain(self, forms: Iterable[str]) -> bool:
        return all(form in self._movements_of or is_everyday(form) for form in forms)


def _is_namelike(name: ListedName) -> bool:
    """Whether a name is short and made of telling words; half a sentence ('squat with a band') is left out."""
    return name.usual or (len(name.forms) <= _LONGEST_NAME and _SENTENCE_WORDS.isdisjoint(name.forms))


def _is_form_of(heard: str, name: str) -> bool:
    """Whether two words differ in their ending only: 'crunchy' is not a mis-heard 'crunch'."""
    short, long = sorted((heard, name), key=len)
    return long.startswith(short) and long[len(short) :] in ("y", "er", "ed", "d", "ing", "r")


@lru_cache(maxsize=1 << 15)
def list_probes(key: str) -> tuple[str, ...]:
    """The key and, when it is long enough to differ by one code, every key with one code left out, each once."""
    if len(key) < _INEXACT_KEY:
        return (key,)
    return (key, *(key[:at] + key[at + 1 :] for at in range(len(key)) if at == 0 or key[at] != key[at - 1]))


def join_forms_key(forms: Iterable[str]) -> str:
    """The consonant key of pieces said one after the other."""
    return join_keys(map(spell_out, forms))


def join_letters(forms: Iterable[str]) -> str:
    """The letters of the pieces without spaces, numbers spelled out."""
    return "".join(map(spell_out, forms))


def count_shared(window: Sequence[str], name: Sequence[str]) -> tuple[int, int]:
    """How many pieces at the front and at the back are the same in both."""
    most = min(len(window), len(name))
    front = 0
    while front < most and window[front] == name[front]:
        front += 1
    back = 0
    while back < most - front and window[-1 - back] == name[-1 - back]:
        back += 1
    return front, back
