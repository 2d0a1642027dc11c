"""Merging: what a person decided is never lost, what is new is taken, and both are never taken twice."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal
from itertools import pairwise
from random import Random

import pytest
from hypothesis import assume, given, settings

from make_edits import (
    ANA,
    BO,
    classes,
    edit_class,
    edit_set,
    extract_again,
    lexicon,
    list_wrong,
    make_class,
    randoms,
    reread,
)
from make_routine import make_routine
from setdown.model.routine import Evidence, Load, Reps, Routine, Set
from setdown.review import operations as ops
from setdown.review.merge import merge_routines
from setdown.review.refused import EditRefusedError
from setdown.sheet import routine_to_rows

CASES = settings(max_examples=60, deadline=None)


def merge(base: Routine, edited: Routine, new: Routine) -> Routine:
    return merge_routines(base, edited, new).routine


def find_set(routine: Routine, set_id: str) -> Set:
    return next(one for _, _, one in routine.iter_sets() if one.id == set_id)


def set_field(routine: Routine, set_id: str, field: str, text: str, mark=ANA) -> Routine:
    return ops.set_field(routine, set_id, field, text, mark, lexicon())


def list_decisions(routine: Routine) -> Counter:
    """Every value that a person decided, with who; of a set that was added only that it is there."""
    found: Counter = Counter()
    for _, _, one in routine.iter_sets():
        for field, mark in one.edited.items():
            if field not in ("set", "section", "group"):
                value = one.exercise.name if field == "exercise" else one.model_dump(mode="json")[field]
                found[field, str(value), mark.by] += 1
    return found


# --- the four laws ---------------------------------------------------------------------------------------------------


@CASES
@given(classes(), randoms)
def test_nothing_new_leaves_the_edited_routine(base, rng):
    """merge(base, x, base) = x, exactly."""
    edited = edit_class(base, rng)
    merged = merge_routines(base, edited, reread(base))
    assert merged.routine == edited
    assert merged.clashes == ()


@CASES
@given(classes(), randoms)
def test_nothing_edited_takes_the_new_routine(base, rng):
    """merge(base, base, y) = y, exactly."""
    new = extract_again(base, rng)
    merged = merge_routines(base, reread(base), new)
    assert merged.routine == new
    assert merged.clashes == ()


@CASES
@given(classes(), randoms)
def test_no_edit_is_lost(base, rng):
    """Every value that a person decided is in the result; every set that a person deleted is not."""
    edited, new = edit_class(base, rng), extract_again(base, rng)
    merged = merge(base, edited, new)
    lost = list_decisions(edited) - list_decisions(merged)
    assert not lost
    deleted = {x.id for _, _, x in base.iter_sets()} - {x.id for _, _, x in edited.iter_sets()}
    assert not deleted & {x.id for _, _, x in merged.iter_sets()}
    answered = Counter(q.answer for q in edited.queries if q.settled and q.set in {x.id for _, _, x in new.iter_sets()})
    assert not answered - Counter(q.answer for q in merged.queries if q.settled)


@CASES
@given(classes(), randoms)
def test_the_order_of_independent_edits_does_not_matter(base, rng):
    """Ana's edits of some sets and Bo's of others come to the same whoever is merged first, and one after the other."""
    ids = [x.id for _, _, x in base.iter_sets()]
    assume(len(ids) > 1)
    rng.shuffle(ids)
    half = len(ids) // 2
    try:
        ana, bo, both = base, base, base
        for ident in ids[:half]:
            state = rng.getstate()
            ana = edit_set(ana, ident, rng, ANA)
            rng.setstate(state)
            both = edit_set(both, ident, rng, ANA)
        for ident in ids[half:]:
            state = rng.getstate()
            bo = edit_set(bo, ident, rng, BO)
            rng.setstate(state)
            both = edit_set(both, ident, rng, BO)
    except EditRefusedError:
        assume(False)
    one, other = merge_routines(base, reread(ana), reread(bo)), merge_routines(base, reread(bo), reread(ana))
    assert list_rows(one.routine) == list_rows(other.routine) == list_rows(both)
    assert list_decisions(one.routine) == list_decisions(other.routine) == list_decisions(both)
    assert one.clashes == other.clashes == ()


def list_rows(routine: Routine) -> list[dict[str, str]]:
    """The sheet, but for rounds: they follow from the moves of all sets together."""
    return [{k: v for k, v in row.items() if k != "round"} for row in routine_to_rows(routine)]


@CASES
@given(classes(), randoms)
def test_nothing_is_there_twice(base, rng):
    """No set, no query, no id; and what both found is one, also when both made the very same edits."""
    edited, new = edit_class(base, rng), extract_again(base, rng)
    merged = merge(base, edited, new)
    sets = [x for _, _, x in merged.iter_sets()]
    assert all(a.end <= b.start + 0.0015 for a, b in pairwise(sets))
    assert len({x.id for x in sets}) == len(sets)
    assert len({q.id for q in merged.queries}) == len(merged.queries)
    groups = [g.id for s in merged.sections for g in s.groups]
    assert len(set(groups)) == len(groups)
    assert merge_routines(base, edited, reread(edited)).routine == edited


@CASES
@given(classes(), randoms)
def test_the_result_is_right_or_says_what_is_not(base, rng):
    """Nothing is wrong with it, or else a query that must be answered tells of it."""
    merged = merge_routines(base, edit_class(base, rng), extract_again(base, rng))
    told = " ".join(q.message for q in merged.clashes if q.severity == "must")
    assert [problem for problem in list_wrong(merged.routine) if problem.split(": ", 1)[1] not in told] == []


def test_the_random_cases_are_about_something():
    """Both sides change, and now and then they clash; or the laws above would hold for nothing."""
    rng, clashes, changed = Random(4), 0, 0
    for _ in range(60):
        base = make_class(rng)
        edited, new = edit_class(base, rng), extract_again(base, rng)
        clashes += bool(merge_routines(base, edited, new).clashes)
        changed += edited != base and new != base
    assert changed > 40
    assert 5 < clashes < 55


# --- one by one ------------------------------------------------------------------------------------------------------


def test_each_side_changes_another_value_of_one_set():
    """Both are taken; the new extraction's confidence comes with its value."""
    base = make_routine()
    new = make_routine()
    one = new.iter_sets()[0][2]
    one.reps, one.confidence["reps"] = Reps(lo=12, hi=12), 0.7
    merged = find_set(merge(base, set_field(base, "s1", "load", "14 kg"), new), "s1")
    assert (str(merged.reps), merged.confidence["reps"]) == ("12", 0.7)
    assert (merged.load, merged.edited) == (Load(value=Decimal(14), unit="kg", basis="per_hand"), {"load": ANA})


