"""A mis-hearing put right, and what all ways of finding one ask of the words around it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from setdown.lexicon.everyday import is_everyday
from setdown.lexicon.normal import normalise_word
from setdown.publish.trade_words import NUMBER_WORDS, TradeWords, make_plural


@dataclass(frozen=True, slots=True)
class Repair:
    """Words ``[start, end)`` of the class were written ``was`` and are most likely ``now``; ``sureness`` 0 to 1."""

    start: int
    end: int
    was: str
    now: str
    why: str
    sureness: float


def trim_same(words: Sequence[str], start: int, end: int, said: list[str], why: str, sureness: float) -> Repair:
    """The repair without the words at either end that are right already, in the number in which they were said."""
    heard_last, said_last = words[end - 1], said[-1]
    if heard_last.endswith("s") and not heard_last.endswith("ss") and not said_last.endswith("s"):
        said = [*said[:-1], make_plural(said_last)]
    said = [part for word in said for part in word.split()]
    while end - start > 1 and len(said) > 1 and is_same(words[start], said[0]):
        start, said = start + 1, said[1:]
    while end - start > 1 and len(said) > 1 and is_same(words[end - 1], said[-1]):
        end, said = end - 1, said[:-1]
    was, now = " ".join(words[start:end]), " ".join(said)
    if is_same(was.replace(" ", ""), now.replace(" ", "")):
        now = was  # another spelling, not another word
    return Repair(start, end, was, now, why, sureness)


def is_doubtful(
    words: Sequence[str], start: int, end: int, said: list[str], trade: TradeWords, weak: frozenset[str]
) -> bool:
    """'squad' is a word too: where nothing beside it is of the trade, nor a number, it is left as it is."""
    before, after = word_at(words, start - 1), word_at(words, end)
    if " ".join(words[start:end]) not in weak and not (end - start == 1 and is_plain(words[start])):
        return False
    counted = any(word in NUMBER_WORDS or word.isdigit() for word in (before, after))
    return not counted and not trade.rate(before, said, after)


def is_plain(word: str) -> bool:
    return all(is_everyday(piece) for piece in normalise_word(word))


def is_same(heard: str, said: str) -> bool:
    return normalise_word(heard) == normalise_word(said)


def word_at(words: Sequence[str], place: int) -> str:
    return words[place] if 0 <= place < len(words) else ""
