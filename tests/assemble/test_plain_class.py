"""What the shipped weights make of a class in which everything is said plainly."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

import pytest

from assemble.plain_class import GOBLET, MAIN, PLAIN, ROW, SPLIT
from make_class import assemble_class, make_class
from setdown.check import check_routine
from setdown.model.routine import Routine, Set


@pytest.fixture(scope="module")
def routine() -> Routine:
    """The routine of the plain class."""
    return assemble_class(PLAIN)[0]


@pytest.fixture(scope="module")
def read_sets(routine) -> Callable[..., list[Set]]:
    """Sets of some sections, of some movements."""

    def read(*sections: str, of: str = "") -> list[Set]:
        return [x for s, _, x in routine.iter_sets() if s.kind in sections and of in ("", x.exercise.id)]

    return read


def test_every_move_is_known(read_sets):
    """Names said, said in short ('your rows'), and not said at all (the other leg)."""
    assert [s.exercise.id for s in read_sets("warm_up", "main", "cool_down")] == [
        *("march-in-place", "arm-circle"),
        *MAIN,
        *("seated-forward-fold", "knees-to-chest"),
    ]


def test_sections_are_cut_where_the_talk_turns(routine):
    """Warm-up, work and cool-down, with the talk before and after."""
    assert [(s.kind, len([x for g in s.groups for x in g.sets])) for s in routine.sections] == [
        *(("intro", 0), ("warm_up", 2), ("main", 10), ("cool_down", 2), ("outro", 0)),
    ]


def test_two_supersets(routine):
    """Two blocks of two rounds each."""
    [main] = [s for s in routine.sections if s.kind == "main"]
    assert [(g.arrangement, g.rounds, len(g.sets)) for g in main.groups] == [("superset", 2, 4), ("superset", 2, 6)]


def test_reps_are_said_or_carried(read_sets):
    """Ten everywhere in the main part, none in the warm-up and the stretches."""
    assert {str(s.reps) for s in read_sets("main")} == {"10"}
    assert {s.origin["reps"] for s in read_sets("main")} <= {"said", "carried", "declared"}
    assert [s.reps for s in read_sets("warm_up", "cool_down")] == [None] * 4


def test_sides_are_said_and_switched(read_sets):
    """Left and right of the split squats in both rounds; nothing else has a side."""
    assert [s.side for s in read_sets("main", of=SPLIT)] == ["left", "right", "left", "right"]
    others = [s.side for s in read_sets("warm_up", "main", "cool_down") if s.exercise.id != SPLIT]
    assert others == [None] * len(others)


def test_loads_stay_in_force(read_sets):
    """Twelve pounds a hand for the rows of both rounds: said first, then carried."""
    first, second = read_sets("main", of=ROW)
    for s in (first, second):
        assert s.load is not None
        assert (s.load.value, s.load.unit, s.load.basis) == (Decimal(12), "lb", "per_hand")
    assert first.origin["load"] == "said"
    assert second.origin["load"] == "carried"


def test_pulses_end_the_last_rows(read_sets):
    """The finisher has its kind and its moment, and no other set has one."""
    last = read_sets("main", of=ROW)[-1]
    assert last.finisher is not None
    assert last.finisher.kind == "pulses"
    assert last.finisher.start is not None
    assert last.start < last.finisher.start < last.end
    assert last.finisher.end == last.end
    assert [s.id for s in read_sets("warm_up", "main", "cool_down") if s.finisher] == [last.id]


def test_the_stretch_is_timed(read_sets):
    """Thirty seconds were said for it."""
    assert read_sets("cool_down")[0].work_s == 30


def test_what_was_announced_is_declared(routine):
    """Two rounds and ten reps, for the class."""
    assert {("class", "sets", "2"), ("class", "reps", "10")} <= {(d.scope, d.field, d.value) for d in routine.declared}
    assert all(d.evidence for d in routine.declared)


def test_the_kit_that_is_needed(routine):
    """Dumbbells, with the load that was used."""
    [dumbbells] = [e for e in routine.equipment if e.id == "dumbbell"]
    assert [(load.value, load.unit) for load in dumbbells.loads] == [(Decimal(12), "lb")]
    assert dumbbells.evidence


def test_the_routine_is_sound(routine):
    """No finding but notes, with every quote compared."""
    assert [f for f in check_routine(routine, make_class(PLAIN)[0]) if f.severity != "note"] == []


def test_ids_are_stable(routine):
    """The same transcript gives the same ids; each set has its own."""
    again = assemble_class(PLAIN)[0]
    ids = [x.id for _, _, x in routine.iter_sets()]
    assert [x.id for _, _, x in again.iter_sets()] == ids
    assert len(set(ids)) == len(ids)
    assert all(x.id.startswith(x.exercise.id) for _, _, x in routine.iter_sets())


@pytest.mark.parametrize(
    ("said", "instead"),
    [
        ("good morning everybody", "good evening everybody"),
        ("in the boathouse", "in the old mill house"),
        ("have a drink of water", "have a very long drink of water"),
        ("see you next week", "bye bye"),
    ],
)
def test_a_word_far_away_leaves_ids_alone(routine, said, instead):
    """Ids depend on the movement, the side and the words around the start of the set only."""
    assert PLAIN.count(said) == 1
    changed = assemble_class(PLAIN.replace(said, instead))[0]
    assert [x.id for _, _, x in changed.iter_sets()] == [x.id for _, _, x in routine.iter_sets()]


def test_a_word_at_the_start_of_a_set_changes_its_id_alone(routine):
    """What changed is seen; the other sets keep their ids."""
    changed = assemble_class(PLAIN.replace("[ and down chest up _10", "[ and down chest proud _10"))[0]
    pairs = zip(routine.iter_sets(), changed.iter_sets(), strict=True)
    differing = [a.exercise.id for (_, _, a), (_, _, b) in pairs if a.id != b.id]
    assert differing == [GOBLET]