def test_a_clash_is_a_query_with_both_values():
    """The person's value stays; either suggestion settles it."""
    base, new = make_routine(), make_routine()
    new.iter_sets()[0][2].load = Load(value=Decimal(16), unit="kg", basis="per_hand")
    merged = merge_routines(base, set_field(base, "s1", "load", "14 kg"), new)
    assert find_set(merged.routine, "s1").load == Load(value=Decimal(14), unit="kg", basis="per_hand")
    [clash] = merged.clashes
    assert (clash.set, clash.field, clash.severity, clash.state) == ("s1", "load", "must", "open")
    assert clash.suggestions == ["14 kg per hand", "16 kg per hand"]
    assert "Ana" in clash.message
    assert clash in merged.routine.queries
    for suggestion, value in zip(clash.suggestions, (14, 16), strict=True):
        settled = ops.answer_query(merged.routine, clash.id, suggestion, BO, lexicon())
        assert find_set(settled, "s1").load.value == value


def test_the_same_value_from_both_is_no_clash():
    """The edit stays a person's."""
    base, new = make_routine(), make_routine()
    new.iter_sets()[0][2].reps = Reps(lo=12, hi=12)
    merged = merge_routines(base, set_field(base, "s1", "reps", "12"), new)
    assert (merged.clashes, find_set(merged.routine, "s1").edited) == ((), {"reps": ANA})


def test_a_value_that_a_person_vouched_for_is_kept():
    """Even where it was what extraction had said: now it says something else."""
    base, new = make_routine(), make_routine()
    new.iter_sets()[0][2].reps = Reps(lo=12, hi=12)
    sure = ops.set_field(base, "s1", "reps", "10", ANA, lexicon(), confirm=True)
    merged = merge_routines(base, sure, new)
    assert str(find_set(merged.routine, "s1").reps) == "10"
    assert [q.field for q in merged.clashes] == ["reps"]


@pytest.mark.parametrize(
    ("start", "end", "until", "found"),
    [(112.0, 118.0, "1:51", (112.0, 118.0)), (112.0, 120.0, "1:54", (114.0, 120.0)), (112.0, 119.0, "1:58", None)],
)
def test_a_set_that_only_the_new_extraction_has(start, end, until, found):
    """Is taken where there is room, cut where it reaches a little into an edited set, told of where there is none."""
    base, new = make_routine(), make_routine()
    new.sections[1].groups[0].sets.append(
        find_set(new, "s4").model_copy(update={"id": "x", "start": start, "end": end})
    )
    merged = merge_routines(base, set_field(base, "s1", "end", until), new)
    spans = {x.id: (x.start, x.end) for _, _, x in merged.routine.iter_sets()}
    assert spans.get("x") == found
    assert spans["s1"][1] == {"1:51": 111.0, "1:54": 114.0, "1:58": 118.0}[until]
    told = [q.message for q in merged.clashes]
    assert told == (
        [] if found else ["At 1:52 the new extraction has child's pose; here it is: another set at that time."]
    )
    assert list_wrong(merged.routine) == []


def test_a_set_that_a_person_deleted_stays_deleted():
    """Also when the new extraction has it changed; then a query says so."""
    base, new = make_routine(), make_routine()
    edited = ops.delete_set(base, "s1", ANA)
    assert [x.id for _, _, x in merge(base, edited, new).iter_sets()] == ["s2", "s3", "s4"]
    find_set(new, "s1").confidence["load"] = 0.2
    assert merge_routines(base, edited, new).clashes == ()
    find_set(new, "s1").reps = Reps(lo=15, hi=15)
    [clash] = merge_routines(base, edited, new).clashes
    assert (clash.severity, clash.set) == ("should", "")
    assert "goblet squat, 15 reps, 10 lb per hand" in clash.message


