"""The taggers one by one: movements, phrases, kit, and the words that they compare."""

from __future__ import annotations

from itertools import pairwise

import pytest

from setdown.lexicon import load_lexicon
from setdown.tag.kit import tag_kit
from setdown.tag.movements import tag_movements
from setdown.tag.normal import normalise_word, normalise_words
from setdown.tag.phrases import tag_phrases

LEXICON = load_lexicon()


@pytest.mark.parametrize(
    ("text", "word"),
    [
        *(("Push-ups,", "push-ups"), ("GO!", "go"), ("“squats”", "squats"), ("don’t", "don't"), ("(left)", "left")),
        *(("$20", "$20"), ("70%", "70%"), ("…", "…"), ("--", "--"), ("10,", "10"), ("12.5.", "12.5"), ("it‘s", "it's")),
        ("push‑up", "push-up"),
    ],
)
def test_words_are_compared_plain(text, word):
    """Lower case, straight apostrophes and hyphens, no outer punctuation; punctuation alone keeps its text."""
    assert normalise_word(text) == word
    assert normalise_words([text, "a", text]) == (word, "a", word)


@pytest.mark.parametrize(
    ("text", "kind", "words", "movement"),
    [
        ("next a goblet squat here", "movement", (2, 4), "goblet-squat"),
        ("next some goblet squats here", "movement", (2, 4), "goblet-squat"),
        pytest.param(
            *("some goblet squats please", "movement", (1, 3), "goblet-squat"),
            marks=pytest.mark.xfail(reason="'squats please' sounds like 'squat pulse', and the longer guess wins"),
        ),
        ("gobble it squats ten of these", "movement_guess", (0, 3), "goblet-squat"),
        ("arms float out to the side to shoulder height", "described", None, "lateral-raise"),
    ],
)
def test_movements_are_found(text, kind, words, movement):
    """By name, by a name that was mis-heard, and by a description; with the words and the rule."""
    found = [m for m in tag_movements(text.split(), LEXICON) if m.kind == kind and m.value.movement == movement]
    assert found
    assert words is None or (found[0].start, found[0].end) == words
    assert found[0].rule
    assert 0 < found[0].score <= 1


def test_everyday_words_are_weak():
    """'The bridge over the river' is a weak mention at most."""
    found = tag_movements(["we", "went", "over", "the", "bridge", "to", "the", "shop"], LEXICON)
    assert {m.kind for m in found} <= {"movement_weak"}


def test_plain_talk_names_no_movement():
    """No name, no guess."""
    assert tag_movements(["hello", "there", "everybody", "how", "are", "you", "today"], LEXICON) == []


@pytest.mark.parametrize(
    ("text", "kind", "words"),
    [
        ("okay and go everybody", "go", (1, 3)),
        ("and rest everybody", "stop", (0, 2)),
        ("that is halfway there now", "halfway", (2, 4)),
        ("lunge the other side please", "side_other", (1, 4)),
        ("ten on each leg please", "each_side", (1, 4)),
        ("keep your chest up please", "form", (2, 4)),
        ("breathe out now", "breath", (0, 2)),
        ("let's warm up then", "warm_up", (1, 3)),
        ("so this is not a crunch", "negated", None),
        ("just like a seal", "likened", None),
    ],
)
def test_phrases_are_found(text, kind, words):
    """Each kind where its phrase stands; the value are the words."""
    found = [m for m in tag_phrases(text.split(), LEXICON) if m.kind == kind]
    assert found, text
    assert words is None or words in {(m.start, m.end) for m in found}
    assert all(m.value == " ".join(text.split()[m.start : m.end]) for m in found)
    assert all(m.rule == f"{kind}: {m.value}" for m in found)


@pytest.mark.parametrize(
    ("text", "kit"),
    [
        ("grab your dumbbells", ["dumbbell"]),
        ("a mat and a kettlebell", ["mat", "kettlebell"]),
        ("a resistance band", ["band"]),
        ("nothing at all", []),
        ("", []),
    ],
)
def test_kit_is_found(text, kit):
    """Singular and plural, the longest name at a place."""
    found = tag_kit(text.split(), LEXICON)
    assert [m.value for m in found] == kit
    assert all(m.kind == "kit" for m in found)
    assert all(a.end <= b.start for a, b in pairwise(found))
