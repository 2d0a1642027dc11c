"""Classes that train the same, and classes that repeat each other."""

from __future__ import annotations

import json
import random
from contextlib import closing
from itertools import combinations

import pytest
from rapidfuzz.distance import Indel

from gold_routines import list_gold, write_folder
from setdown.catalogue.add import add_classes, list_sources
from setdown.catalogue.find_like import find_alike, list_repeats
from setdown.catalogue.like import match_sequences, rank_alike
from setdown.catalogue.query import Query
from setdown.catalogue.store import open_store
from setdown.document import format_routine
from setdown.lexicon import load_lexicon
from setdown.measure import measure_routine


def profile(routine) -> dict[str, float]:
    """What a class trains, from its measures."""
    measures = measure_routine(routine, lexicon=load_lexicon())
    parts = {f"muscle {one.muscle}": float(one.sets) for one in measures.muscle_groups}
    parts |= {f"eased {one.muscle}": float(one.eased) for one in measures.muscle_groups}
    parts |= {f"pattern {one.pattern}": float(one.sets) for one in measures.patterns if one.pattern}
    return parts


def test_likeness_is_the_cosine(store, gold):
    """For one class against all others: the cosine of numpy and scipy's definition, in the same order."""
    distance = pytest.importorskip("scipy.spatial.distance", reason="scipy comes with the extra 'train'")
    names = dict(store.execute("SELECT id, location FROM class"))
    ids = {location.rpartition("/")[2]: id for id, location in names.items()}
    target = gold[0]
    mine = profile(target.routine)
    expected = {}
    for one in gold[1:]:
        theirs = profile(one.routine)
        keys = sorted(mine.keys() | theirs.keys())
        a, b = ([side.get(key, 0.0) for key in keys] for side in (mine, theirs))
        if any(a) and any(b):
            expected[ids[one.name]] = 1 - distance.cosine(a, b)
    found = rank_alike(store, ids[target.name])
    assert {id for id, _ in found} == {id for id, value in expected.items() if value > 1e-12}
    for id, likeness in found:
        assert likeness == pytest.approx(expected[id], abs=1e-6)
    assert [likeness for _, likeness in found] == sorted((likeness for _, likeness in found), reverse=True)


def test_like_among_those_that_answer(store, gold):
    """With conditions only the classes that meet them, with the sets that count."""
    [(id,)] = store.execute("SELECT id FROM class WHERE location LIKE ?", (f"%/{gold[0].name}",)).fetchall()
    answers = find_alike(store, id, Query(muscles=("glutes",), limit=3))
    assert len(answers) == 3
    assert all(answer.hits and answer.likeness for answer in answers)
    assert find_alike(store, id, Query(limit=0))[0].likeness >= answers[0].likeness


@pytest.fixture
def repeating(tmp_path):
    """Twelve classes; three of them again with a move changed, and one again in another order."""
    gold = list_gold(12)
    folder = write_folder(tmp_path / "in", gold)
    for number, one in enumerate(gold[:3]):
        copy = one.routine.model_copy(deep=True)
        copy.source.date = f"2025-01-0{number + 1}"
        sets = [x for _, _, x in copy.iter_sets()]
        sets[number].exercise = sets[-1].exercise
        (folder / f"again-{number}.routine.json").write_text(format_routine(copy))
    other = gold[3].routine.model_copy(deep=True)
    other.source.date = "2025-02-01"
    for section in other.sections:
        for group in section.groups:
            exercises = [x.exercise for x in group.sets][::-1]
            for x, exercise in zip(group.sets, exercises, strict=True):
                x.exercise = exercise
        section.groups.reverse()
    (folder / "shuffled.routine.json").write_text(format_routine(other))
    with closing(open_store(tmp_path / "c", create=True)) as store:
        assert not add_classes(store, list_sources([str(folder)])).failed
        yield store


def test_repeats_are_found(repeating):
    """A class with one move changed repeats the first; the likeness is rapidfuzz's normalized indel similarity."""
    found = {answer.source.rpartition("/")[2]: answer for answer in list_repeats(repeating, Query(limit=0))}
    assert {"again-0.routine.json", "again-1.routine.json", "again-2.routine.json"} <= found.keys()
    for number, one in enumerate(list_gold(3)):
        answer = found[f"again-{number}.routine.json"]
        assert answer.repeats.endswith(f"/{one.name}.vtt")
        steps = [f"{x.exercise.id or x.exercise.name.lower()} {x.side or ''}" for _, _, x in one.routine.iter_sets()]
        changed = steps.copy()
        last = steps[-1].rpartition(" ")[0]
        changed[number] = f"{last} {steps[number].rpartition(' ')[2]}"
        assert answer.likeness == pytest.approx(Indel.normalized_similarity(steps, changed), abs=1e-9)


def vary(steps: list[str], changes: int, chance: random.Random) -> list[str]:
    """The steps with some left out, put in, exchanged with their neighbour or replaced."""
    made = list(steps)
    for _ in range(changes):
        place = chance.randrange(len(made))
        kind = chance.choice(["out", "in", "swap", "other"])
        if kind == "out" and len(made) > 2:
            del made[place]
        elif kind == "in":
            made.insert(place, f"new-{chance.randrange(40)} ")
        elif kind == "swap" and place:
            made[place - 1], made[place] = made[place], made[place - 1]
        else:
            made[place] = f"new-{chance.randrange(40)} left"
    return made


@pytest.mark.parametrize("least", [0.8, 0.9])
def test_no_pair_is_missed(gold, least):
    """Of classes with up to eight changes, every pair that is alike enough by comparing all with all is told."""
    chance = random.Random(3)
    sequences: dict[int, list[str]] = {}
    for one in gold:
        steps = [f"{x.exercise.id or x.exercise.name.lower()} {x.side or ''}" for _, _, x in one.routine.iter_sets()]
        sequences[len(sequences)] = steps
        sequences[len(sequences)] = vary(steps, chance.randrange(9), chance)
    pairs = [
        {a, b}
        for a, b in combinations(sequences, 2)
        if round(Indel.normalized_similarity(sequences[a], sequences[b]), 9) >= least
    ]
    assert len(pairs) > 40
    found = match_sequences(list(sequences), sequences, least)
    assert all({one.id, one.first} in pairs for one in found)
    late = {one.id for one in found}
    assert [pair for pair in pairs if not pair & late] == []
    for one in found:
        assert one.likeness == pytest.approx(
            Indel.normalized_similarity(sequences[one.id], sequences[one.first]), abs=1e-9
        )


def test_ten_repeats_of_one_class(tmp_path):
    """Each is told with the first, and the first is none."""
    one = list_gold(1)[0]
    folder = tmp_path / "in"
    folder.mkdir()
    for number in range(11):
        document = json.loads(format_routine(one.routine))
        document["source"]["date"] = f"2025-03-{number + 1:02d}"
        (folder / f"n{number:02d}.routine.json").write_text(json.dumps(document))
    with closing(open_store(tmp_path / "c", create=True)) as store:
        add_classes(store, list_sources([str(folder)]))
        answers = list_repeats(store, Query(limit=0))
    assert len(answers) == 10
    assert {answer.repeats.rpartition("/")[2] for answer in answers} == {"n00.routine.json"}
    assert {answer.likeness for answer in answers} == {1.0}
