"""Which of the things said are printed, and how they are cut out."""

from __future__ import annotations

import pytest

from setdown.model.routine import Coaching, Evidence
from setdown.publish.cues import choose_cues, find_advice, load_cue_words, read_cue
from setdown.read import parse_transcript


def coach(quote: str, phrase: str, kind: str = "form") -> Coaching:
    evidence = Evidence(cue=0, char_start=0, char_end=len(quote), quote=quote, at=10.0, rule=f"{kind}: {phrase}")
    return Coaching(kind=kind, evidence=evidence)


@pytest.mark.parametrize(
    ("quote", "phrase", "text"),
    [
        (
            "down sit back chest proud and push the floor away",
            "chest proud",
            "Sit back chest proud and push the floor away",
        ),
        ("halfway don't let the knees fall in", "don't let the", "Don't let the knees fall"),
        ("twenty seconds left keep breathing", "breathing", "Keep breathing"),
        ("good that's it elbows tucked okay five more", "elbows tucked", "Elbows tucked"),
        ("three two squeeze at the top one two", "squeeze at the top", "Squeeze at the top"),
    ],
)
def test_the_clause_around_the_phrase_is_cut_out(quote, phrase, text):
    """From the word that tells what to do; counts and praise end it."""
    cue = read_cue(coach(quote, phrase))
    assert cue is not None
    assert cue.text == text


@pytest.mark.parametrize(
    ("quote", "phrase", "kind"),
    [
        ("you can hear the neighbour's dog", "you can", "easier"),
        ("if you like the music tell me", "if you like", "easier"),
        ("look at that sunshine", "look at", "form"),
        ("i told my husband keep it", "keep it", "form"),
    ],
)
def test_talk_is_no_cue(quote, phrase, kind):
    """Nothing about a body or an effort, or about somebody else: it is left out."""
    assert read_cue(coach(quote, phrase, kind)) is None


def test_a_caution_is_never_left_out_as_talk():
    """Safety first: who said it does not matter."""
    assert read_cue(coach("i had a bad knee so watch your knees here", "watch your knees", "caution")) is not None


def test_a_condition_keeps_what_follows_from_it():
    """'If it pinches' is of no use without 'put it down'."""
    cue = read_cue(coach("if anything pinches stop put the weight down", "pinches", "caution"))
    assert cue is not None
    assert cue.text == "If anything pinches stop put the weight down"


def test_cues_that_say_the_same_are_one(routine):
    """In the next set, or in the next round."""
    first = routine.sections[1].groups[0].sets[0]
    first.coaching = [
        coach("keep your chest up", "keep your"),
        coach("and keep your chest up", "keep your"),
        coach("push through the heels", "push through the"),
    ]
    chosen = choose_cues([first], ("form",), 3)
    assert [cue.text for cue in chosen] == ["Keep your chest up", "Push through the heels"]


def test_advice_for_afterwards_is_found_after_the_last_set():
    """And only there: a drink between sets is none."""
    vtt = "WEBVTT\n\n" + "\n\n".join(
        f"00:0{n}:00.000 --> 00:0{n}:08.000\n{text}"
        for n, text in enumerate(
            ("drink some water", "ten squats", "have a rest day tomorrow and drink plenty of water")
        )
    )
    advice = find_advice(parse_transcript(vtt.encode(), name="x.vtt"), 90.0)
    assert len(advice) >= 1
    assert "rest day" in advice[0].text
    assert all(cue.at >= 120 for cue in advice)


def test_the_word_lists_do_not_contradict_each_other():
    """A word that begins a clause for its bid does not end one too."""
    words = load_cue_words()
    assert not words.bids & words.breaks
    assert not words.about & words.talk
