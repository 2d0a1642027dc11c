"""Ids: present, unique among their kind, and every reference leads somewhere."""

from __future__ import annotations

from collections.abc import Iterable

from setdown.check.finding import Finding, Path, format_path
from setdown.check.walk import walk_groups, walk_sections, walk_sets
from setdown.model.routine import Routine, Set


def check_ids(routine: Routine) -> list[Finding]:
    queries = [(("queries", n), query.id) for n, query in enumerate(routine.queries)]
    return [
        *_check_unique("section", ((path, s.id) for path, s in walk_sections(routine))),
        *_check_unique("group", ((path, g.id) for path, _, g in walk_groups(routine))),
        *_check_unique("set", ((path, one.id) for path, _, _, one in walk_sets(routine))),
        *_check_unique("query", queries),
        *_check_references(routine),
    ]


def _check_unique(kind: str, ids: Iterable[tuple[Path, str]]) -> list[Finding]:
    found = []
    first: dict[str, Path] = {}
    for path, one in ids:
        where = format_path((*path, "id"))
        if not one.strip():
            found.append(Finding("id-empty", where, f"the {kind} has no id"))
        elif one in first:
            found.append(Finding("id-twice", where, f"{kind} id {one!r} is also that of {format_path(first[one])}"))
        first.setdefault(one, path)
    return found


def _check_references(routine: Routine) -> list[Finding]:
    sets = {one.id for _, _, one in routine.iter_sets()}
    found = []
    for n, query in enumerate(routine.queries):
        if query.set and query.set not in sets:
            path = format_path(("queries", n, "set"))
            found.append(Finding("no-such-set", path, f"the query is about set {query.set!r}, which does not exist"))
        if query.set and query.field and query.field.split(".")[0] not in Set.model_fields:
            path = format_path(("queries", n, "field"))
            found.append(Finding("no-such-field", path, f"a set has no field {query.field!r}"))
    return found
