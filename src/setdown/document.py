"""A routine as the text of a file. Kept apart from the checks, which need much more to be loaded."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from setdown.model.routine import Routine

SUFFIX = ".routine.json"


def format_routine(routine: Routine) -> str:
    """The routine as JSON: every key, in the order of the model, one space of indent, a newline at the end."""
    return json.dumps(routine.model_dump(mode="json"), indent=1, ensure_ascii=False) + "\n"
