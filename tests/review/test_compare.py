"""What differs between two routines, in data, in words and as a page."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from random import Random

import html5lib
import pytest
from hypothesis import given, settings
from jsonschema import Draft202012Validator

from make_edits import ANA, classes, edit_class, extract_again, lexicon, make_class, randoms, read_samples, reread
from make_routine import make_routine
from setdown.check.schema import format_schema
from setdown.model.routine import Exercise, Routine, Set
from setdown.review import operations as ops
from setdown.review.align import align_sets, score_likeness
from setdown.review.compare import compare_routines
from setdown.review.diff_page import render_difference
from setdown.review.diff_schema import difference_schema, format_difference, read_difference_schema
from setdown.review.wording import describe_difference


def say(old: Routine, new: Routine, **options: bool) -> list[str]:
    return describe_difference(compare_routines(old, new, **options))


def set_fields(routine: Routine, set_id: str, **cells: str) -> Routine:
    return ops.set_fields(routine, set_id, cells, ANA, lexicon())


@pytest.mark.parametrize(
    ("set_id", "cells", "line"),
    [
        ("s1", {"load": "14"}, "set 1, goblet squat: load 10 → 14 lb per hand"),
        ("s1", {"load": "14 kg"}, "set 1, goblet squat: load 10 lb per hand → 14 kg per hand"),
        ("s1", {"load": ""}, "set 1, goblet squat: load 10 lb per hand → none"),
        ("s4", {"load": "5 kg"}, "set 4, child's pose: load none → 5 kg"),
        ("s2", {"reps": "12"}, "set 2, row left: reps 8-10 → 12"),
        ("s1", {"exercise": "plank"}, "set 1, plank: was goblet squat"),
        ("s4", {"work_s": "45"}, "set 4, child's pose: work 30 → 45 s"),
        ("s1", {"start": "1:05"}, "set 1, goblet squat: start 1:02 → 1:05"),
        ("s1", {"start": "62.4"}, "set 1, goblet squat: start 1:02.0 → 1:02.4"),
        ("s1", {"reps": "max", "tempo": "3-1-1"}, "set 1, goblet squat: reps 10 → max; tempo none → 3-1-1"),
        ("s2", {"arrangement": "circuit"}, "group 2 is now a circuit (was a superset)"),
        ("s3", {"section": "cool_down"}, "set 3, row right is now in the cool-down and group 3"),
    ],
)
def test_a_change_in_the_words_of_the_trade(set_id, cells, line):
    """The set by its number, name, side and round; the value before and after, the unit once."""
    routine = make_routine()
    assert line in say(routine, set_fields(routine, set_id, **cells))


def test_rounds_are_told_where_there_are_several():
    """A group of one round does not need the word."""
    routine = make_routine()
    [_, first, second, _] = [x for _, _, x in routine.iter_sets()]
    first.side = second.side = None
    second.round, routine.sections[1].groups[1].rounds = 2, 2
    routine = reread(routine)
    assert say(routine, set_fields(routine, "s3", reps="12")) == ["set 3, row round 2: reps 8-10 → 12"]


def test_sets_that_came_and_went():
    """One by one with what was done, several together with the time before them."""
    routine = make_routine()
    one = ops.add_set(routine, {"exercise": "plank", "start": "1:51", "end": "1:54", "work_s": "3"}, ANA, lexicon())
    assert say(routine, one) == ["set 2, plank added at 1:51: 3 s"]
    two = ops.add_set(one, {"exercise": "burpee", "start": "1:55", "end": "1:58"}, ANA, lexicon())
    assert say(routine, two) == ["two sets added after 1:50: plank, burpee"]
    assert say(two, routine) == ["sets 2 to 3 of the old routine are gone: plank, burpee"]
    assert say(one, routine) == ["set 2, plank is gone"]


def test_queries_that_were_dealt_with():
    """Answered, dismissed, asked again, new, no longer asked."""
    routine = make_routine()
    answered = ops.answer_query(routine, "q1", "10 lb", ANA, lexicon())
    assert say(routine, answered) == ["query load-unsure on set 1, goblet squat (load) answered: 10 lb"]
    assert say(answered, routine) == ["query load-unsure on set 1, goblet squat (load) asked again"]
    assert say(routine, ops.dismiss_query(routine, "q2", ANA))[0].endswith("(exercise) dismissed")
    fewer = routine.model_copy(update={"queries": routine.queries[1:]})
    assert say(routine, fewer) == ["query load-unsure on set 1, goblet squat (load) no longer asked"]
    assert say(fewer, routine) == ["query load-unsure on set 1, goblet squat (load) new"]


def test_noise_is_left_out_unless_it_is_asked_for():
    """Ids, confidences, evidence and the wording of notes; each with its path then."""
    old, new = make_routine(), make_routine()
    one = new.iter_sets()[0][2]
    one.confidence["load"] = 0.4
    one.evidence["reps"] = []
    one.id = new.queries[0].set = new.queries[1].set = "another"
    new.queries[0].message = "Ten what?"
    new.made_by.lexicon = "abc"
    assert compare_routines(old, new).same
    noise = say(old, new, with_noise=True)
    assert "sets[0].confidence.load: 0.9 → 0.4" in noise
    assert "sets[0].id: s1 → another" in noise
    assert "made_by.lexicon: none → abc" in noise
    assert any(line.startswith("queries[0].message: Ten of what? → Ten what?") for line in noise)
    assert not compare_routines(old, new, with_noise=True).same


def test_title_status_and_kit():
    """What is said about the class as a whole."""
    old = make_routine()
    new = old.model_copy(update={"title": "Wren's dozen", "status": "reviewed", "equipment": []})
    lines = ["title: Wren's ten → Wren's dozen", "status: draft → reviewed", "kit: 2 dumbbell 10 lb per hand → none"]
    assert say(old, new) == lines


def make_one(ident: str, name: str, start: float, end: float) -> Set:
    return Set(id=ident, exercise=Exercise(id="", name=name), start=start, end=end)


def test_sets_are_paired_by_identity_then_time_and_movement():
    """An id that stays wins; a set that moved in time is found by its name; a set of another name and time is not."""
    old = [make_one("a", "squat", 0, 30), make_one("b", "row", 40, 70), make_one("c", "plank", 80, 110)]
    new = [make_one("x", "rows", 5, 32), make_one("b", "row", 300, 330), make_one("y", "squats", 33, 60)]
    assert align_sets(old, new) == [(0, 2), (1, 1)]
    renamed = [make_one("x", "goblet squat", 1, 30), make_one("y", "row", 40, 71)]
    assert align_sets(old, renamed) == [(0, 0), (1, 1)]
    assert score_likeness(old[0], make_one("z", "plank", 600, 630)) == 0


def test_the_pairing_as_a_whole_is_the_best():
    """Two rows close together go to the two rows they came from, although the first is near to both."""
    old = [make_one("a", "row", 0, 20), make_one("b", "row", 22, 40)]
    new = [make_one("x", "row", 12, 30), make_one("y", "row", 34, 52)]
    assert align_sets(old, new) == [(0, 0), (1, 1)]


@settings(max_examples=30, deadline=None)
@given(classes(), randoms)
def test_differences_are_found_exactly_where_there_are_any(routine, rng):
    """A routine is the same as itself; what is new one way is gone the other; something is told just when there is."""
    assert compare_routines(routine, reread(routine), with_noise=True).same
    other = extract_again(edit_class(routine, rng), rng)
    there, back = compare_routines(routine, other), compare_routines(other, routine)
    assert there.same == back.same
    fates = [sum(d.fate == fate for d in there.sets) for fate in ("added", "removed", "changed")]
    mirrored = [sum(d.fate == fate for d in back.sets) for fate in ("removed", "added", "changed")]
    assert fates[0] - fates[1] == mirrored[0] - mirrored[1] == len(other.iter_sets()) - len(routine.iter_sets())
    assert bool(describe_difference(there)) != there.same
    assert all("\n" not in line for line in describe_difference(there))


def test_the_published_schema_is_that_of_the_model_and_holds():
    """As shipped; every difference of many random ones is valid against it, by an independent validator."""
    assert read_difference_schema() == format_schema(difference_schema())
    schema = json.loads(read_difference_schema())
    Draft202012Validator.check_schema(schema)
    validator, rng = Draft202012Validator(schema), Random(2)
    for _ in range(25):
        routine = make_class(rng)
        found = compare_routines(routine, extract_again(edit_class(routine, rng), rng), with_noise=True)
        assert list(validator.iter_errors(json.loads(format_difference(found)))) == []
    assert list(validator.iter_errors({"same": "perhaps"}))


def test_the_page_holds_everything_and_lets_nothing_in():
    """Valid HTML, no script, nothing from elsewhere; the policy allows only the style that is in it."""
    old = read_samples()["quayside-strength"]
    held = next(one for _, _, one in old.iter_sets()[2:] if one.load and one.load.basis == "per_hand")
    new = set_fields(ops.delete_set(old, old.iter_sets()[1][2].id, ANA), held.id, load="14 kg")
    page = render_difference(compare_routines(old, new), old, new, names=("old.json", "new.json"))
    html5lib.HTMLParser(strict=True).parse(page)
    style = re.search(r"<style>(.*?)</style>", page, flags=re.S)
    digest = base64.b64encode(hashlib.sha256(style[1].encode()).digest()).decode()
    assert f"default-src 'none'; style-src 'sha256-{digest}'" in page.replace("&#39;", "'")
    assert not re.search(r"<script|<link|<img|\bsrc=|\bhref=|\bstyle=|url\(|@import|\bon\w+=", page)
    assert "<del>12 lb per hand</del> <ins>14 kg per hand</ins>" in page
    assert 'class="removed"' in page


def test_hostile_words_are_inert_on_the_page():
    """Script tags, quotes and entities in any text of a routine are only text."""
    bad = "<script>alert(1)</script>\"'&amp;<b>"
    old = make_routine()
    new = set_fields(old.model_copy(update={"title": bad}), "s1", exercise=bad, tempo=bad)
    page = render_difference(compare_routines(old, new), old, new, names=(bad, bad))
    assert "<script" not in page
    assert "<b>" not in page
    assert page.count("&lt;script&gt;") >= 4
    html5lib.HTMLParser(strict=True).parse(page)
