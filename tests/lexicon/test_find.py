"""Names in the words of a class: as listed, in other spellings, with prefixes, and through known mis-hearings."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from setdown.lexicon import Lexicon, NameHit
from setdown.lexicon.guard import build_guard, want_always


def find_one(lexicon: Lexicon, text: str) -> NameHit:
    hits = lexicon.find_movements(text.split())
    assert len(hits) == 1, hits
    return hits[0]


@pytest.mark.parametrize(
    ("text", "movement", "method", "heard"),
    [
        ("and now a goblet squat for ten", "goblet-squat", "exact", "goblet squat"),
        ("ten goblet squats", "goblet-squat", "variant", "goblet squats"),
        ("get into your push ups", "push-up", "variant", "push ups"),
        ("twenty pushups please", "push-up", "variant", "pushups"),
        ("press-up", "push-up", "exact", "press-up"),
        ("pressups", "push-up", "variant", "pressups"),
        ("a dead lift next", "deadlift", "variant", "dead lift"),
        ("stiff leg deadlifts", "romanian-deadlift", "variant", "stiff leg deadlifts"),
        ("warrior 2 on the right", "warrior-2", "variant", "warrior 2"),
        ("childs pose", "childs-pose", "variant", "childs pose"),
        ("lat raises", "lateral-raise", "variant", "lat raises"),
        ("chest flies", "fly", "variant", "chest flies"),
        ("squat to press", "squat-and-press", "exact", "squat to press"),
    ],
)
def test_names_are_found_as_they_are_said(small: Lexicon, text: str, movement: str, method: str, heard: str) -> None:
    """The longest listed name wins, whatever its spelling; the hit spans just its words."""
    hit = find_one(small, text)
    assert (hit.movement, hit.method) == (movement, method)
    assert " ".join(text.split()[hit.start : hit.end]) == heard
    assert not hit.weak


@pytest.mark.parametrize("text", ["curl to press", "lunge and row the boat", "squat then press"])
def test_combinations_count_only_when_listed(small: Lexicon, text: str) -> None:
    """Two names in a row stay two names, or one, unless the combination has a row."""
    assert all(hit.movement != "squat-and-press" for hit in small.find_movements(text.split()))


def test_everyday_words_are_weak(small: Lexicon) -> None:
    """A name that is an everyday word too is reported, and marked."""
    assert [(h.movement, h.weak) for h in small.find_movements(["run", "past", "the", "tree"])] == [
        ("run", True),
        ("tree", True),
    ]
    assert not find_one(small, "now tree pose").weak


@pytest.mark.parametrize(
    ("text", "movement", "name", "prefixes"),
    [
        ("a banded clamshell", "clamshell", "clamshell", ("banded",)),
        ("seated shoulder press", "seated-shoulder-press", "seated shoulder press", ()),
        ("seated dumbbell shoulder press", "seated-shoulder-press", "seated shoulder press", ("dumbbell",)),
        ("dumbbell seated shoulder press", "seated-shoulder-press", "seated shoulder press", ("dumbbell",)),
        ("dumbbell single arm row", "single-arm-row", "single-arm row", ("dumbbell",)),
        ("standing single-leg db deadlift", "deadlift", "deadlift", ("standing", "single-leg", "dumbbell")),
        ("kb goblet squats", "goblet-squat", "goblet squat", ("kettlebell",)),
        ("dumbbell fly", "fly", "dumbbell fly", ()),
        ("alternate biceps curls", "curl", "biceps curl", ("alternating",)),
        ("body weight squat", "squat", "squat", ("bodyweight",)),
    ],
)
def test_kit_and_stance_in_front_belong_to_the_hit(
    small: Lexicon, text: str, movement: str, name: str, prefixes: tuple[str, ...]
) -> None:
    """Unlisted prefixes are spanned and told; listed longer names win, in whatever order the prefixes stand."""
    hit = find_one(small, text)
    assert (hit.movement, hit.name, hit.prefixes) == (movement, name, prefixes)
    words = text.split()
    assert " ".join(words[hit.start : hit.end]) == text.removeprefix("a ")


def test_a_prefix_is_not_taken_from_the_name_before(small: Lexicon) -> None:
    """Words that belong to one name are not prefixes of the next."""
    hits = small.find_movements(["dumbbell", "fly", "dumbbell", "squat"])
    assert [(h.start, h.end) for h in hits] == [(0, 2), (2, 4)]


@pytest.mark.parametrize(
    ("text", "movement", "repaired"),
    [
        ("now gobble its quat ten of them", "goblet-squat", "goblet squat"),
        ("and a hammer coral", "curl", "hammer curl"),
        ("goblet squads", "goblet-squat", "goblet squat"),
        ("single arm dumb bell coral", "curl", "curl"),
    ],
)
def test_listed_mishearings_are_repaired(small: Lexicon, text: str, movement: str, repaired: str) -> None:
    """The hit covers what the caption wrote and says what was said."""
    hit = find_one(small, text)
    assert (hit.movement, hit.method) == (movement, "misheard")
    assert hit.repaired.split()[-1] == repaired.split()[-1]


def test_words_round_a_repair_keep_their_places(small: Lexicon) -> None:
    """Three heard words that stand for two said ones do not shift what comes after."""
    text = ["gobble", "its", "quat", "then", "push", "ups", "then", "squad", "jumps", "then", "deadlifts"]
    hits = small.find_movements(text, want_always)
    assert [" ".join(text[h.start : h.end]) for h in hits] == ["gobble its quat", "push ups", "squad", "deadlifts"]


def test_a_single_repaired_word_needs_context(small: Lexicon) -> None:
    """'squad' by itself is an everyday word: weak, unless the words around want a movement."""
    assert find_one(small, "the whole of the squad").weak
    assert not find_one(small, "next squad").weak
    assert not find_one(small, "goblet squad").weak


def test_what_is_listed_goes_before_what_may_be_misheard(small: Lexicon) -> None:
    """No repair replaces a name that is there."""
    assert find_one(small, "skull crusher").method == "exact"


def test_repairs_are_told_for_any_word(small: Lexicon) -> None:
    """Kit that was mis-heard is found too, with its place."""
    repairs = small.find_repairs(["pick", "up", "the", "dumb", "bell", "squad"])
    assert [(r.start, r.end, r.heard, r.said) for r in repairs] == [
        (3, 5, "dumb bell", "dumbbell"),
        (5, 6, "squad", "squat"),
    ]


WORDS = st.sampled_from(
    [
        "a",
        "the",
        "and",
        "ten",
        "goblet",
        "squat",
        "squats",
        "gobble",
        "its",
        "quat",
        "dead",
        "lift",
        "push",
        "up",
        "pushup",
        "press-ups",
        "single-arm",
        "row",
        "roe",
        "seated",
        "dumbbell",
        "dumb",
        "bell",
        "banded",
        "band",
        "clamshell",
        "coral",
        "hammer",
        "squad",
        "burby",
        "tree",
        "run",
        "skull",
        "crashers",
        "turkish",
        "ketchup",
        "two",
        "2",
        "-",
        "'",
        "'s",
        "warrior",
        "virabadrasana",
        "é",
        "½",
        "next",
        "into",
        "now",
        "one",
        "more",
    ]
)


@settings(deadline=None, max_examples=150)
@given(st.lists(st.one_of(WORDS, st.text(max_size=6)), max_size=40))
def test_hits_are_in_order_and_apart(small: Lexicon, words: list[str]) -> None:
    """Whatever the words are: no crash, hits in order, none overlapping, each within the words, scores within 0..1."""
    for wanted in (None, want_always):
        hits = small.find_movements(words, wanted)
        last = 0
        for hit in hits:
            assert last <= hit.start < hit.end <= len(words)
            assert hit.movement in small.movements
            assert 0 < hit.score <= 1
            assert bool(hit.repaired) == (hit.method in ("misheard", "fuzzy", "sound"))
            last = hit.end
    last = 0
    for repair in small.find_repairs(words):
        assert last <= repair.start < repair.end <= len(words)
        last = repair.end
    for described in small.find_described(words):
        assert 0 <= described.start < described.end <= len(words)


def test_the_plain_guard_wants_a_movement_after_setup_words_and_before_counts() -> None:
    """Within four words after 'next' or a number, or up to three words before a count."""
    words = [
        "we",
        "were",
        "in",
        "the",
        "garden",
        "all",
        "day",
        "and",
        "it",
        "was",
        "lovely",
        "next",
        "up",
        "goblins",
        "quat",
        "six",
        "seven",
        "oh",
        "dear",
        "me",
        "no",
    ]
    wanted = build_guard(words)
    assert wanted(13, 15)
    assert not wanted(3, 5)
    assert build_guard(["goblins", "quat"])(0, 2)
