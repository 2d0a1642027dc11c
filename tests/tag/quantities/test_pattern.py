"""The pattern language of the quantity rules."""

from __future__ import annotations

from collections import defaultdict
from itertools import chain, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from setdown.tag.number_words import read_word
from setdown.tag.numbers import find_numbers
from setdown.tag.quantities import RULES
from setdown.tag.quantities.grammar import Grammar
from setdown.tag.quantities.pattern import Draft, Match, Rule, Way, parse_pattern
from setdown.tag.quantities.stream import build_stream
from setdown.tag.quantities.vocabulary import CLASSES, CLOSED


def spell_out(ways: list[Way]) -> list[tuple[str, ...]]:
    """Every row of elements that the ways stand for: the plain meaning of the pattern language."""
    rows: list[tuple[str, ...]] = []
    for way in ways:
        parts = [[(part,)] if isinstance(part, str) else spell_out(part) for part in way]
        rows += [tuple(chain.from_iterable(chosen)) for chosen in product(*parts)]
    return rows


def test_a_pattern_stands_for_its_alternatives_with_and_without_its_optional_parts() -> None:
    """Brackets nest."""
    rows = {" ".join(row) for row in spell_out(parse_pattern("a (b|c d) [e [f]]"))}
    assert rows == {"a b", "a c d", "a b e", "a c d e", "a b e f", "a c d e f"}


@pytest.mark.parametrize("pattern", ["a (b", "a b)", "[a"])
def test_brackets_that_do_not_match_are_an_error(pattern: str) -> None:
    """A slip in a rule is found when it is loaded."""
    with pytest.raises(ValueError, match=r"brackets|missing"):
        parse_pattern(pattern)


def test_an_unknown_class_is_an_error() -> None:
    """So is a class that does not exist."""
    with pytest.raises(ValueError, match="nowhere"):
        Grammar([Rule("x", ("# @nowhere",), lambda m: None, 1.0)], {})


def matches(pattern: str, text: str) -> list[str]:
    """The words that a one-pattern grammar covers."""
    rule = Rule("it", (pattern,), lambda m: Draft("x", None), 1.0)
    grammar = Grammar([rule], {"side": frozenset({"side", "leg"})}, frozenset({"of", "the"}))
    words = text.split()
    stream = build_stream([read_word(w) for w in words], [], find_numbers(words), grammar.lexicon)
    found: list[Match] = grammar.find(stream)
    return [" ".join(words[stream.first[m.start] : stream.last[m.end - 1]]) for m in found]


@pytest.mark.parametrize(
    ("pattern", "text", "covered"),
    [
        ("# each @side", "do twenty five each leg", ["twenty five each leg"]),
        ("that's {#}", "that's ten more", ["ten"]),
        ("# {#}", "ten twelve", ["twelve"]),
        ("# _ reps", "ten lovely reps", ["ten lovely reps"]),
        ("# _ reps", "ten of reps", []),  # a function word is nothing that _ stands for
        ("#s", "the fifteens", ["fifteens"]),
        ("last one", "the last one", ["last one"]),
        ("#1 more", "one more two more", ["one more"]),
        ("# x #", "3x10", ["3x10"]),
        ("# kg", "20kg", ["20kg"]),
    ],
)
def test_finds_what_the_pattern_covers(pattern: str, text: str, covered: list[str]) -> None:
    """Numbers are one token, braces limit what is covered, written units and signs are tokens of their own."""
    assert sorted(set(matches(pattern, text))) == covered


# Rows of elements of every rule, and where in them the covered words begin and end.
ROWS: dict[tuple[str, ...], set[tuple[str, int, int]]] = defaultdict(set)
for rule in RULES:
    for row in chain.from_iterable(spell_out(parse_pattern(pattern)) for pattern in rule.patterns):
        begin, end = (row.index("{"), row.index("}") - 1) if "{" in row else (0, len(row))
        ROWS[tuple(e for e in row if e not in "{}")].add((rule.name, begin, end))
WORDS = sorted({e for row in ROWS for e in row if e[0] not in "@#_"} | {w for words in CLASSES.values() for w in words})
GRAMMAR = Grammar(RULES, CLASSES, CLOSED)


@given(st.lists(st.sampled_from([*WORDS, "ten", "two", "fifteens", "half", "third", "oddly"]), max_size=9))
def test_all_rules_at_once_match_as_their_patterns_one_by_one(words: list[str]) -> None:
    """The automaton finds just the places where a row of elements fits, symbol by symbol."""
    stream = build_stream([read_word(w) for w in words], [], find_numbers(words), GRAMMAR.lexicon)
    expected = set()
    for start in range(len(stream)):
        for stop in range(start + 1, len(stream) + 1):
            for elements in product(*stream.symbols[start:stop]):
                expected |= {(name, start, stop, start + b, start + e) for name, b, e in ROWS.get(elements, ())}
    found = [(m.rule.name, m.outer_start, m.outer_end, m.start, m.end) for m in GRAMMAR.find(stream)]
    assert set(found) == expected
    assert len(found) == len(expected)


def test_long_rows_are_found() -> None:
    """So are the rows that words drawn at random would hardly ever make."""
    said = {"#s": "fifteens", "#th": "third", "#f": "half", "#~": "few", "#1": "1", "#": "12", "_": "oddly"}
    said |= {f"@{name}": min(words) for name, words in CLASSES.items()}
    tried = 0
    for elements in [row for row in sorted(ROWS) if len(row) > 4][::20]:
        words = [said.get(e, e) for e in elements]
        stream = build_stream([read_word(w) for w in words], [], find_numbers(words), GRAMMAR.lexicon)
        if all(e in s for e, s in zip(elements, stream.symbols, strict=False)) and len(stream) == len(elements):
            tried += 1
            whole = [m for m in GRAMMAR.find(stream) if (m.outer_start, m.outer_end) == (0, len(elements))]
            assert {(m.rule.name, m.start, m.end) for m in whole} >= ROWS[elements]
    assert tried > 150
