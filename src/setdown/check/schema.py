"""The published JSON Schema of a routine, and what a document breaks in it.

The schema is made from the model and says in JSON Schema's words what the model checks in code. A copy is shipped as
``setdown/model/routine.schema.json``; documents are checked against that copy, since it is what others see.
"""

from __future__ import annotations

import json
from functools import cache
from importlib import resources
from typing import Any

from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError as SchemaError
from pydantic import ValidationError
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from setdown.check.finding import Finding, Path, format_path
from setdown.model.routine import SCHEMA_ID, Routine

DIALECT = "https://json-schema.org/draft/2020-12/schema"
LONGEST = 160  # characters of a message; some quote the whole value

# What the model's validators demand of reps beyond the types of the fields.
REPS_RULE = [
    {
        "title": "As many as possible",
        "properties": {"lo": {"type": "null"}, "hi": {"type": "null"}, "to_failure": {"const": True}},
        "required": ["to_failure"],
    },
    {
        "title": "A number or a range",
        "properties": {"lo": {"type": "integer"}, "hi": {"type": "integer"}, "to_failure": {"const": False}},
        "required": ["lo", "hi"],
    },
]


class _NumbersAsNumbers(GenerateJsonSchema):
    """Decimals are written as JSON numbers, so the published schema asks for numbers, not for text of digits."""

    def decimal_schema(self, schema: core_schema.DecimalSchema) -> JsonSchemaValue:
        bounds = {"ge": "minimum", "gt": "exclusiveMinimum", "le": "maximum", "lt": "exclusiveMaximum"}
        limits = {word: float(schema[key]) for key, word in bounds.items() if key in schema}  # type: ignore[literal-required]
        return {"type": "number", **limits}


def routine_schema() -> dict[str, Any]:
    """The JSON Schema 2020-12 of a routine, made anew from the model."""
    made = Routine.model_json_schema(schema_generator=_NumbersAsNumbers)
    made["$defs"]["Reps"]["oneOf"] = REPS_RULE
    title = "A routine: what was done in an exercise class, set by set"
    return {"$schema": DIALECT, "$id": SCHEMA_ID} | made | {"title": title}


def format_schema(schema: dict[str, Any]) -> str:
    """The schema as it is shipped and printed."""
    return json.dumps(schema, indent=1, ensure_ascii=False) + "\n"


def read_published_schema() -> str:
    """The text of the copy that this installation ships."""
    return resources.files("setdown.model").joinpath("routine.schema.json").read_text(encoding="utf-8")


def check_schema(document: Any) -> list[Finding]:
    """Everything in a parsed JSON document that the model or the schema refuses.

    The model speaks first, since its messages are written for people; the schema adds what the model would let pass,
    such as a number written as text.
    """
    found: dict[Path, Finding] = {}
    try:
        Routine.model_validate(document)
    except ValidationError as problems:
        for problem in problems.errors(include_url=False, include_input=False):
            path = tuple(problem["loc"])
            message = problem["msg"].removeprefix("Value error, ")
            found.setdefault(path, Finding("schema", format_path(path), _shorten(message)))
    for error in map(_find_deepest, _load_validator().iter_errors(document)):
        path = tuple(error.absolute_path)
        if not any(path[: len(known)] == known or known[: len(path)] == path for known in found):
            found[path] = Finding("schema", format_path(path), _shorten(error.message))
    return list(found.values())


@cache
def _load_validator() -> Draft202012Validator:
    return Draft202012Validator(json.loads(read_published_schema()))


def _find_deepest(error: SchemaError) -> SchemaError:
    """Of the branches of an ``anyOf`` that all failed, the one that went furthest into the document."""
    while error.context:
        branches = [
            e for e in error.context if e.validator != "type" or len(e.absolute_path) > len(error.absolute_path)
        ]
        if not branches:
            return error
        error = max(branches, key=lambda e: len(e.absolute_path))
    return error


def _shorten(message: str) -> str:
    return message if len(message) <= LONGEST else message[: LONGEST // 2] + " … " + message[-LONGEST // 2 :]
