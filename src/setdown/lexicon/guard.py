"""The guard of near matches: do the words around a place want a movement there?

The tagger has a better answer (it knows what structure is announced) and passes its own; this one serves callers that
look up words by themselves.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache

from setdown.lexicon.normal import normalise_word

Wanted = Callable[[int, int], bool]

AFTER_SETUP = 4  # a name starts at most this many words after a set-up word
BEFORE_COUNT = 3  # or a count starts at most this many words after the name

_SETUP_WORDS = """
    next into for is are now our take start starting first second third last final another do doing did then with
    through back onto go going begin by called finish have got set sets round rounds grab more some
"""
_SETUP = frozenset(form for word in _SETUP_WORDS.split() for form in normalise_word(word))
_NUMBER = 2  # what a word does: a number wants a movement on both sides of it, a set-up word behind it


def build_guard(words: Sequence[str]) -> Wanted:
    """A ``wanted`` for these words: true shortly after a set-up word or number, or shortly before a count."""
    length = len(words)
    wanted_start = bytearray(length + 1 + AFTER_SETUP)
    wanted_end = bytearray(length + 1)
    kinds = {word: kind for word in set(words) if (kind := _tell_kind(word))}
    for index, word in enumerate(words):
        if word in kinds:
            wanted_start[index + 1 : index + 1 + AFTER_SETUP] = b"\x01" * AFTER_SETUP
            if kinds[word] == _NUMBER:
                first = max(0, index - BEFORE_COUNT + 1)
                wanted_end[first : index + 1] = b"\x01" * (index + 1 - first)
    # A name may open the transcript, or the text that a person looks up.
    wanted_start[0] = 1

    def wanted(start: int, end: int) -> bool:
        return wanted_start[start] + wanted_end[end] > 0

    return wanted


@lru_cache(maxsize=1 << 14)
def _tell_kind(word: str) -> int:
    forms = normalise_word(word)
    if not forms:
        return 0
    return _NUMBER if forms[-1].isdigit() else int(forms[-1] in _SETUP)


def want_always(start: int, end: int) -> bool:
    """A guard that lets everything through."""
    return True
