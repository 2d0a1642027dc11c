"""What changed between two JSON documents, so that either can be made from the other.

A change is a JSON object with ``at``, the path as a list of keys and positions, and

- ``before`` and ``after``: the value there; one of them is missing when the key was added or taken away; or
- ``out`` and ``in``: items that were taken from, and put into, a list at the position that ends the path.
"""

from __future__ import annotations

import copy
from collections.abc import Iterator, Sequence
from typing import Any

Change = dict[str, Any]
_OPPOSITE = {"before": "after", "after": "before", "out": "in", "in": "out"}


def find_changes(before: Any, after: Any, at: tuple[str | int, ...] = ()) -> list[Change]:
    """The changes that lead from one document to the other, in the order in which they are to be made."""
    return list(_compare(before, after, at))


def apply_changes(document: Any, changes: Sequence[Change]) -> Any:
    """A copy of the document with the changes made.

    Raises:
        ValueError: the document is not the one that the changes were found in.
    """
    whole = {"": copy.deepcopy(document)}
    for change in changes:
        _make(whole, change)
    return whole[""]


def turn_around(changes: Sequence[Change]) -> list[Change]:
    """The changes that lead back."""
    return [{_OPPOSITE.get(key, key): value for key, value in change.items()} for change in reversed(changes)]


def _compare(before: Any, after: Any, at: tuple[str | int, ...]) -> Iterator[Change]:
    if isinstance(before, dict) and isinstance(after, dict):
        for key in [*before, *(k for k in after if k not in before)]:
            if key not in after:
                yield {"at": [*at, key], "before": before[key]}
            elif key not in before:
                yield {"at": [*at, key], "after": after[key]}
            else:
                yield from _compare(before[key], after[key], (*at, key))
    elif isinstance(before, list) and isinstance(after, list):
        yield from _compare_lists(before, after, at)
    elif before != after or type(before) is not type(after):
        yield {"at": list(at), "before": before, "after": after}


def _compare_lists(before: list[Any], after: list[Any], at: tuple[str | int, ...]) -> Iterator[Change]:
    first, last = 0, 0
    shorter = min(len(before), len(after))
    while first < shorter and before[first] == after[first]:
        first += 1
    while last < shorter - first and before[-1 - last] == after[-1 - last]:
        last += 1
    out, into = before[first : len(before) - last], after[first : len(after) - last]
    if len(out) == len(into):
        for n, (old, new) in enumerate(zip(out, into, strict=True), first):
            yield from _compare(old, new, (*at, n))
    else:
        yield {"at": [*at, first], "out": out, "in": into}


def _make(whole: dict[str, Any], change: Change) -> None:
    path: list[Any] = ["", *change["at"]]
    way, last = path[:-1], path[-1]
    part: Any = whole
    try:
        for key in way:
            part = part[key]
        if "out" in change:
            end = last + len(change["out"])
            if part[last:end] != change["out"]:
                raise ValueError
            part[last:end] = copy.deepcopy(change["in"])
            return
        if ("before" in change) != (isinstance(part, list) or last in part):
            raise ValueError
        if "before" in change and part[last] != change["before"]:
            raise ValueError
        if "after" in change:
            part[last] = copy.deepcopy(change["after"])
        else:
            del part[last]
    except (KeyError, IndexError, TypeError, ValueError) as error:
        raise ValueError(f"the document does not hold what was changed at {change['at']}") from error
