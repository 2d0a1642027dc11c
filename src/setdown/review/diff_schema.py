"""Differences as JSON, and the JSON Schema of that, of which a copy is shipped as ``difference.schema.json``."""

from __future__ import annotations

import json
from importlib import resources
from typing import Any

from setdown.check.schema import DIALECT
from setdown.review.difference import DIFF_SCHEMA_ID, RoutineDifference


def difference_schema() -> dict[str, Any]:
    """The JSON Schema 2020-12 of a difference, made anew from its model."""
    made = RoutineDifference.model_json_schema(mode="serialization")
    title = "What differs between two routines"
    return {"$schema": DIALECT, "$id": DIFF_SCHEMA_ID} | made | {"title": title}


def read_difference_schema() -> str:
    """The text of the copy that this installation ships."""
    return resources.files("setdown.review").joinpath("difference.schema.json").read_text(encoding="utf-8")


def format_difference(found: RoutineDifference) -> str:
    """The difference as JSON."""
    return json.dumps(found.model_dump(mode="json"), indent=1, ensure_ascii=False) + "\n"
