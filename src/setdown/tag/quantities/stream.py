"""The words of a class as the quantity rules see them: one token per word, one token per number.

A number is a single token however many words it took, and its token carries the symbols that patterns use for it:
``#`` a plain number, ``#s`` a plural, ``#th`` an ordinal, ``#f`` a fraction, ``#y`` a year, ``#c`` a clock reading;
and beside ``#``: ``#~`` a vague one, ``#-`` a range, ``#k`` a member of a counting run, ``#1`` exactly one, ``#oh`` one
said with 'oh'. A number of one word can also be matched by that word.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from setdown.tag.number_words import Number, Spelling

_FORM_SYMBOLS: dict[str, tuple[str, ...]] = {
    "cardinal": ("#",),
    "range": ("#", "#-"),
    "vague": ("#", "#~"),
    "count_up": ("#", "#k"),
    "count_down": ("#", "#k"),
    "plural": ("#s",),
    "ordinal": ("#th",),
    "fraction": ("#f",),
    "year": ("#y",),
    "clock": ("#c",),
}
NO_SYMBOLS: tuple[str, ...] = ()
#: A word that no pattern names: it can still stand where a pattern leaves a word open.
OPEN_WORD: tuple[str, ...] = ("_",)


@dataclass(frozen=True, slots=True)
class Stream:
    """Parallel lists over tokens.

    ``text``: the bare word (of a number: its last word); ``symbols``: what patterns can match; ``first`` and ``last``:
    word indexes ``[first, last)``; ``number``: index into ``numbers`` or -1; ``stop``: punctuation after the token;
    ``gap``: silence before the token in ms, 0 when unknown.
    """

    text: list[str]
    symbols: list[tuple[str, ...]]
    first: list[int]
    last: list[int]
    number: list[int]
    stop: list[str]
    gap: list[int]
    numbers: Sequence[Number]
    positions: list[int]  # token of each number
    said: set[str]  # every word of the class

    def __len__(self) -> int:
        return len(self.text)

    def word(self, token: int) -> str:
        """The bare word of a token, empty beyond either end."""
        return self.text[token] if 0 <= token < len(self.text) else ""

    def number_at(self, token: int) -> Number | None:
        """The number that a token is, if it is one."""
        if not 0 <= token < len(self.number) or self.number[token] < 0:
            return None
        return self.numbers[self.number[token]]

    def breaks_before(self, token: int) -> bool:
        """Whether punctuation or a silence sets this token off from the one before it."""
        return token <= 0 or bool(self.stop[token - 1]) or self.gap[token] >= CLAUSE_GAP

    def breaks_after(self, token: int) -> bool:
        """Whether punctuation or a silence sets the next token off from this one."""
        return token + 1 >= len(self.text) or self.breaks_before(token + 1)


#: A silence that separates clauses, in ms. Common practice in segmenting speech, no source.
CLAUSE_GAP = 600


def build_stream(
    spellings: Sequence[Spelling],
    gaps_ms: Sequence[int],
    numbers: Sequence[Number],
    lexicon: Mapping[str, tuple[str, ...]],
) -> Stream:
    """Lay the words out as tokens. ``lexicon`` gives the symbols of each word that any pattern mentions.

    A unit written on a number ('20kg', '$14') and the sign between two numbers of one word ('3x10') become tokens of
    their own behind the number, over the same word.
    """
    out = Stream([], [], [], [], [], [], [], numbers, [], set())
    text, symbols, first, last = out.text, out.symbols, out.first, out.last
    number, stop, gap = out.number, out.stop, out.gap
    known = lexicon.get
    size, k, i = len(numbers), 0, 0
    silences = gaps_ms if len(gaps_ms) >= len(spellings) else [*gaps_ms, *[0] * (len(spellings) - len(gaps_ms))]
    while i < len(spellings):
        until = numbers[k].start if k < size else len(spellings)
        if i < until:
            words = [s.bare for s in spellings[i:until]]
            if "" in words:  # a dash or a music sign by itself: no token
                until = i + words.index("")
                del words[until - i :]
            text += words
            symbols += [known(word, OPEN_WORD) for word in words]
            first += range(i, until)
            last += range(i + 1, until + 1)
            number += [-1] * len(words)
            stop += [s.stop for s in spellings[i:until]]
            gap += silences[i:until]
            i = until
            if i < len(spellings) and not spellings[i].bare:
                if stop:
                    stop[-1] = stop[-1] or spellings[i].stop
                i += 1
            continue
        end = numbers[k].end
        while k < size and numbers[k].start == i:
            _push_number(out, k, spellings, lexicon, 0 if text and first[-1] == i else silences[i])
            k += 1
        stop[-1] = spellings[end - 1].stop
        i = end
    out.said.update(text)
    return out


def _push_number(
    out: Stream, k: int, spellings: Sequence[Spelling], lexicon: Mapping[str, tuple[str, ...]], silence: int
) -> None:
    here = out.numbers[k]
    if here.joint and out.first and out.first[-1] == here.start:
        _push(out, here, here.joint, lexicon.get(here.joint, NO_SYMBOLS), -1, 0)
    word, first = spellings[here.end - 1].bare, spellings[here.start].bare
    symbols = _FORM_SYMBOLS[here.form]
    if here.value == 1 and "#" in symbols:
        symbols = (*symbols, "#1")
    if first == "oh":
        symbols = (*symbols, "#oh")
    if here.end - here.start == 1 or first == "a":  # a longer number is no literal: 'one and a quarter' is no quarter
        literal = lexicon.get(word)
        if literal is not None:
            symbols = (*symbols, *(s for s in literal if s != "_"))
    out.positions.append(len(out.text))
    _push(out, here, word, symbols, k, silence)
    if here.unit and here.unit != "'s" and (here.form != "plural" or here.unit != "s"):
        unit = _WRITTEN_UNITS.get(here.unit, here.unit)
        _push(out, here, unit, lexicon.get(unit, NO_SYMBOLS), -1, 0)


#: What is written on a number, as it would be said.
_WRITTEN_UNITS = {"%": "percent", "$": "dollars", "£": "pounds-sterling", "€": "euros", "kgs": "kg", "#": "pounds"}


def _push(out: Stream, here: Number, text: str, symbols: tuple[str, ...], number: int, silence: int) -> None:
    out.text.append(text)
    out.symbols.append(symbols)
    out.first.append(here.start)
    out.last.append(here.end)
    out.number.append(number)
    out.stop.append("")
    out.gap.append(silence)
