"""From settled sets to the routine: sections, groups, rests, ids, origins."""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise

import pytest

from make_class import make_class, settle_class
from setdown.assemble.build import build_routine
from setdown.check import check_routine
from setdown.model.routine import Load, Reps

SET = "[ and down _20 last one ] and rest _30 "
TEXT = f"good morning _5 march {SET} squats {SET} rows {SET} squats {SET} and stretch {SET} bye bye"
SETS = (
    {"exercise": "march-in-place", "section": "warm_up"},
    {"exercise": "goblet-squat", "group": 2, "reps": Reps(lo=10, hi=10)},
    {"exercise": "bent-over-row", "group": 2, "load": Load(value=Decimal(12), unit="lb"), "basis": "per_hand"},
    {"exercise": "goblet-squat", "group": 2, "round": 2, "side": "left"},
    {"exercise": "childs-pose", "section": "cool_down", "group": 3, "work_s": 30},
)


@pytest.fixture(scope="module")
def routine():
    """The routine of the class above."""
    context = settle_class(TEXT, *SETS)
    for draft in context.drafts:
        draft.arrangement = "superset" if draft.section == "main" else "flow"
    return build_routine(context)[0]


def test_sections_follow_each_other_without_a_gap(routine):
    """From the first word to the last, each beginning where the one before ends."""
    assert [s.kind for s in routine.sections] == ["intro", "warm_up", "main", "cool_down", "outro"]
    assert routine.sections[0].start == 4.0
    assert routine.sections[-1].end == routine.source.duration_s
    for before, after in pairwise(routine.sections):
        assert before.end == after.start


def test_groups_hold_their_sets_in_order(routine):
    """With the arrangement, the rounds and the typical rest."""
    [group] = routine.sections[2].groups
    assert [x.exercise.id for x in group.sets] == ["goblet-squat", "bent-over-row", "goblet-squat"]
    assert (group.id, group.arrangement, group.rounds) == ("group-2", "superset", 2)
    assert group.rest_s == pytest.approx(31.2)  # 30 s and three words


def test_a_rest_lasts_until_the_next_set(routine):
    """None after the last set."""
    sets = [x for _, _, x in routine.iter_sets()]
    for before, after in pairwise(sets):
        assert before.rest_after_s == pytest.approx(after.start - before.end)
    assert sets[-1].rest_after_s is None


def test_values_carry_origin_and_confidence(routine):
    """A value that is there has both; a set without one has a confidence of its absence and no origin."""
    squat, row, again = routine.sections[2].groups[0].sets
    assert str(squat.reps) == "10"
    assert (row.load.value, row.load.unit, row.load.basis) == (Decimal(12), "lb", "per_hand")
    assert again.side == "left"
    assert {"exercise", "reps", "span"} == set(squat.origin)
    assert {"exercise", "load", "basis", "span"} == set(row.origin)
    assert "basis" not in squat.confidence
    assert all(squat.confidence[f] == 0.95 for f in ("exercise", "side", "reps", "work_s", "load", "finisher"))


def test_said_without_words_is_inferred(routine):
    """Nothing is called said that cannot be quoted."""
    squat, row, again = routine.sections[2].groups[0].sets
    assert (squat.origin["reps"], row.origin["load"], again.origin["side"]) == ("inferred",) * 3


def test_a_move_that_is_not_named_rests_on_when_it_was():
    """The words of its last set, else its last mention; nothing where it was never named."""
    text = f"a goblet squat {SET} same again {SET} lovely and now {SET}"
    first, again, other = build_routine(
        settle_class(text, {"exercise": "goblet-squat"}, {"exercise": "goblet-squat"}, {"exercise": "push-up"})
    )[1]
    assert first.evidence["exercise"] == again.evidence["exercise"]
    assert [e.quote for e in again.evidence["exercise"]] == ["goblet squat"]
    assert (other.evidence["exercise"], other.origin["exercise"]) == ([], "inferred")


def test_the_span_quotes_its_first_words(routine):
    """Where a set begins can be looked up."""
    assert {x.evidence["span"][0].quote for _, _, x in routine.iter_sets()} == {"and down"}


def test_sets_that_begin_alike_have_different_ids(routine):
    """The same move with the same words around its start is numbered."""
    context = settle_class(f"squats {SET} squats {SET} squats {SET}", *[{"exercise": "goblet-squat"}] * 3)
    ids = [s.id for s in build_routine(context)[1]]
    assert len(set(ids)) == 3
    assert all(i.startswith("goblet-squat-") for i in ids)


def test_the_routine_knows_its_source(routine):
    """Name, digest and timing of the transcript, and the lexicon it was made with."""
    transcript, _ = make_class(TEXT)
    assert routine.source.sha256 == transcript.sha256
    assert routine.source.cue_count == len(transcript.cues)
    assert routine.id == f"routine-{transcript.sha256[:12]}"
    assert routine.made_by.version
    assert len(routine.made_by.lexicon) == 12


def test_the_routine_is_sound(routine):
    """No finding but notes, with every quote compared."""
    assert [f for f in check_routine(routine, make_class(TEXT)[0]) if f.severity != "note"] == []


def test_a_class_without_sets_has_no_sections():
    """And still a source, a title and no queries."""
    context = settle_class("good morning everybody")
    made, sets = build_routine(context)
    assert made.sections == sets == []
    assert made.source.duration_s > 0


def test_an_unknown_movement_keeps_what_was_said():
    """The lexicon has no id for it."""
    context = settle_class(f"doing the lighthouse {SET}", {"exercise": ""})
    [s] = build_routine(context)[1]
    assert (s.exercise.id, s.exercise.name) == ("", "unnamed movement")
    assert s.id.startswith("unknown-")
