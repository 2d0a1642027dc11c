"""Edits of a routine: what each does, what it refuses, and that nothing else changes."""

from __future__ import annotations

from decimal import Decimal
from random import Random

import pytest
from hypothesis import given, settings

from make_edits import ANA, BO, classes, edit_once, lexicon, list_wrong, make_class, randoms, read_samples
from make_routine import make_routine
from setdown.document import format_routine
from setdown.model.routine import Load, Reps, Routine, Set, Signature
from setdown.review import operations as ops
from setdown.review.operations import EditRefusedError


def find_set(routine: Routine, set_id: str) -> Set:
    return next(one for _, _, one in routine.iter_sets() if one.id == set_id)


def set_field(routine: Routine, set_id: str, field: str, text: str) -> Routine:
    return ops.set_field(routine, set_id, field, text, ANA, lexicon())


@pytest.mark.parametrize(
    ("field", "text", "name", "value"),
    [
        ("exercise", "plank", "exercise", "plank"),
        ("exercise", "bent-over-row", "exercise", "bent-over row"),
        ("exercise", "frog flap", "exercise", "frog flap"),
        ("round", "1", "round", 1),
        ("side", "each", "side", "each"),
        ("reps", "8-10", "reps", Reps(lo=8, hi=10)),
        ("counted", "9", "counted", 9),
        ("work_s", "0:45", "work_s", 45.0),
        ("load", "2x15 lb", "load", Load(value=Decimal(15), unit="lb", basis="per_hand")),
        ("unit", "kg", "load", Load(value=Decimal(10), unit="kg", basis="per_hand")),
        ("basis", "", "load", Load(value=Decimal(10), unit="lb")),
        ("rel", "heavier", "load", Load(value=Decimal(10), unit="lb", basis="per_hand", rel="heavier")),
        ("tempo", "3-1-1", "tempo", "3-1-1"),
        ("effort", "RPE 8", "effort", "RPE 8"),
        ("finisher", "hold", "finisher", "hold"),
        ("rest_after_s", "30", "rest_after_s", 30.0),
        ("start", "1:03", "start", 63.0),
        ("end", "1:40.5", "end", 100.5),
    ],
)
def test_a_cell_becomes_an_edited_value(field, text, name, value):
    """With the origin, full confidence, who and when; nothing else of the set is touched."""
    before = make_routine()
    after = set_field(before, "s1", field, text)
    one, old = find_set(after, "s1"), find_set(before, "s1")
    got = getattr(one, name)
    assert (got.name if name == "exercise" else got.kind if name == "finisher" else got) == value
    if got != getattr(old, name):
        assert (one.origin[name], one.confidence[name], one.edited[name]) == ("edited", 1.0, ANA)
    others = set(Set.model_fields) - {name, "origin", "confidence", "edited", "rest_after_s"}
    assert {f: getattr(one, f) for f in others} == {f: getattr(old, f) for f in others}
    assert list_wrong(after) == []


def test_a_known_movement_takes_its_id_and_keeps_what_was_said():
    """A name that the lexicon does not know has no id."""
    one = find_set(set_field(make_routine(), "s1", "exercise", "Frog Flap"), "s1")
    assert (one.exercise.id, one.exercise.name, one.exercise.said) == ("", "Frog Flap", "goblet squat")
    assert find_set(set_field(make_routine(), "s1", "exercise", "planks"), "s1").exercise.id == "plank"


def test_a_value_that_is_taken_away_is_edited_too():
    """A later extraction must not bring it back unasked."""
    one = find_set(set_field(make_routine(), "s1", "load", "none"), "s1")
    assert (one.load, one.origin["load"], one.edited["load"]) == (None, "edited", ANA)


def test_what_is_typed_and_there_already_changes_nothing():
    """Unless a person vouches for it."""
    routine = make_routine()
    assert set_field(routine, "s1", "reps", "10") is routine
    sure = ops.set_field(routine, "s1", "reps", "10", ANA, lexicon(), confirm=True)
    assert find_set(sure, "s1").edited == {"reps": ANA}


