"""The published JSON Schema is that of the model."""

from __future__ import annotations

import json

from jsonschema import Draft202012Validator

from make_routine import make_routine
from setdown.check import format_schema, read_published_schema, routine_schema
from setdown.document import format_routine
from setdown.model.routine import SCHEMA_ID

AGAIN = "write it anew: setdown schema > src/setdown/model/routine.schema.json"


def test_the_shipped_schema_is_current():
    """The file beside the model says what the model says."""
    assert read_published_schema() == format_schema(routine_schema()), AGAIN


def test_the_schema_is_valid_itself():
    """By the metaschema of JSON Schema 2020-12 (in the library jsonschema)."""
    schema = json.loads(read_published_schema())
    Draft202012Validator.check_schema(schema)
    assert schema["$id"] == SCHEMA_ID


def test_a_routine_fits_the_schema():
    """And one with a key too many does not."""
    validator = Draft202012Validator(json.loads(read_published_schema()))
    document = json.loads(format_routine(make_routine()))
    assert list(validator.iter_errors(document)) == []
    document["sections"][1]["groups"][0]["sets"][0]["colour"] = "red"
    assert list(validator.iter_errors(document))
