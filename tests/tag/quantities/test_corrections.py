"""Numbers said and taken back."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from setdown.model.mention import Mention

Tag = Callable[..., list[Mention]]


@pytest.mark.parametrize(
    ("text", "kind", "old", "new"),
    [
        ("grab your fifteens no what am i saying twelves the dumbbells", "load", 15, 12),
        ("dumbbells grab your twelves sorry your fifteens", "load", 12, 15),
        ("Last set, the 18, nah, sorry, I'm holding the 20 dumbbell.", "load", 18, 20),
        ("with the sixes no the eights sorry what am i saying dumbbells", "load", 6, 8),
        ("dumbbells out a pair of tens scratch that a pair of twelves", "load", 10, 12),
    ],
)
def test_the_later_load_takes_over(tag: Tag, text: str, kind: str, old: int, new: int) -> None:
    """The earlier number is withdrawn, the later one has its role."""
    mentions = tag(text)
    withdrawn = [m for m in mentions if m.kind == "withdrawn"]
    assert [(m.value.kind, m.value.value.value) for m in withdrawn] == [(kind, old)]
    assert [m.value.value for m in mentions if m.kind == kind and m.value.value] == [new]


@pytest.mark.parametrize(
    ("text", "old", "new"),
    [
        ("we'll do twelve sorry fifteen", 12, 15),
        ("give me ten no eight each side", 10, 8),
        ("ten reps i mean twelve reps", 10, 12),
        ("we'll do ten actually twelve", 10, 12),
    ],
)
def test_the_later_target_takes_over(tag: Tag, text: str, old: int, new: int) -> None:
    """Repetitions are corrected in the same way."""
    mentions = tag(text)
    assert [(m.value.kind, m.value.value.lo) for m in mentions if m.kind == "withdrawn"] == [("reps", old)]
    assert [m.value.lo for m in mentions if m.kind == "reps"] == [new]


@pytest.mark.parametrize(
    "text",
    [
        "twelve squats sorry about the noise fifteen lunges",
        "that's twelve with the twelves sorry i did not plan that very well at all did i",
        "ten reps. No rest. Eight reps.",
        "ten of those no weights twelve of these",
        "three sets sorry the dog got in there again and now everybody is awake ten reps",
        "twenty i lied i know i said fifteen",
        "ten reps sorry ten reps",
    ],
)
def test_other_words_take_nothing_back(tag: Tag, text: str) -> None:
    """An excuse, a negation of something else, or the same number again is no correction."""
    assert "withdrawn" not in [m.kind for m in tag(text)]
