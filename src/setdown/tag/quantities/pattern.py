"""A small pattern language over tokens, and what rules make of a match.

A pattern is a row of elements: a literal word; ``@name``, a word class; ``#`` and its relatives, a number (see
``stream``); ``_``, any one word that is not a number and not a function word; ``(a|b c)``, alternatives; ``[a b]``,
optional. ``{`` and ``}`` enclose the words that the mention covers when the pattern also needs words beside them:
``that's {#}``. ``grammar`` finds where the patterns of all rules fit.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal, TypeAlias

from setdown.tag.number_words import Number
from setdown.tag.quantities.stream import Stream


@dataclass(slots=True)
class Draft:
    """One mention a rule proposes, over the tokens ``[start, end)``; -1 stands for the match's own end or start.

    A negative ``score`` stands for the rule's own.
    """

    kind: str
    value: Any
    start: int = -1
    end: int = -1
    score: float = -1.0


@dataclass(slots=True)
class Match:
    """Where a rule's pattern fits: tokens ``[start, end)`` are covered, ``[outer_start, outer_end)`` were needed.

    ``numbers`` are the covered numbers in order, ``tokens`` their tokens. A rule may widen ``start`` and ``end``.
    """

    stream: Stream
    rule: Rule
    start: int
    end: int
    outer_start: int
    outer_end: int
    numbers: list[Number] = field(default_factory=list)
    tokens: list[int] = field(default_factory=list)

    def word(self, token: int) -> str:
        """The word of a token, empty beyond either end of the class."""
        return self.stream.word(token)


Build = Callable[[Match], "Draft | Sequence[Draft] | None"]
Within = Literal["word", "clause", "talk"]


@dataclass(frozen=True, slots=True)
class Rule:
    """``name`` reads like the phrase; ``build`` turns a match into mentions, or ``None`` to decline it.

    ``score``: how often such words mean this, 0..1. ``within``: what the phrase may not cross: ``word`` any
    punctuation, ``clause`` the end of a sentence, ``talk`` only a long silence.
    """

    name: str
    patterns: tuple[str, ...]
    build: Build
    score: float
    within: Within = "clause"


_ELEMENT = re.compile(r"[()\[\]|{}]|[^\s()\[\]|{}]+")
#: One way to say a pattern or a part of it: elements and braces, and lists of ways where they part.
Way: TypeAlias = "list[str | list[Way]]"


def parse_pattern(pattern: str) -> list[Way]:
    """The ways that a pattern stands for. An optional part is a choice that has the empty way, too.

    Raises:
        ValueError: brackets do not match.
    """
    tokens = _ELEMENT.findall(pattern)
    ways, position = _parse_ways(tokens, 0, "")
    if position != len(tokens):
        raise ValueError(f"brackets do not match in pattern {pattern!r}")
    return ways


def _parse_ways(tokens: list[str], i: int, closing: str) -> tuple[list[Way], int]:
    ways: list[Way] = [[]]
    while i < len(tokens):
        token = tokens[i]
        if token == closing:
            return ways, i + 1
        if token in ")]":
            break
        i += 1
        if token == "|":
            ways.append([])
        elif token in "([":
            inner, i = _parse_ways(tokens, i, ")" if token == "(" else "]")
            if token == "[":
                inner.append([])
            ways[-1].append(inner)
        else:
            ways[-1].append(token)
    if closing:
        raise ValueError(f"missing {closing!r}")
    return ways, i
