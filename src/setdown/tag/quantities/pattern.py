"""A small pattern language over tokens, and the one-pass matcher for all patterns at once.

A pattern is a row of elements: a literal word; ``@name``, a word class; ``#`` and its relatives, a number (see
``stream``); ``_``, any one word that is not a number and not a function word; ``(a|b c)``, alternatives; ``[a b]``,
optional. ``{`` and ``}`` enclose the words that the mention covers when the pattern also needs words beside them:
``that's {#}``. Patterns are spelled out and put into one trie; the cost of a class is one walk per token, nearly
always ended at its first step.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from setdown.tag.number_words import Number, word_set
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
Sequences = list[tuple[str, ...]]


def expand_pattern(pattern: str) -> Sequences:
    """All rows of elements that a pattern stands for; the core braces stay in as elements.

    Raises:
        ValueError: brackets do not match.
    """
    tokens = _ELEMENT.findall(pattern)
    rows, position = _alternatives(tokens, 0, "")
    if position != len(tokens):
        raise ValueError(f"brackets do not match in pattern {pattern!r}")
    return rows


def _alternatives(tokens: list[str], i: int, closing: str) -> tuple[Sequences, int]:
    rows: Sequences = []
    current: Sequences = [()]
    while i < len(tokens):
        token = tokens[i]
        if token == closing:
            return rows + current, i + 1
        if token in ")]":
            break
        i += 1
        if token == "|":
            rows, current = rows + current, [()]
        elif token in "([":
            inner, i = _alternatives(tokens, i, ")" if token == "(" else "]")
            if token == "[":
                inner = [*inner, ()]
            current = [left + right for left in current for right in inner]
        else:
            current = [(*left, token) for left in current]
    if closing:
        raise ValueError(f"missing {closing!r}")
    return rows + current, i


@dataclass(frozen=True, slots=True)
class _Leaf:
    rule: Rule
    before: int  # tokens matched before the core
    after: int  # tokens matched behind it


Node = dict[str, Any]
_LEAVES = ""  # the key of a node's leaves, or of the way on to the right; no symbol is empty
#: Literal words that are numbers: rarer than the words around them, so a search starts there.
_NUMBER_WORDS = frozenset({"one", "ones", "1", "ten", "half"})


#: Words too frequent to start a search at.
_COMMON = word_set(
    "the a an your you i we it it's that that's this in on for to of and just go there here up down my our with at is "
    "are be so or if not no as all they then now let's i'm you're we're i'll we'll you'll get got do have take one's"
)


def _anchor_of(elements: list[str], classes: Mapping[str, frozenset[str]]) -> int:
    """Where the search for a row of elements starts: at its first number, else at its first word that is not common."""
    for k, element in enumerate(elements):
        if element[0] == "#" or element in _NUMBER_WORDS:
            return k
    for k, element in enumerate(elements):
        words = classes[element[1:]] if element[0] == "@" else {element}
        if element != "_" and _COMMON.isdisjoint(words):
            return k
    return 0


class Grammar:
    """All rules, compiled. ``lexicon`` maps each word that patterns mention to the symbols it can match.

    Every row of elements hangs in a trie under its anchor: first the elements left of the anchor, from right to left,
    then those to its right. So a search starts only at numbers and at the few words that begin a pattern without one.
    """

    def __init__(
        self, rules: Iterable[Rule], classes: Mapping[str, frozenset[str]], closed: frozenset[str] = frozenset()
    ) -> None:
        self.rules = tuple(rules)
        self._root: Node = {}
        self._starts: dict[tuple[str, ...], list[Node]] = {}  # first steps from each set of symbols seen so far
        vocabulary: dict[str, list[str]] = {}
        for rule in self.rules:
            for pattern in rule.patterns:
                for row in expand_pattern(pattern):
                    self._add(rule, row, classes, vocabulary)
        used = {s for s in vocabulary if s.startswith("@")}
        for symbol in used:
            for word in classes[symbol[1:]]:
                vocabulary.setdefault(word, []).append(symbol)
        for word in closed:
            vocabulary.setdefault(word, [])
        self.lexicon: dict[str, tuple[str, ...]] = {
            word: tuple(symbols) if word in closed else (*symbols, "_")
            for word, symbols in vocabulary.items()
            if word[0] not in "@#"
        }

    def _add(
        self, rule: Rule, row: tuple[str, ...], classes: Mapping[str, frozenset[str]], vocabulary: dict[str, list[str]]
    ) -> None:
        elements = [e for e in row if e not in "{}"]
        before = row.index("{") if "{" in row else 0
        after = len(row) - 1 - row.index("}") if "}" in row else 0
        for element in elements:
            if element.startswith("@") and element[1:] not in classes:
                raise ValueError(f"no word class {element!r} (rule {rule.name!r})")
            if element != "_" and element not in vocabulary:
                vocabulary[element] = [] if element[0] in "@#" else [element]
        anchor = _anchor_of(elements, classes)
        node = self._root
        for element in (elements[anchor], *reversed(elements[:anchor])):
            node = node.setdefault(element, {})
        node = node.setdefault(_LEAVES, {})
        for element in elements[anchor + 1 :]:
            node = node.setdefault(element, {})
        leaves = node.setdefault(_LEAVES, [])
        if not any(leaf.rule is rule and leaf.before == before and leaf.after == after for leaf in leaves):
            leaves.append(_Leaf(rule, before, after))

    def find(self, stream: Stream) -> list[Match]:
        """Every match of every pattern, in the order of their anchors."""
        symbols, size = stream.symbols, len(stream)
        starts, root = self._starts, self._root
        found: list[Match] = []
        for token, here in enumerate(symbols):
            nodes = starts.get(here)
            if nodes is None:
                nodes = starts[here] = [root[s] for s in here if s in root]
            if not nodes:
                continue
            left: list[tuple[Node, int]] = [(node, token) for node in nodes]
            while left:
                node, i = left.pop()
                if i > 0:
                    for s in symbols[i - 1]:
                        if s in node:
                            left.append((node[s], i - 1))
                if _LEAVES not in node:
                    continue
                right: list[tuple[Node, int]] = [(node[_LEAVES], token + 1)]
                while right:
                    node, j = right.pop()
                    if _LEAVES in node:
                        for leaf in node[_LEAVES]:
                            found.append(_match(stream, leaf, i, j))
                    if j < size:
                        for s in symbols[j]:
                            if s in node:
                                right.append((node[s], j + 1))
        return found


def _match(stream: Stream, leaf: _Leaf, i: int, j: int) -> Match:
    start, end = i + leaf.before, j - leaf.after
    number = stream.number
    tokens = [t for t in range(start, end) if number[t] >= 0]
    return Match(stream, leaf.rule, start, end, i, j, [stream.numbers[number[t]] for t in tokens], tokens)