@pytest.mark.parametrize(
    ("set_id", "field", "text", "told"),
    [
        ("s9", "reps", "10", "no set 's9'"),
        ("s1", "confidence", "1", "cannot be edited"),
        ("s1", "exercise", "", "exercise"),
        ("s1", "round", "0", "round is '0'"),
        ("s1", "section", "lunch", "section is 'lunch'"),
        ("s1", "group", "9", "group is '9'"),
        ("s1", "start", "2:00", "ends before it starts"),
        ("s1", "end", "2:30", "124"),
        ("s4", "end", "9:00", "after the recording"),
        ("s2", "finisher", "sprint", "finisher is 'sprint'"),
        ("s4", "unit", "kg", "no load to give a unit to"),
    ],
)
def test_an_edit_that_cannot_be(set_id, field, text, told):
    """Is refused with the field and the set, and says what is in the way."""
    routine = make_routine()
    before = format_routine(routine)
    with pytest.raises(EditRefusedError) as refused:
        set_field(routine, set_id, field, text)
    assert told in str(refused.value)
    assert refused.value.field == field or set_id == "s9"
    assert format_routine(routine) == before


def test_several_cells_at_once():
    """A start after the old end is fine when the end comes with it."""
    cells = {"start": "1:52", "end": "1:58", "load": "4", "unit": "kg"}
    after = ops.set_fields(make_routine(), "s1", cells, ANA, lexicon())
    one = find_set(after, "s1")
    assert (one.start, one.end, one.load) == (112.0, 118.0, Load(value=Decimal(4), unit="kg", basis="per_hand"))


def test_rests_follow_the_times():
    """Where nobody has decided them."""
    routine = set_field(make_routine(), "s1", "end", "1:40")
    assert find_set(routine, "s1").rest_after_s == 24.0
    decided = set_field(set_field(make_routine(), "s1", "rest_after_s", "5"), "s1", "end", "1:40")
    assert find_set(decided, "s1").rest_after_s == 5.0


def test_an_edit_answers_the_queries_about_its_field():
    """Only the open ones, and only those about that field of that set."""
    after = set_field(make_routine(), "s1", "load", "12 kg")
    states = {q.id: (q.state, q.answer, q.settled) for q in after.queries}
    assert states["q1"] == ("accepted", "12 kg", ANA)
    assert states["q2"] == ("open", "", None)
    assert states["q3"] == ("dismissed", "", None)


def test_a_set_is_added_where_it_belongs():
    """Among the sets of the group in whose time it lies, else in a group of its own; all of it is edited."""
    between = ops.add_set(
        make_routine(), {"exercise": "plank", "start": "2:43", "end": "2:50", "work_s": "7"}, ANA, lexicon()
    )
    [(section, group, one)] = [p for p in between.iter_sets() if p[2].exercise.name == "plank"]
    assert (section.id, group.id, one.work_s) == ("main", "g2", 7.0)
    assert set(one.origin.values()) == {"edited"}
    assert one.edited["set"] == ANA
    alone = ops.add_set(make_routine(), {"exercise": "plank", "start": "1:52", "end": "1:58"}, ANA, lexicon())
    [(section, group, _)] = [p for p in alone.iter_sets() if p[2].exercise.name == "plank"]
    assert (section.id, len(group.sets)) == ("main", 1)


@pytest.mark.parametrize(
    ("cells", "field"),
    [
        ({"start": "1:52", "end": "1:58"}, "exercise"),
        ({"exercise": "plank", "end": "1:58"}, "start"),
        ({"exercise": "plank", "start": "1:52", "end": "1:58", "reps": "ten"}, "reps"),
    ],
)
def test_a_set_that_cannot_be_added(cells, field):
    """Without a name or times, or with a value that will not do."""
    with pytest.raises(EditRefusedError) as refused:
        ops.add_set(make_routine(), cells, ANA, lexicon())
    assert refused.value.field == field


def test_a_set_cannot_be_added_into_the_time_of_another():
    """One instructor does one set at a time."""
    with pytest.raises(EditRefusedError, match="one set at a time"):
        ops.add_set(make_routine(), {"exercise": "plank", "start": "1:05", "end": "1:30"}, ANA, lexicon())


def test_a_deleted_set_takes_its_queries_along():
    """And its group, when it was the only one in it."""
    after = ops.delete_set(make_routine(), "s1", ANA)
    assert [x.id for _, _, x in after.iter_sets()] == ["s2", "s3", "s4"]
    assert [q.id for q in after.queries] == ["q3"]
    assert [g.id for s in after.sections for g in s.groups] == ["g2", "g3"]


