"""The routine model: what it refuses, and that it survives being written and read."""

from __future__ import annotations

import json
from decimal import Decimal

import pytest
from pydantic import ValidationError

from make_routine import make_routine
from setdown.document import format_routine
from setdown.model.routine import Exercise, Load, Mark, Reps, Routine, Set, Signature


def test_a_routine_is_read_back_as_it_was_written():
    """Through JSON, with every key."""
    routine = make_routine()
    assert Routine.model_validate_json(format_routine(routine)) == routine


def test_every_key_is_written():
    """Also those that are empty, so that a reader sees what there is to fill."""
    [one, *_] = [x for _, _, x in make_routine().iter_sets()]
    written = json.loads(one.model_dump_json())
    assert set(written) == set(Set.model_fields) - set(Set.marks)


def test_marks_of_a_reviewer_are_written_when_there_are_any():
    """What was extracted holds no empty marks; what a person decided says who and when, and is read back."""
    routine = make_routine()
    mark = Mark(by="Ana", at="2025-03-02T14:05:09Z")
    [one, *_] = [x for _, _, x in routine.iter_sets()]
    one.edited["load"] = mark
    routine.queries[0].settled = mark
    routine.signatures.append(Signature(by="Ana", at=mark.at, status="reviewed"))
    written = json.loads(format_routine(routine))
    assert written["sections"][1]["groups"][0]["sets"][0]["edited"] == {"load": {"by": "Ana", "at": mark.at}}
    assert "edited" not in written["sections"][1]["groups"][1]["sets"][0]
    assert Routine.model_validate(written) == routine


def test_sets_come_in_the_order_of_the_document():
    """With their section and group."""
    found = make_routine().iter_sets()
    assert [x.id for _, _, x in found] == ["s1", "s2", "s3", "s4"]
    assert [(s.kind, g.id) for s, g, _ in found] == [
        ("main", "g1"),
        ("main", "g2"),
        ("main", "g2"),
        ("cool_down", "g3"),
    ]


@pytest.mark.parametrize(
    "values",
    [
        {},
        {"lo": 8},
        {"hi": 8},
        {"lo": 10, "hi": 8},
        {"lo": 0, "hi": 8},
        {"lo": 8, "hi": 1001},
        {"lo": 8, "hi": 8, "to_failure": True},
        {"lo": 8, "to_failure": True},
    ],
)
def test_reps_are_a_number_or_as_many_as_possible(values):
    """Never both, never neither, never a range that runs backwards."""
    with pytest.raises(ValidationError):
        Reps(**values)


@pytest.mark.parametrize(
    ("reps", "text"), [(Reps(lo=8, hi=8), "8"), (Reps(lo=8, hi=10), "8-10"), (Reps(to_failure=True), "max")]
)
def test_reps_are_written_as_on_the_sheet(reps, text):
    """A number, a range or ``max``."""
    assert str(reps) == text


@pytest.mark.parametrize("value", ["-1", "10000", "NaN", "Infinity"])
def test_loads_have_bounds(value):
    """No negative load, none beyond reason, no number that is none."""
    with pytest.raises(ValidationError):
        Load(value=Decimal(value), unit="kg")


def test_loads_are_written_as_numbers():
    """A decimal inside, a JSON number outside."""
    assert json.loads(Load(value=Decimal("7.5"), unit="kg").model_dump_json())["value"] == 7.5


def test_a_set_does_not_end_before_it_starts():
    """The times are part of the model's own rules."""
    with pytest.raises(ValidationError, match="s1 ends before it starts"):
        Set(id="s1", exercise=Exercise(id="", name="row"), start=5, end=4)


@pytest.mark.parametrize(
    ("where", "value"),
    [
        (("note",), "by hand"),
        (("source", "note"), "by hand"),
        (("sections", 1, "groups", 0, "sets", 0, "exercize"), {}),
        (("sections", 1, "kind"), "lunch"),
        (("sections", 1, "groups", 0, "arrangement"), "pyramid"),
        (("sections", 1, "groups", 0, "sets", 0, "side"), "up"),
        (("sections", 1, "groups", 0, "sets", 0, "round"), 0),
        (("sections", 1, "groups", 0, "sets", 0, "work_s"), 0),
        (("sections", 1, "groups", 0, "sets", 0, "start"), -1),
        (("sections", 1, "groups", 0, "sets", 0, "confidence", "exercise"), 1.2),
        (("sections", 1, "groups", 0, "sets", 0, "origin", "exercise"), "guessed"),
        (("sections", 1, "groups", 0, "sets", 0, "exercise", "name"), ""),
        (("schema_version",), "2.0"),
        (("status",), "done"),
    ],
)
def test_what_the_model_does_not_know_is_refused(where, value):
    """A typo in an edited file is found, whether it is in a key or in a value."""
    document = json.loads(format_routine(make_routine()))
    part = document
    for step in where[:-1]:
        part = part[step]
    part[where[-1]] = value
    with pytest.raises(ValidationError):
        Routine.model_validate(document)
