"""Sign off: draft, reviewed, published."""

from __future__ import annotations

import pytest

from make_edits import ANA, BO, lexicon
from make_routine import make_routine
from setdown.model.routine import Routine
from setdown.review import operations as ops
from setdown.review.merge import merge_routines
from setdown.review.signing import SignOffRefusedError, sign_off


def make_pressing() -> Routine:
    """A routine with a query that must be answered."""
    routine = make_routine()
    routine.queries[0].severity = "must"
    return routine


def test_from_draft_to_reviewed_to_published():
    """Each step is signed; a step that was taken is not taken again."""
    reviewed = sign_off(make_routine(), "reviewed", ANA)
    published = sign_off(reviewed, "published", BO)
    assert [(s.status, s.by) for s in published.signatures] == [("reviewed", "Ana"), ("published", "Bo")]
    assert published.status == "published"
    assert sign_off(published, "published", BO) is published
    assert sign_off(published, "reviewed", BO) is published


def test_a_pressing_query_is_in_the_way():
    """It is named; answered or dismissed it is not in the way any more. Other queries may wait."""
    with pytest.raises(SignOffRefusedError, match="1 open query") as refused:
        sign_off(make_pressing(), "reviewed", ANA)
    assert [q.id for q in refused.value.queries] == ["q1"]
    answered = ops.answer_query(make_pressing(), "q1", "10 kg", ANA, lexicon())
    dismissed = ops.dismiss_query(make_pressing(), "q1", ANA)
    for routine in (answered, dismissed):
        assert sign_off(routine, "reviewed", ANA).status == "reviewed"


def test_what_is_wrong_is_in_the_way():
    """A routine with a finding cannot be signed off."""
    routine = make_routine()
    routine.iter_sets()[0][2].end = 130.0
    with pytest.raises(SignOffRefusedError, match="1 finding") as refused:
        sign_off(routine, "reviewed", ANA)
    assert refused.value.findings[0].code == "sets-overlap"


def test_a_draft_is_not_published():
    """It is reviewed first."""
    with pytest.raises(SignOffRefusedError, match="draft"):
        sign_off(make_routine(), "published", ANA)


def test_any_later_change_makes_a_draft():
    """By an edit, by an answer, by a merge that brings anything new."""
    signed = sign_off(make_routine(), "reviewed", ANA)
    base, new = make_routine(), make_routine()
    new.iter_sets()[1][2].side = "right"
    for after in (
        ops.set_field(signed, "s1", "reps", "9", BO, lexicon()),
        ops.dismiss_query(signed, "q1", BO),
        ops.delete_set(signed, "s1", BO),
        merge_routines(base, ops.set_field(signed, "s1", "reps", "9", BO, lexicon()), new).routine,
        merge_routines(base, signed, new).routine,
    ):
        assert (after.status, after.signatures) == ("draft", [])