def test_a_split_set_is_two():
    """Both halves keep the values; coaching and finisher go with the half that they belong to."""
    after = ops.split_set(make_routine(), "s3", 190.0, ANA)
    a, b = (x for _, _, x in after.iter_sets() if x.exercise.name == "row" and x.side == "right")
    assert (a.start, a.end, b.start, b.end) == (172.0, 190.0, 190.0, 210.0)
    assert a.reps == b.reps == Reps(lo=8, hi=10)
    assert a.finisher is None
    assert b.finisher is not None
    assert (a.edited["end"], b.edited["start"], b.edited["set"]) == (ANA, ANA, ANA)
    for time in (172.0, 210.0, 50.0):
        with pytest.raises(EditRefusedError, match="not inside"):
            ops.split_set(make_routine(), "s3", time, ANA)


def test_a_split_set_can_be_joined_again():
    """Times, values and queries are then as they were."""
    before = make_routine()
    split = ops.split_set(before, "s1", 80.0, ANA)
    halves = [x.id for _, _, x in split.iter_sets()][:2]
    one, old = find_set(ops.join_sets(split, halves[0], halves[1], BO), "s1"), find_set(before, "s1")
    assert (one.start, one.end, one.reps, one.load) == (old.start, old.end, old.reps, old.load)
    assert one.coaching == old.coaching


def test_joined_sets_fill_each_other_in():
    """The first one's values count; the second gives what the first has not; its queries are about the first now."""
    after = ops.join_sets(make_routine(), "s2", "s3", ANA)
    one = find_set(after, "s2")
    assert (one.start, one.end, one.side) == (124.0, 210.0, "left")
    assert one.finisher is not None
    assert [x.id for _, _, x in after.iter_sets()] == ["s1", "s2", "s4"]
    with pytest.raises(EditRefusedError, match="follow each other"):
        ops.join_sets(make_routine(), "s1", "s3", ANA)


def test_a_set_moves_to_another_group():
    """By the number of the group in the class; a group that loses its last set goes."""
    after = ops.move_set(make_routine(), "s1", "2", ANA)
    assert [(g.id, [x.id for x in g.sets]) for s in after.sections for g in s.groups] == [
        ("g2", ["s1", "s2", "s3"]),
        ("g3", ["s4"]),
    ]
    assert find_set(after, "s1").edited["group"] == ANA
    parted = ops.move_set(after, "s2", "new", ANA)
    assert [[x.id for x in g.sets] for s in parted.sections for g in s.groups] == [["s1"], ["s2"], ["s3"], ["s4"]]


def test_a_set_cannot_stand_between_the_sets_of_another_group():
    """The message names the set that would be in between."""
    with pytest.raises(EditRefusedError, match="row at 2:04 would stand between the sets of another group"):
        ops.move_set(make_routine(), "s4", "1", ANA)


def test_a_set_changes_places_with_its_neighbour():
    """The spans stay, what was done in them is exchanged."""
    after = ops.shift_set(make_routine(), "s2", "later", ANA)
    assert [(x.id, x.start, x.end) for _, _, x in after.iter_sets()][1:3] == [
        ("s3", 124.0, 160.0),
        ("s2", 172.0, 210.0),
    ]
    with pytest.raises(EditRefusedError, match="first of the class"):
        ops.shift_set(make_routine(), "s1", "earlier", ANA)


def test_a_set_goes_to_another_section():
    """The section of that kind beside it, or a new one; the bounds of the sections follow."""
    after = set_field(make_routine(), "s3", "section", "cool_down")
    section, group, _ = next(p for p in after.iter_sets() if p[2].id == "s3")
    assert (section.kind, section.start, len(group.sets)) == ("cool_down", 172.0, 1)
    assert list_wrong(after) == []
    fresh = set_field(make_routine(), "s1", "section", "warm_up")
    assert [s.kind for s in fresh.sections] == ["intro", "warm_up", "main", "cool_down"]


