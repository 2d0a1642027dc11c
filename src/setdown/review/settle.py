"""What every edit ends with: the routine is a draft again, and nothing that was right is wrong now."""

from __future__ import annotations

import re
from collections import Counter
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from setdown.check.finding import Finding
from setdown.check.identity import check_ids
from setdown.check.support import check_support
from setdown.check.timeline import check_timeline
from setdown.model.routine import Routine
from setdown.review.refused import EditRefusedError

P = TypeVar("P", bound=BaseModel)


def settle_edit(before: Routine, after: Routine, *, field: str = "", value: str = "", set: str = "") -> Routine:
    """The edited routine as a draft.

    Raises:
        EditRefusedError: the edit made something wrong that was not wrong before (times, order, rounds, ids).
    """
    old = Counter(f.code for f in _find_wrong(before))
    seen: Counter[str] = Counter()
    for finding in _find_wrong(after):
        seen[finding.code] += 1
        if seen[finding.code] > old[finding.code]:
            new = _blame(before, after, finding)
            if not set and not field:
                set, field = _locate(after, new)
            raise EditRefusedError(new.problem, field=field, value=value, set=set, hint=finding.hint)
    drafted = make_draft(after)
    _remember(drafted, _find_wrong(after))
    return drafted


def make_draft(routine: Routine) -> Routine:
    """The routine as one that nobody has signed."""
    if routine.status == "draft" and not routine.signatures:
        return routine
    return routine.model_copy(update={"status": "draft", "signatures": []})


def rebuild(part: P, changes: dict[str, Any], *, value: str = "", set: str = "") -> P:
    """A copy of a part with changed fields, checked by the model.

    Raises:
        EditRefusedError: the model refuses it.
    """
    try:
        return type(part)(**(dict(part) | changes))
    except ValidationError as problems:
        first = problems.errors(include_url=False, include_input=False)[0]
        field = str(first["loc"][0]) if first["loc"] else next(iter(changes), "")
        problem = first["msg"].removeprefix("Value error, ")
        raise EditRefusedError(problem, field=field, value=value, set=set) from problems


def _find_wrong(routine: Routine) -> list[Finding]:
    known = _latest[0] if _latest else None
    if known is not None and known[0] is routine:
        return known[1]
    found = [f for check in (check_timeline, check_ids, check_support) for f in check(routine) if f.severity == "must"]
    _remember(routine, found)
    return found


# One edit follows the other: what was found after the last one is what is wrong before the next. Routines are not
# changed in place, so the very same object has the same findings.
_latest: list[tuple[Routine, list[Finding]]] = []


def _remember(routine: Routine, found: list[Finding]) -> None:
    _latest[:] = [(routine, found)]


def _blame(before: Routine, after: Routine, finding: Finding) -> Finding:
    """Of the findings of this code the first that the routine did not have before."""
    known = {f.problem for f in _find_wrong(before) if f.code == finding.code}
    new = (f for f in _find_wrong(after) if f.code == finding.code and f.problem not in known)
    return next(new, finding)


PARTS = re.compile(r"\$\.sections\[(\d+)\](?:\.groups\[(\d+)\](?:\.sets\[(\d+)\])?)?(?:\.(\w+))?")


def _locate(routine: Routine, finding: Finding) -> tuple[str, str]:
    """The set that a finding is about, and its field. A section is as long as its sets, so its end is one of theirs."""
    found = PARTS.match(finding.path)
    if not found:
        return "", ""
    field = found[4] or ""
    section = routine.sections[int(found[1])]
    if found[3] is not None and found[2] is not None:
        one = section.groups[int(found[2])].sets[int(found[3])]
        return one.id, field or ("start" if one.start < section.start else "end")
    if found[2] is not None:
        sets = section.groups[int(found[2])].sets
        last = max(sets, key=lambda one: one.round, default=None)
        return (last.id, "round") if last else ("", field)
    sets = [one for group in section.groups for one in group.sets]
    pick = min(sets, key=lambda one: one.start, default=None) if field == "start" else None
    pick = pick or max(sets, key=lambda one: one.end, default=None)
    return (pick.id, field) if pick else ("", field)
