"""What changed between two routines, as it is shown in the rows of the table: old texts beside the new ones."""

from __future__ import annotations

from setdown.check import parse_routine
from setdown.model.routine import Routine
from setdown.page.view import View, describe_cells
from setdown.review.compare import compare_routines
from setdown.review.wording import describe_difference, name_set


def read_other(text: str, name: str) -> Routine:
    """A routine that was picked on the page. Raises ``SetdownError`` when it is none."""
    return parse_routine(text, name)


def describe_comparison(old: Routine, new: Routine, against: str) -> View:
    """Sentences for the list, old cells by set for the rows, and the sets that only one of the two has."""
    found = compare_routines(old, new)
    old_sets = [one for _, _, one in old.iter_sets()]
    removed = [old_sets[d.old_number - 1] for d in found.sets if d.fate == "removed" and d.old_number]
    names = [(name_set(d), d.new_id) for d in found.sets if d.new_id]
    return {
        "against": against,
        "sets": {d.new_id: {c.field: c.before for c in d.changes} for d in found.sets if d.fate == "changed"},
        "added": [d.new_id for d in found.sets if d.fate == "added"],
        "removed": [{"start": one.start, "cells": describe_cells(one)} for one in removed],
        "sentences": [{"text": line, "set": _find_set(line, names)} for line in describe_difference(found)],
    }


def _find_set(line: str, names: list[tuple[str, str]]) -> str:
    """The set that a line begins with; of names that begin alike the longest."""
    fitting = [(len(name), id) for name, id in names if line.startswith(name)]
    return max(fitting)[1] if fitting else ""
