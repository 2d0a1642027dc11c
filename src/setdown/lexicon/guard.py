"""The guard of near matches: do the words around a place want a movement there?

The tagger has a better answer (it knows what structure is announced) and passes its own; this one serves callers that
look up words by themselves.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from setdown.lexicon.normal import normalise_word

Wanted = Callable[[int, int], bool]

AFTER_SETUP = 4  # a name starts at most this many words after a set-up word
BEFORE_COUNT = 3  # or a count starts at most this many words after the name

_SETUP_WORDS = """
    next into for is are now our take start starting first second third last final another do doing did then with
    through back onto go going begin by called finish have got set sets round rounds grab more some
"""
_SETUP = frozenset(form for word in _SETUP_WORDS.split() for form in normalise_word(word))


def build_guard(words: Sequence[str]) -> Wanted:
    """A ``wanted`` for these words: true shortly after a set-up word or number, or shortly before a count."""
    length = len(words)
    wanted_start = bytearray(length + 1)
    wanted_end = bytearray(length + 1)
    for index, word in enumerate(words):
        forms = normalise_word(word)
        if not forms:
            continue
        number = forms[-1].isdigit()
        if number or forms[-1] in _SETUP:
            for after in range(index + 1, min(length, index + 1 + AFTER_SETUP)):
                wanted_start[after] = 1
        if number:
            for before in range(max(0, index - BEFORE_COUNT + 1), index + 1):
                wanted_end[before] = 1
    # A name may open the transcript, or the text that a person looks up.
    if length:
        wanted_start[0] = 1

    def wanted(start: int, end: int) -> bool:
        return bool(wanted_start[start] or wanted_end[min(end, length)])

    return wanted


def want_always(start: int, end: int) -> bool:
    """A guard that lets everything through."""
    return True
