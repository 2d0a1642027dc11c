"""The published JSON Schema says what the model says."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from pydantic import ValidationError

from make_routine import make_routine
from setdown.check import format_schema, read_published_schema, routine_schema
from setdown.check.schema import check_schema
from setdown.model.routine import Reps

SCHEMA = json.loads(read_published_schema())


def make_document() -> Any:
    return json.loads(json.dumps(make_routine().model_dump(mode="json")))


def test_the_shipped_copy_is_current():
    """The copy in the package is what the model gives today."""
    hint = "run: setdown schema --from-model -o src/setdown/model/routine.schema.json --replace"
    assert read_published_schema() == format_schema(routine_schema()), hint


def test_it_is_a_valid_schema_of_the_2020_12_draft():
    """JSON Schema draft 2020-12 (json-schema.org): the meta-schema accepts it, and it says so itself."""
    Draft202012Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert SCHEMA["$id"].startswith("urn:setdown:")


def test_a_routine_fits_both():
    """A routine written by the project has no finding, with or without the keys that are null."""
    document = make_document()
    assert check_schema(document) == []
    assert check_schema(make_routine().model_dump(mode="json", exclude_none=True)) == []


@pytest.mark.parametrize(
    ("path", "value", "blamed"),
    [
        (("sections", 1, "kind"), "finale", "$.sections[1].kind"),
        (("sections", 1, "groups", 0, "sets", 0, "start"), -1, "$.sections[1].groups[0].sets[0].start"),
        (("sections", 1, "groups", 0, "sets", 0, "start"), "62", "$.sections[1].groups[0].sets[0].start"),
        (("sections", 1, "groups", 0, "sets", 0, "reps", "lo"), 11, "$.sections[1].groups[0].sets[0].reps"),
        (("sections", 1, "groups", 0, "sets", 0, "reps", "to_failure"), True, "$.sections[1].groups[0].sets[0].reps"),
        (("sections", 1, "groups", 0, "sets", 0, "load", "value"), "10", "$.sections[1].groups[0].sets[0].load.value"),
        (
            ("sections", 1, "groups", 0, "sets", 0, "load", "value"),
            10_000,
            "$.sections[1].groups[0].sets[0].load.value",
        ),
        (("sections", 1, "groups", 0, "sets", 0, "side"), "both", "$.sections[1].groups[0].sets[0].side"),
        (("sections", 1, "groups", 0, "sets", 0, "weight"), 5, "$.sections[1].groups[0].sets[0].weight"),
        (
            ("sections", 1, "groups", 0, "sets", 0, "origin", "reps"),
            "guessed",
            "$.sections[1].groups[0].sets[0].origin.reps",
        ),
        (("queries", 0, "state"), "maybe", "$.queries[0].state"),
        (("schema_version",), "9.9", "$.schema_version"),
        (("title",), None, "$.title"),
    ],
)
def test_a_wrong_value_is_found_at_its_path(path, value, blamed):
    """One wrong value gives one finding, at the place where it stands."""
    document = make_document()
    part = document
    for step in path[:-1]:
        part = part[step]
    part[path[-1]] = value
    findings = check_schema(document)
    assert [f.path for f in findings] == [blamed]
    assert findings[0].problem
    assert (findings[0].code, findings[0].severity) == ("schema", "must")


@pytest.mark.parametrize("document", [None, 3, "text", [], {}, {"sections": {}}, {"sections": [None], "queries": 4}])
def test_what_is_no_routine_at_all_is_found(document):
    """Any JSON value gives findings, never an exception."""
    assert check_schema(document)


NUMBER = st.one_of(st.none(), st.integers(-5, 1200), st.just("10"), st.just(2.5))
REPS = st.dictionaries(
    st.sampled_from(["lo", "hi", "to_failure", "other"]), st.one_of(NUMBER, st.booleans()), max_size=4
)
REPS_VALIDATOR = Draft202012Validator(SCHEMA["$defs"]["Reps"])


@given(REPS)
def test_schema_and_model_agree_about_reps(value):
    """Schema and model accept the same reps.

    But JSON Schema cannot compare two values, so that ``lo`` above ``hi`` is for the model alone.
    """
    by_schema = REPS_VALIDATOR.is_valid(value)
    try:
        Reps.model_validate(value, strict=True)
        by_model = True
    except ValidationError:
        by_model = False
    lo, hi = value.get("lo"), value.get("hi")
    backwards = isinstance(lo, int) and isinstance(hi, int) and lo > hi
    assert by_model == (by_schema and not backwards)


def test_every_field_of_every_part_is_in_the_schema():
    """No part lets unknown keys through, and every part is described."""
    for name, part in SCHEMA["$defs"].items():
        assert part["additionalProperties"] is False, name
        assert part["properties"], name
