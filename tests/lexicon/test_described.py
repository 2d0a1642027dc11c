"""Movements that are described and not named."""

from __future__ import annotations

import random

import pytest

from setdown.lexicon import Described, DescribedHit, Lexicon
from setdown.lexicon.described import WITHIN, DescribedIndex


@pytest.mark.parametrize(
    ("text", "movement"),
    [
        ("lift your arms right out to the side", "lateral-raise"),
        ("out to the sides those arms float", "lateral-raise"),
        ("heels in and push your hips up off the floor", "glute-bridge"),
        ("bend at the elbow and bring the weights to your shoulders", "curl"),
        ("bend your elbows bring the weight to the shoulder", "curl"),
    ],
)
def test_all_keywords_close_together_are_a_hit(small: Lexicon, text: str, movement: str) -> None:
    """Any order, singular or plural, one word of each slot."""
    assert [hit.movement for hit in small.find_described(text.split())] == [movement]


@pytest.mark.parametrize(
    "text",
    [
        "lift your arms",
        "arms " + "la " * WITHIN + "lift out side",
        "heels floor push",
    ],
)
def test_a_missing_or_distant_keyword_is_none(small: Lexicon, text: str) -> None:
    """Every slot must be filled within 14 words."""
    assert small.find_described(text.split()) == []


def test_the_span_is_the_tightest(small: Lexicon) -> None:
    """Of several ways to fill the slots the closest is told, with the words that filled them in slot order."""
    words = ["arms", "here", "and", "there", "then", "lift", "the", "arms", "out", "to", "the", "side", "please"]
    (hit,) = small.find_described(words)
    assert (hit.start, hit.end) == (5, 12)
    assert [words[at] for at in hit.slots] == ["arms", "lift", "out", "side"]


def test_closer_and_more_keywords_score_higher(small: Lexicon) -> None:
    """The score ranks hits."""
    (near,) = small.find_described(["arms", "lift", "out", "side"])
    (far,) = small.find_described(
        ["arms", "and", "then", "we", "lift", "them", "right", "up", "and", "out", "to", "the", "side"]
    )
    assert 0.5 <= far.score < near.score <= 0.9


def test_one_word_fills_one_slot() -> None:
    """A word that stands in two slots does not fill both."""
    index = DescribedIndex(
        [Described("x", (frozenset({"lift", "up"}), frozenset({"up", "raise"}), frozenset({"arm"})))]
    )
    assert index.find(["up", "arm"]) == []
    assert len(index.find(["up", "up", "arm"])) == 1


def test_hits_of_one_movement_do_not_overlap(small: Lexicon) -> None:
    """A description repeated at once is told once for every full set of keywords."""
    hits = small.find_described(["arms", "lift", "out", "side", "arms", "lift", "out", "side"])
    assert [(h.start, h.end) for h in hits] == [(0, 4), (4, 8)]


def test_the_index_agrees_with_a_plain_search() -> None:
    """On random words and rows the index hits just where trying every window of 14 words does."""
    rng = random.Random(7)
    letters = list("abcdefgh")
    for _ in range(60):
        words = [rng.choice([*letters, "zz", "yy", "xx"]) for _ in range(80)]
        slots = tuple(frozenset(rng.sample(letters, 2)) for _ in range(3))
        disjoint = len(frozenset().union(*slots)) == 6
        hits = DescribedIndex([Described("m", slots)]).find(words)
        windows = [words[i : i + WITHIN] for i in range(len(words))]
        anywhere = any(all(slot & set(window) for slot in slots) for window in windows)
        if disjoint:
            assert bool(hits) == anywhere
        for hit in hits:
            _check_hit(hit, words, slots)


def _check_hit(hit: DescribedHit, words: list[str], slots: tuple[frozenset[str], ...]) -> None:
    assert hit.end - hit.start <= WITHIN
    assert len(set(hit.slots)) == len(slots)
    assert all(words[at] in slot for at, slot in zip(hit.slots, slots, strict=True))
    assert (min(hit.slots), max(hit.slots) + 1) == (hit.start, hit.end)