def test_a_set_that_is_not_found_any_more():
    """Goes, unless a person has edited it: then it stays, and a query asks."""
    base, new = make_routine(), make_routine()
    new.sections[1].groups[1].sets[1:] = []
    assert [x.id for _, _, x in merge(base, base, new).iter_sets()] == ["s1", "s2", "s4"]
    kept = merge_routines(base, set_field(base, "s3", "reps", "9"), new)
    assert [x.id for _, _, x in kept.routine.iter_sets()] == ["s1", "s2", "s3", "s4"]
    assert [(q.set, q.severity) for q in kept.clashes] == [("s3", "must")]


def test_a_set_with_a_new_id_is_still_the_set():
    """Found by time and movement; its edits and answered queries come along under the new id."""
    base, new = make_routine(), make_routine()
    find_set(new, "s1").id = "s1-new"
    new.queries = [q.model_copy(update={"set": "s1-new"}) if q.set == "s1" else q for q in new.queries]
    edited = ops.answer_query(base, "q1", "12 kg", ANA, lexicon())
    merged = merge(base, edited, reread(new))
    assert find_set(merged, "s1-new").edited == {"load": ANA}
    assert next((q.id, q.set, q.state) for q in merged.queries) == ("q1", "s1-new", "accepted")
    assert len(merged.queries) == 3


def test_a_new_query_about_an_edited_value_is_answered():
    """Nobody is asked again what somebody has decided."""
    base, new = make_routine(), make_routine()
    query = new.queries[0].model_copy(update={"id": "q7", "code": "unsure", "field": "reps"})
    new.queries.append(query)
    merged = merge(base, set_field(base, "s1", "reps", "11"), new)
    assert next(q for q in merged.queries if q.id == "q7").state == "accepted"
    assert next(q for q in merge(base, base, new).queries if q.id == "q7").state == "open"


def test_small_shifts_of_time_are_no_clash():
    """A start that a person set stays when extraction moves its own by less than a second; more is asked about."""
    base = make_routine()
    edited = set_field(base, "s1", "start", "60")
    for shift, clashes in ((0.6, 0), (5.0, 1)):
        new = make_routine()
        find_set(new, "s1").start = 62.0 + shift
        merged = merge_routines(base, edited, new)
        assert find_set(merged.routine, "s1").start == 60.0
        assert len(merged.clashes) == clashes


def test_quotes_of_a_corrected_transcript_take_the_place_of_the_old_ones():
    """Edited values keep no quote of words that may not be there any more."""
    base, new = make_routine(), make_routine()
    new.source.sha256 = "f" * 64
    fresh = Evidence(cue=1, char_start=0, char_end=4, quote="here", at=60.0)
    for _, _, one in new.iter_sets():
        one.evidence = {field: [fresh] for field in one.evidence}
        one.coaching = []
    edited = set_field(ops.split_set(base, "s3", 190.0, ANA), "s1", "load", "14 kg")
    merged = merge(base, edited, new)
    quotes = {e.quote for _, _, x in merged.iter_sets() for pieces in x.evidence.values() for e in pieces}
    assert quotes == {"here"}
    assert list_wrong(merged) == []


def test_the_status_of_a_merge():
    """A routine that is one of the two keeps its status; anything that is new to both is a draft."""
    base = make_routine()
    signed = set_field(base, "s1", "reps", "12").model_copy(update={"status": "reviewed"})
    assert merge(base, signed, base).status == "reviewed"
    new = make_routine()
    find_set(new, "s2").reps = Reps(lo=6, hi=6)
    assert merge(base, signed, new).status == "draft"


def test_titles_that_both_changed():
    """The person's stays, and the query has both."""
    base = make_routine()
    edited, new = (base.model_copy(update={"title": title}) for title in ("Ana's", "Extracted"))
    merged = merge_routines(base, edited, new)
    assert merged.routine.title == "Ana's"
    assert [q.suggestions for q in merged.clashes] == [["Ana's", "Extracted"]]


def test_groups_that_both_changed_keep_what_the_person_did():
    """A set that a person moved stays in its group although the new extraction regroups others."""
    base = make_routine()
    edited = ops.move_set(base, "s1", "2", ANA)
    new = make_routine()
    new.sections[1].groups[1].arrangement = "circuit"
    merged = merge(base, edited, new)
    assert [[x.id for x in g.sets] for s in merged.sections for g in s.groups] == [["s1", "s2", "s3"], ["s4"]]
    assert merged.sections[1].groups[0].arrangement == "circuit"


@pytest.mark.parametrize("side", ["edited", "new"])
def test_a_class_without_sets(side):
    """On either side, or both, there may be nothing."""
    base = make_routine()
    empty = base.model_copy(update={"sections": [], "queries": []})
    args = (base, empty, base) if side == "edited" else (base, base, empty)
    assert merge(*args) == empty
    assert merge(empty, base, empty) == merge(empty, empty, base) == base
