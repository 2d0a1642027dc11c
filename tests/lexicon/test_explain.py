"""Telling a person why words match."""

from __future__ import annotations

from setdown.lexicon import Lexicon
from setdown.lexicon.entries import DescribedHit, NameHit


def test_reasons_name_the_listed_name_and_the_method(small: Lexicon) -> None:
    """Each way of matching has its words."""
    for text, reason in [
        ("goblet squat", "listed as 'goblet squat'"),
        ("Goblet squats!", "another spelling or word order of 'goblet squat'"),
        ("gobble its quat", "listed mis-hearing: 'goblet squat' was said"),
        ("skull crashers", "sounds like 'skull crusher'"),
        ("turkish ketchup", "nearly written 'turkish get-up'"),
        ("a tree", "everyday words: counts only where a movement is wanted"),
        ("banded clamshell", "with banded in front"),
    ]:
        assert reason in small.explain(text)[0].why, text


def test_descriptions_are_told_with_their_words(small: Lexicon) -> None:
    """A description comes after the names, with the words that fill it."""
    told = [one for one in small.explain("lift your arms out to the side") if isinstance(one.hit, DescribedHit)]
    assert [one.hit.movement for one in told] == ["lateral-raise"]
    assert "arms, lift, out, side" in told[0].why


def test_runners_up_come_last_and_are_other_movements(small: Lexicon) -> None:
    """Up to three names that come close, most alike first, none of a movement that was found."""
    told = small.explain("goblet squat")
    runners = [one for one in told if one.why.startswith("runner-up")]
    assert told[-len(runners) :] == runners and 1 <= len(runners) <= 3
    assert all(isinstance(one.hit, NameHit) and one.hit.movement != "goblet-squat" for one in runners)
    scores = [one.hit.score for one in runners]
    assert scores == sorted(scores, reverse=True)


def test_nothing_explains_to_nothing(small: Lexicon) -> None:
    """Empty text and punctuation give an empty list."""
    assert small.explain("") == [] and small.explain(" ... ") == []