def test_the_arrangement_and_rounds_of_a_group():
    """Marked as a person's; fewer rounds than its sets count to are refused."""
    after = ops.change_group(make_routine(), "g2", {"arrangement": "circuit", "rounds": "3", "rest_s": "20"}, ANA)
    group = after.sections[1].groups[1]
    assert (group.arrangement, group.rounds, group.rest_s) == ("circuit", 3, 20.0)
    assert set(group.edited) == {"arrangement", "rounds", "rest_s"}
    with pytest.raises(EditRefusedError):
        ops.change_group(make_routine(), "g2", {"rounds": "0"}, ANA)


def test_a_set_that_does_another_move_now_counts_its_rounds_on():
    """After round two of squats, a set that becomes squats is not round one of them; unless a person decided so."""
    routine = make_routine()
    [squat, first, second, _] = [x for _, _, x in routine.iter_sets()]
    first.side = second.side = None
    first.exercise, first.round, routine.sections[1].groups[1].rounds = squat.exercise, 2, 2
    assert find_set(set_field(routine, "s3", "exercise", "goblet squat"), "s3").round == 2
    decided = set_field(set_field(routine, "s3", "round", "2"), "s3", "round", "1")
    with pytest.raises(EditRefusedError, match="comes after round 2"):
        set_field(decided, "s3", "exercise", "goblet squat")


def test_a_query_is_answered_with_a_suggestion_or_a_value_of_ones_own():
    """The value becomes the set's; the query keeps the answer and who gave it."""
    after = ops.answer_query(make_routine(), "q1", "10 kg", ANA, lexicon())
    assert find_set(after, "s1").load == Load(value=Decimal(10), unit="kg", basis="per_hand")
    query = ops.find_query(after, "q1")
    assert (query.state, query.answer, query.settled) == ("accepted", "10 kg", ANA)
    same = ops.answer_query(make_routine(), "q1", "10 lb", ANA, lexicon())
    assert find_set(same, "s1").edited == {"load": ANA}
    with pytest.raises(EditRefusedError):
        ops.answer_query(make_routine(), "q1", "ten something", ANA, lexicon())
    with pytest.raises(EditRefusedError, match="no query"):
        ops.answer_query(make_routine(), "q9", "10 lb", ANA, lexicon())


def test_a_query_is_dismissed_and_asked_again():
    """Dismissing leaves the value; asking again leaves it too."""
    dismissed = ops.dismiss_query(make_routine(), "q1", ANA)
    assert (ops.find_query(dismissed, "q1").state, ops.find_query(dismissed, "q1").settled) == ("dismissed", ANA)
    again = ops.reopen_query(dismissed, "q1", BO)
    assert (ops.find_query(again, "q1").state, ops.find_query(again, "q1").settled) == ("open", None)
    assert find_set(again, "s1") == find_set(make_routine(), "s1")


def test_every_suggestion_of_the_samples_can_be_taken():
    """Whatever extraction suggests is a value that the field takes, or says why not."""
    taken = 0
    for routine in read_samples().values():
        for query in routine.queries:
            for suggestion in query.suggestions:
                after = ops.answer_query(routine, query.id, suggestion, ANA, lexicon())
                assert ops.find_query(after, query.id).state == "accepted"
                assert list_wrong(after) == list_wrong(routine)
                taken += 1
    assert taken > 20


def test_a_signed_routine_becomes_a_draft_again():
    """By any edit, also by one about a query."""
    signed = make_routine()
    signed.status = "reviewed"
    signed.signatures.append(Signature(by="Ana", at=ANA.at, status="reviewed"))
    for after in (set_field(signed, "s1", "reps", "9"), ops.dismiss_query(signed, "q1", ANA)):
        assert (after.status, after.signatures) == ("draft", [])
    assert set_field(signed, "s1", "reps", "10").status == "reviewed"


@settings(max_examples=40, deadline=None)
@given(classes(), randoms)
def test_no_edit_makes_a_routine_wrong_or_touches_the_one_it_was_given(routine, rng):
    """Eight edits at random, one after the other: each result is as valid as the class, and each input stays."""
    for _ in range(8):
        before = format_routine(routine)
        after = edit_once(routine, rng, ANA)
        assert format_routine(routine) == before
        assert list_wrong(after) == []
        routine = after


def test_the_random_edits_do_edit():
    """The property above is about something: most random edits are taken, of every kind."""
    rng = Random(5)
    changed = 0
    for _ in range(60):
        routine = make_class(rng)
        changed += edit_once(routine, rng, ANA) != routine
    assert changed > 25
