"""Differences that a reviewer seldom wants to see: ids, confidences, evidence, the wording of notes, times of rests."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from setdown.model.routine import Routine
from setdown.review.difference import FieldChange
from setdown.review.patch import find_changes

LONGEST = 120  # characters of a value that is shown
KEPT_SET = frozenset(  # what a comparison of sets shows anyway
    {"exercise", "round", "side", "reps", "counted", "work_s", "load", "tempo", "effort", "start", "end"}
)
KEPT_GROUP = frozenset({"arrangement", "rounds", "sets"})
KEPT_ABOUT = frozenset({"title", "language", "status", "sections", "queries", "equipment"})
KEPT_SOURCE = frozenset({"name", "instructor", "date", "media", "tags"})


def find_noise(old: Routine, new: Routine, pairs: list[tuple[int, int]]) -> list[FieldChange]:
    """The rest of what differs, value by value; ``field`` is a path such as ``sets[6].confidence.load``."""
    return list(_find(old, new, pairs))


def _find(old: Routine, new: Routine, pairs: list[tuple[int, int]]) -> Iterator[FieldChange]:
    a, b = old.model_dump(mode="json"), new.model_dump(mode="json")
    yield from _compare("", _leave_out(a, KEPT_ABOUT | {"source"}), _leave_out(b, KEPT_ABOUT | {"source"}))
    yield from _compare("source", _leave_out(a["source"], KEPT_SOURCE), _leave_out(b["source"], KEPT_SOURCE))
    old_sets = [one.model_dump(mode="json") for _, _, one in old.iter_sets()]
    new_sets = [one.model_dump(mode="json") for _, _, one in new.iter_sets()]
    for n, k in pairs:
        before, after = _quiet_set(old_sets[n]), _quiet_set(new_sets[k])
        yield from _compare(f"sets[{k}]", before, after)
    old_queries = {q["id"]: q for q in a["queries"]}
    for n, query in enumerate(b["queries"]):
        if query["id"] in old_queries:
            hidden = frozenset({"state", "answer"})
            yield from _compare(
                f"queries[{n}]", _leave_out(old_queries[query["id"]], hidden), _leave_out(query, hidden)
            )
    old_sections, new_sections = ([_leave_out(s, {"groups"}) for s in x["sections"]] for x in (a, b))
    yield from _compare("sections", old_sections, new_sections)
    old_groups, new_groups = ([_leave_out(g, KEPT_GROUP) for s in x["sections"] for g in s["groups"]] for x in (a, b))
    yield from _compare("groups", old_groups, new_groups)


def _quiet_set(one: dict[str, Any]) -> dict[str, Any]:
    quiet = _leave_out(one, KEPT_SET)
    quiet["exercise"] = {"id": one["exercise"]["id"], "said": one["exercise"]["said"]}
    if one["finisher"]:
        quiet["finisher"] = {"start": one["finisher"]["start"], "end": one["finisher"]["end"]}
    return quiet


def _leave_out(part: dict[str, Any], keys: Any) -> dict[str, Any]:
    return {key: value for key, value in part.items() if key not in keys}


def _compare(where: str, before: Any, after: Any) -> Iterator[FieldChange]:
    for change in find_changes(before, after):
        path = where
        for key in change["at"]:
            path += f"[{key}]" if isinstance(key, int) else f".{key}" if path else str(key)
        old, new = change.get("before", change.get("out")), change.get("after", change.get("in"))
        yield FieldChange(field=path, before=_show(old), after=_show(new))


def _show(value: Any) -> str:
    if value is None:
        return ""
    text = value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
    return text if len(text) <= LONGEST else text[: LONGEST - 2] + " …"
