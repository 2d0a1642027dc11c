"""What a coach's own lexicon could learn from names that reviewers put right."""

from __future__ import annotations

import tomllib

import pytest

from make_edits import ANA, lexicon
from make_routine import make_routine
from setdown.errors import SetdownError
from setdown.lexicon import load_lexicon
from setdown.lexicon.own import read_own_lexicon
from setdown.model.routine import Routine
from setdown.review import operations as ops
from setdown.review.learn import propose_entries, sounds_like
from setdown.review.learn_file import add_proposals, format_proposals


def correct(said: str, name: str, *, sets: tuple[str, ...] = ("s1",), was: str = "") -> Routine:
    """A class in which the captions have ``said``, and a person named the sets."""
    routine = make_routine()
    for _, _, one in routine.iter_sets():
        if one.id in sets:
            one.exercise.said, one.exercise.name, one.exercise.id = said, was or said, was.replace(" ", "-")
    for ident in sets:
        routine = ops.set_field(routine, ident, "exercise", name, ANA, lexicon())
    return routine


def propose(*routines: Routine) -> list[tuple[str, str, str, int]]:
    found = propose_entries([(f"{n}.json", routine) for n, routine in enumerate(routines)], lexicon())
    return [(p.kind, p.words, p.name, len(p.instances)) for p in found]


def test_a_mis_hearing():
    """Words that look or sound like the name that was meant."""
    assert propose(correct("gull bet scott", "goblet squat")) == [("misheard", "gull bet scott", "goblet squat", 1)]


def test_another_name_of_a_known_movement():
    """Words that are nothing like it."""
    assert propose(correct("grinder wheel", "mountain climber")) == [("alias", "grinder wheel", "mountain climber", 1)]


def test_a_move_of_the_house():
    """A name that the lexicon does not know, and what the captions make of it."""
    found = propose(correct("light horse launch", "lighthouse lunch", sets=("s1", "s2")))
    assert found == [
        ("movement", "", "lighthouse lunch", 2),
        ("misheard", "light horse launch", "lighthouse lunch", 2),
    ]


def test_what_the_lexicon_knows_is_not_proposed():
    """Neither the name itself, nor another name or mis-hearing that it finds already."""
    assert propose(correct("goblet squats", "goblet squat")) == []
    assert propose(correct("gobble it squats", "goblet squat")) == []
    assert propose(make_routine()) == []


def test_a_name_of_another_movement_needs_firm_evidence():
    """One set may have been a slip of the tongue; twice, and never left as it was, is how this coach calls it."""
    once = correct("hammer curl", "zottman curl", was="hammer curl")
    twice = correct("hammer curl", "zottman curl", sets=("s1", "s2"), was="hammer curl")
    left = make_routine()
    [one, *_] = [x for _, _, x in left.iter_sets()]
    one.exercise.said, one.exercise.id, one.exercise.name = "hammer curl", "hammer-curl", "hammer curl"
    assert propose(once) == []
    assert propose(twice) == [("alias", "hammer curl", "zottman curl", 2)]
    assert propose(twice, left) == []


@pytest.mark.parametrize("said", ["", "come on", "here we go now", "lift your arms up and out to the side and hold"])
def test_what_is_no_name(said):
    """Nothing, everyday words, a whole description."""
    assert propose(correct(said, "mountain climber")) == []


def test_evidence_from_several_classes_is_put_together():
    """One entry, with where each set was."""
    routines = [(name, correct("gull bet scott", "goblet squat")) for name in ("a.json", "b.json")]
    [proposal] = propose_entries(routines, lexicon())
    assert [(i.source, i.start, i.mark) for i in proposal.instances] == [("a.json", 62.0, ANA), ("b.json", 62.0, ANA)]
    text = format_proposals([proposal])
    assert '# a.json at 1:02: the caption has "gull bet scott"; named by Ana, 2025-03-02' in text


def make_all() -> list[Routine]:
    return [
        correct("gull bet scott", "goblet squat"),
        correct("grinder wheel", "mountain climber"),
        correct("light horse launch", 'lighthouse "lunch" \\ 2'),
    ]


def test_what_is_printed_is_a_lexicon(tmp_path):
    """Valid TOML that loads on top of the shipped lexicon, and then finds the moves."""
    proposals = propose_entries([(f"{n}.json", r) for n, r in enumerate(make_all())], lexicon())
    file = tmp_path / "own.toml"
    file.write_text(format_proposals(proposals), encoding="utf-8")
    assert set(tomllib.loads(file.read_text(encoding="utf-8"))) == {"movement", "misheard", "alias"}
    own = load_lexicon([file])
    assert [h.movement for h in own.find_movements(["now", "gull", "bet", "scott", "ten", "reps"])] == ["goblet-squat"]
    assert own.look_up("grinder wheel").id == "mountain-climber"
    assert propose_entries([("a.json", make_all()[0])], own) == []


def test_entries_are_added_behind_what_is_there(tmp_path):
    """What the file holds stays byte for byte; what it has already is not added twice, nor given another meaning."""
    file = tmp_path / "own.toml"
    before = '# mine\n[[alias]]\nsaid = "grinder wheel"\nmeans = "burpee"'
    file.write_text(before, encoding="utf-8")
    proposals = propose_entries([(f"{n}.json", r) for n, r in enumerate(make_all())], lexicon())
    done = add_proposals(file, proposals, lexicon())
    assert [p.words for p in done.refused] == ["grinder wheel"]
    after = file.read_text(encoding="utf-8")
    assert after.startswith(before + "\n\n#")
    read_own_lexicon(file).put_on(lexicon().data)
    assert add_proposals(file, proposals, lexicon()).added == ()
    assert file.read_text(encoding="utf-8") == after


def test_a_file_that_is_no_lexicon_is_left_alone(tmp_path):
    """Named with its line."""
    file = tmp_path / "own.toml"
    file.write_text(before := '[[alias]]\nsaid = 3\nmeans = "burpee"\n', encoding="utf-8")
    proposals = propose_entries([("a.json", make_all()[0])], lexicon())
    with pytest.raises(SetdownError) as error:
        add_proposals(file, proposals, lexicon())
    assert error.value.line == 2
    assert file.read_text(encoding="utf-8") == before


@pytest.mark.parametrize(
    ("words", "name", "alike"),
    [
        ("gobble its quat", "goblet squat", True),
        ("dead lists", "deadlift", True),
        ("blank", "plank", True),
        ("girl", "curl", True),
        ("grinder wheel", "mountain climber", False),
        ("hammer", "plank", False),
        ("hammer curl", "zottman curl", False),
    ],
)
def test_what_sounds_like_a_name(words, name, alike):
    """By letters or by consonants."""
    assert sounds_like(words, name) == alike
