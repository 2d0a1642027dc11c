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

from rapidfuzz.fuzz import ratio

from setdown.lexicon.everyday import FUNCTION_WORDS, is_everyday
from setdown.lexicon.guard import Wanted
from setdown.lexicon.names import ListedName
from setdown.lexicon.normal import spell_out
from setdown.lexicon.sound import Key, join_keys, sound_key

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


@dataclass(frozen=True, slots=True)
class _Target:
    name: ListedName
    letters: str
    key: str


class NearIndex:
    """Names by consonant key, the key itself and with one code left out."""

    def __init__(self, names: Iterable[ListedName]) -> None:
        self._buckets: dict[str, list[_Target]] = {}
        self._movements_of: dict[str, set[str]] = defaultdict(set)
        self._word: dict[str, tuple[Key, bool, bool]] = {}
        place = self._buckets.setdefault
        for name in names:
            for form in name.forms:
                self._movements_of[form].add(name.movement)
            if name.weak or not _is_namelike(name):
                continue
            letters, key = join_letters(name.forms), join_forms_key(name.forms)
            if len(letters) >= _SHORTEST_NAME and len(key) >= _SHORTEST_KEY:
                target = _Target(name, letters, key)
                for probe in list_probes(key):
                    place(probe, []).append(target)

    def find(self, forms: Sequence[str], taken: Sequence[bool], wanted: Wanted) -> list[NearHit]:
        """The near matches in the pieces of a class; some overlap. ``taken``: pieces that exact hits cover.

        ``wanted`` is asked with piece positions.
        """
        hits: list[NearHit] = []
        buckets = self._buckets
        marks = [self._mark(form) for form in forms]
        size = len(forms)
        for start, (head, may_end, telling) in enumerate(marks):
            if not may_end:
                continue
            key, some_telling, free = head.head, False, False
            for end in range(start + 1, min(size, start + LONGEST_WINDOW) + 1):
                word_key, may_end, telling = marks[end - 1]
                body = word_key.body
                key += body[1:] if body and key[-1:] == body[0] else body
                some_telling = some_telling or telling
                free = free or not taken[end - 1]
                if not (may_end and some_telling and free) or len(key) < _SHORTEST_KEY or not wanted(start, end):
                    continue
                found = [buckets[probe] for probe in list_probes(key) if probe in buckets]
                if found:
                    best = self._choose(forms, taken, start, end, key, found)
                    if best is not None:
                        hits.append(best)
        return hits

    def _mark(self, form: str) -> tuple[Key, bool, bool]:
        """The key of a piece; whether a window may begin and end with it; whether it makes a window worth a look."""
        known = self._word.get(form)
        if known is None:
            bare = form in FUNCTION_WORDS or form.isdigit()
            telling = not bare and (form in self._movements_of or not is_everyday(form))
            known = self._word[form] = (sound_key(spell_out(form)), not bare, telling)
        return known

    def _choose(
        self,
        forms: Sequence[str],
        taken: Sequence[bool],
        start: int,
        end: int,
        key: str,
        found: Iterable[Sequence[_Target]],
    ) -> NearHit | None:
        window = tuple(forms[start:end])
        letters = join_letters(window)
        best: NearHit | None = None
        seen: set[str] = set()
        for targets in found:
            for target in targets:
                if target.letters in seen:
                    continue
                seen.add(target.letters)
                # Cheap test first: whole letters. Most pairs that meet by key end here.
                whole = ratio(letters, target.letters, score_cutoff=66.0) / 100
                if not whole:
                    continue
                score = self._compare(window, target, whole, key, taken[start:end])
                if score is not None and (best is None or (score, target.name.name) > (best.score, best.name.name)):
                    best = NearHit(start, end, target.name, key == target.key, score)
        return best

    def _compare(
        self, window: tuple[str, ...], target: _Target, whole: float, key: str, taken: Sequence[bool]
    ) -> float | None:
        """How alike, 0..1, or ``None`` when not alike enough to be the name."""
        name = target.name.forms
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
        elif len(key) < _INEXACT_KEY or len(target.key) < _INEXACT_KEY or whole < 0.8:
            enough = False
        elif self._are_plain(rest):
            enough = len(rest) + len(shared) > 1 and (by_letters + by_sound) / 2 >= 0.9
        elif rare:
            enough = by_letters >= 0.65 and by_sound >= 0.65
        else:
            enough = (len(window) > 1 or len(name) == 1) and (by_letters + by_sound) / 2 >= 0.76
        return round(0.5 * whole + 0.25 * (by_letters + by_sound), 4) if enough else None

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
