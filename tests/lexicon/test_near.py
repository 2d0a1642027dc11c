"""Near matches: mis-heard names that no table lists are found, and ordinary talk is left alone."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from setdown.lexicon import Lexicon
from setdown.lexicon.guard import want_always
from setdown.lexicon.likeness import INEXACT_KEY
from setdown.lexicon.near_keys import KeyIndex

TALK = sorted((Path(__file__).parent / "talk").glob("*.txt"))

# What captions made of names, in invented classes; the words around are those of a set-up.
MISHEARD = [
    ("next goblins quat", "goblet squat"),
    ("into a gobble it squat", "goblet squat"),
    ("our gobble it squats", "goblet squat"),
    ("take your bent over roe", "bent-over row"),
    ("now skull crashers", "skull crusher"),
    ("ten turkish ketchup", "turkish get-up"),
    ("next is the glue bridge", "glute bridge"),
    ("we have lateral raze", "lateral raise"),
    ("into a virabadrasana two", "virabhadrasana two"),
    ("into add ho mukha", "adho mukha"),
    ("next ball asana", "balasana"),
    ("twelve bur piece", "burpee"),
    ("our pick of the day is romanian dead left", "romanian deadlift"),
]


@pytest.mark.parametrize(("text", "name"), MISHEARD)
def test_misheard_names_are_found(small: Lexicon, text: str, name: str) -> None:
    """Names written with other words of nearly the same sound or letters are found where a movement is wanted."""
    hits = [h for h in small.find_movements(text.split()) if h.method in ("fuzzy", "sound", "misheard")]
    assert [h.name for h in hits] == [name]
    assert hits[0].repaired == name
    assert hits[0].end == len(text.split())


# In the shipped lexicon there are ten thousand more names to be taken for.
SHIPPED = [
    ("next goblins quat", "goblet-squat"),
    ("into a gobble it squat", "goblet-squat"),
    ("take your bent over roe", "bent-over-row"),
    ("now skull crashers", "skull-crusher"),
    ("now romanian dead left", "romanian-deadlift"),
    ("ten turkish ketchup", "turkish-get-up"),
    ("next is the glue bridge", "glute-bridge"),
    ("we have lateral raze", "lateral-raise"),
    ("then calf rays", "calf-raise"),
    ("twelve hip trusts", "hip-thrust"),
    ("first dead bucks", "dead-bug"),
    ("ten stair jumps", "star-jump"),
    ("and now suitcase carrie", "suitcase-carry"),
    ("into threat the needle", "thread-the-needle"),
    ("start with shoulder roles", "shoulder-roll"),
    ("next trick on asana", "triangle-pose"),
]


@pytest.mark.parametrize(("text", "movement"), SHIPPED)
def test_misheard_names_of_the_shipped_lexicon_are_found(real: Lexicon, text: str, movement: str) -> None:
    """The same, with every shipped name to be taken for: the family of the movement is right."""
    hits = real.find_movements(text.split())
    assert hits, text
    wanted = real.look_up(movement)
    assert wanted is not None, movement
    assert real.movements[hits[-1].movement].family == wanted.family
    assert hits[-1].end == len(text.split())


@pytest.mark.parametrize("path", TALK, ids=lambda p: p.stem)
def test_ordinary_talk_is_left_alone(real: Lexicon, path: Path) -> None:
    """A recipe, a lecture and a football match hold no mis-heard movement, even if every place wants one."""
    words = path.read_text(encoding="utf-8").split()
    hits = real.find_movements(words, want_always)
    false = [(h.name, " ".join(words[h.start : h.end])) for h in hits if h.method in ("fuzzy", "sound")]
    assert false == []
    guarded = [h for h in real.find_movements(words) if h.method == "misheard" and not h.weak]
    assert len(guarded) <= 1, [(h.name, " ".join(words[h.start : h.end])) for h in guarded]


def test_there_is_enough_talk() -> None:
    """The talk that the bounds are measured on is at least 1,500 words."""
    assert sum(len(p.read_text(encoding="utf-8").split()) for p in TALK) >= 1500


@pytest.mark.parametrize(
    "text",
    [
        "now that was a crunchy one",
        "next pump squat",
        "the best of the ten",
        "now a quiet goal and a bit of spot",
        "take the towel bridge",
        "for the whole day we row",
    ],
)
def test_near_words_that_were_meant_are_left_alone(small: Lexicon, text: str) -> None:
    """Forms of a trade word, everyday words, and shared words with nothing else alike are no near matches."""
    assert [h for h in small.find_movements(text.split(), want_always) if h.method in ("fuzzy", "sound")] == []


def test_nothing_is_near_where_no_movement_is_wanted(small: Lexicon) -> None:
    """The guard decides; what is listed is found without it."""
    words = ["goblins", "quat", "and", "a", "goblet", "squat"]
    assert [h.method for h in small.find_movements(words, lambda start, end: False)] == ["exact"]
    asked: list[tuple[int, int]] = []

    def wanted(start: int, end: int) -> bool:
        asked.append((start, end))
        return True

    small.find_movements(words, wanted)
    assert (0, 2) in asked and all(0 <= start < end <= len(words) for start, end in asked)


def test_a_listed_name_is_not_bent_to_a_longer_one(small: Lexicon) -> None:
    """What is listed as a whole was said as it stands."""
    assert [h.method for h in small.find_movements(["next", "air", "squat"])] == ["exact"]


def test_keys_that_differ_by_one_code_meet() -> None:
    """Left out, put in or exchanged: one code makes no difference; two do, unless one is left out on either side."""
    index = KeyIndex(["", "KPLTSKT", "PNT"])
    near = ["KPLTSKT", "KPLTSK", "KPLTSKTS", "KPLNSKT", "PLTSKT", "SKPLTSKT", "KLTSKTS"]
    far = ["KPLTS", "KPLTSKTSK", "TPLTSKK", "KPT", "PNTT", "PT"]
    met = index.find([*near, *far, "PNT"])
    assert {key for key in near if met[key] == (1,)} == set(near)
    assert [key for key in far if met[key]] == []
    assert met["PNT"] == (2,)


@given(st.lists(st.text("PTKFSXMNLRAH", min_size=1, max_size=9), min_size=1, max_size=12))
def test_keys_meet_when_they_share_a_probe(keys: list[str]) -> None:
    """The look-up of all keys at once gives what comparing their probes one by one gives."""
    met = KeyIndex(keys).find(keys)
    for key in keys:
        assert list(met[key]) == [n for n, other in enumerate(keys) if spell_probes(key) & spell_probes(other)]


def spell_probes(key: str) -> set[str]:
    """The key, and if it is long enough the key without each of its codes."""
    return {key} | ({key[:at] + key[at + 1 :] for at in range(len(key))} if len(key) >= INEXACT_KEY else set())
