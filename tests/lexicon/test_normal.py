"""Spellings that mean the same name have the same normal form."""

from __future__ import annotations

import pytest

from setdown.lexicon.compounds import Compounds
from setdown.lexicon.normal import normalise_name, take_off_plural


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("press-ups", "press up"),
        ("Press‑Up", "press up"),
        ("lunges", "lunge"),
        ("presses", "press"),
        ("crunches", "crunch"),
        ("flies", "fly"),
        ("flys", "fly"),
        ("flyes", "fly"),
        ("triceps", "tricep"),
        ("abs", "ab"),
        ("child's pose", "child’s pose"),
        ("childs pose", "child's pose"),
        ("farmers carry", "farmer's carry"),
        ("warrior two", "warrior 2"),
        ("warrior II", "warrior two"),
        ("single-arm row", "one-arm row"),
        ("one-armed row", "single arm rows"),
        ("stiff-legged deadlift", "stiff leg deadlift"),
        ("ninety-ninety", "90/90"),
        ("twenty-ones", "21s"),
        ("calves", "calf"),
        ("pliés", "plie"),
        ("chasses", "chasse"),
        ("clean & press", "clean and press"),
        ("db press", "dumbbell press"),
        ("kb swings", "kettlebell swing"),
        ("centre", "center"),
    ],
)
def test_spellings_of_one_name_meet(one: str, other: str) -> None:
    """Plurals, hyphens, possessives, number words and usual abbreviations do not tell two names apart."""
    assert normalise_name(one) == normalise_name(other)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("press", "push"),
        ("warrior two", "warrior three"),
        ("his", "hi"),
        ("fifteen", "fifty"),
        ("cross", "cros"),
        ("plus", "plu"),
    ],
)
def test_other_words_stay_apart(one: str, other: str) -> None:
    """What is another word stays another word."""
    assert normalise_name(one) != normalise_name(other)


def test_every_piece_knows_its_word() -> None:
    """Hyphenated words give several pieces of one word, bare punctuation none."""
    pieces = Compounds([]).cut_words(["ten", "push-ups", "-", "go"])
    assert pieces.forms == ["10", "push", "up", "go"]
    assert pieces.word == [0, 1, 1, 3]
    assert pieces.written == ["ten", "push", "up", "go"]


@pytest.mark.parametrize("form", ["press", "us", "this", "is", "s", ""])
def test_what_is_no_plural_keeps_its_s(form: str) -> None:
    """Short and double-s words are left as they are."""
    assert take_off_plural(form) == form


def test_compounds_are_learned_from_the_names() -> None:
    """Neighbours in a name may be written as one word; a long word of a name may be written as two."""
    compounds = Compounds([normalise_name(n) for n in ("push-up", "dead bug", "upright row", "kettlebell swing")])
    assert compounds.cut_name("pushups") == compounds.cut_name("push ups") == ("push", "up")
    assert compounds.cut_name("deadbug") == ("dead", "bug")
    assert compounds.find_joins(["kettle", "bell", "swing"]) == [0]


def test_joins_are_only_offered() -> None:
    """'step up right' holds 'upright', so pieces stay as they were said; the join is another reading of them."""
    compounds = Compounds([normalise_name(n) for n in ("step-up", "upright row")])
    assert compounds.cut_words(["step", "up", "right"]).forms == ["step", "up", "right"]
    assert compounds.find_joins(["step", "up", "right"]) == [1]
