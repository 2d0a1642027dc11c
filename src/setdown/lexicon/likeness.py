"""How alike heard words and a name are, and whether that is enough to say that the name was meant.

The words of the name that the caption has right are taken off both sides, and what remains must be alike by itself:
``jump squat`` is not ``pump squat`` just because both have a squat. How much is asked depends on what remains: words
that are no everyday words and no words of the trade are most likely garbled; everyday words may simply have been said;
words of the trade most likely were. And where the rest of the name is a rare word (``turkish``), little is left to
doubt. The bounds were chosen on invented classes and talk (``tests/lexicon/test_near.py``), there is no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import NamedTuple

from rapidfuzz.fuzz import ratio

from setdown.lexicon.everyday import FUNCTION_WORDS, is_everyday, load_everyday
from setdown.lexicon.normal import spell_out, take_off_plural
from setdown.lexicon.sound import join_keys

INEXACT_KEY = 5  # codes that the longer of two keys must have for the keys to differ by one
_RARE = 4  # a word in the names of at most so many movements says much about which is meant
_WHOLE_LETTERS = 0.8  # asked of all words together, unless they sound the same

CountMovements = Callable[[str], int]


class Remains(NamedTuple):
    """What is left of heard words and of a name when the words they share are taken off at both ends."""

    heard: tuple[str, ...]
    forms: tuple[str, ...]
    name: tuple[str, ...]
    shared: tuple[str, ...]
    front: int
    back: int


def take_off_shared(forms: Sequence[str], heard: Sequence[str], name: Sequence[str], spoken: Sequence[str]) -> Remains:
    """The remains of a window (its normal pieces and how they were written) and of a name (the same of it)."""
    most = min(len(forms), len(name))
    front = 0
    while front < most and forms[front] == name[front]:
        front += 1
    back = 0
    while back < most - front and forms[-1 - back] == name[-1 - back]:
        back += 1
    stop, name_stop = len(forms) - back, len(name) - back
    shared = (*forms[:front], *forms[stop:])
    return Remains(
        tuple(heard[front:stop]), tuple(forms[front:stop]), tuple(spoken[front:name_stop]), shared, front, back
    )


def rate_likeness(
    remains: Remains, whole: float, key: str, name_key: str, count_movements: CountMovements
) -> float | None:
    """How alike, 0..1, or ``None`` when not alike enough.

    ``whole`` is the likeness of all letters, 0..1; the keys are those of all the words. ``count_movements`` says how
    many movements have a piece in a name.
    """
    if not remains.heard or not remains.name or remains.forms[-1].isdigit():
        return None
    letters = ratio(join_letters(remains.heard), join_letters(remains.name)) / 100
    inside = remains.front > 0
    heard_key, rest_key = join_forms_key(remains.heard, inside), join_forms_key(remains.name, inside)
    sound = ratio(heard_key, rest_key) / 100
    rare = bool(remains.shared) and min(map(count_movements, remains.shared)) <= _RARE
    if heard_key == rest_key:
        enough = letters >= _ask_of_same_sound(remains, rare, count_movements)
    elif max(len(key), len(name_key)) < INEXACT_KEY or whole < _WHOLE_LETTERS:
        enough = False
    else:
        enough = (letters + sound) / 2 >= _ask_of_like_sound(remains, rare, count_movements)
    # Of two windows that are as alike, the one with fewer words in doubt is the better guess.
    return round(0.5 * whole + 0.25 * (letters + sound) - 0.02 * (len(remains.heard) - 1), 4) if enough else None


_NEVER = 2.0


def _ask_of_same_sound(remains: Remains, rare: bool, count_movements: CountMovements) -> float:
    forms = remains.forms
    if all(form in FUNCTION_WORDS for form in forms):
        return _NEVER
    if not remains.shared and len(forms) == 1:
        if count_movements(forms[0]) or _is_everyday_word(forms[0]) or _is_form_of(forms[0], remains.name[0]):
            return _NEVER  # left to misheard.csv: 'best' is not a mis-heard 'beast' as a rule
        return 0.9 if len(remains.name) > 1 else 0.75
    one_for_one = len(forms) == 1 and len(remains.name) == 1
    if rare and one_for_one:
        return 0.5
    if all(count_movements(form) for form in forms):
        return 0.86
    if all(is_everyday(form) for form in forms):
        return 0.65 if remains.shared else 0.86
    return 0.5 if remains.shared and len(forms) == 1 else 0.75


def _ask_of_like_sound(remains: Remains, rare: bool, count_movements: CountMovements) -> float:
    forms = remains.forms
    plain = all(is_everyday(form) or count_movements(form) for form in forms)
    if len(forms) == 1 and not remains.shared:
        # A single word must be nearly the name, and nothing else that makes sense.
        return _NEVER if plain or len(remains.name) > 1 or _is_form_of(forms[0], remains.name[0]) else 0.85
    if all(count_movements(form) for form in forms):
        return 0.92
    if plain:
        return 0.9 if len(forms) > 1 else 0.76 if rare else 0.84
    return 0.66 if rare else 0.76


def _is_everyday_word(form: str) -> bool:
    # Nearly any word can be made one who does it: 'trusters' is a mis-heard 'thrusters' all the same.
    return form in load_everyday() or (is_everyday(form) and not form.endswith("er"))


def _is_form_of(heard: str, name: str) -> bool:
    """Whether two words differ in their ending only: 'crunchy' is not a mis-heard 'crunch'."""
    short, long = sorted((heard, take_off_plural(name)), key=len)
    return long.startswith(short) and long[len(short) :] in ("y", "er", "ed", "d", "ing", "r")


def join_forms_key(forms: Iterable[str], inside: bool = False) -> str:
    """The consonant key of pieces said one after the other; ``inside`` a name an initial vowel or h does not count."""
    key = join_keys(map(spell_out, forms))
    return key[1:] if inside and key[:1] in ("A", "H") else key


def join_letters(forms: Iterable[str]) -> str:
    """The letters of the pieces without spaces, numbers spelled out."""
    return "".join(map(spell_out, forms))
