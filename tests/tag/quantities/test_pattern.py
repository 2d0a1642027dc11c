"""The pattern language of the quantity rules."""

from __future__ import annotations

import pytest

from setdown.tag.number_words import read_word
from setdown.tag.numbers import find_numbers
from setdown.tag.quantities.pattern import Draft, Grammar, Match, Rule, expand_pattern
from setdown.tag.quantities.stream import build_stream


def test_a_pattern_stands_for_its_alternatives_with_and_without_its_optional_parts() -> None:
    """Brackets nest."""
    rows = {" ".join(row) for row in expand_pattern("a (b|c d) [e [f]]")}
    assert rows == {"a b", "a c d", "a b e", "a c d e", "a b e f", "a c d e f"}


@pytest.mark.parametrize("pattern", ["a (b", "a b)", "[a"])
def test_brackets_that_do_not_match_are_an_error(pattern: str) -> None:
    """A slip in a rule is found when it is loaded."""
    with pytest.raises(ValueError, match=r"brackets|missing"):
        expand_pattern(pattern)


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
