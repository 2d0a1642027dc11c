"""Differences in the words of the trade: ``set 7, goblet squat round 2: load 16 → 14 kg``."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby

from setdown.model.timecode import format_clock
from setdown.review.difference import (
    FieldChange,
    GroupDifference,
    QueryDifference,
    RoutineDifference,
    SetDifference,
)

FIELD_WORDS = {"work_s": "work", "rest_after_s": "rest after it", "counted": "counted reps", "rest_s": "rest"}
ARRANGEMENTS = {"straight": "straight sets", "superset": "a superset", "circuit": "a circuit", "interval": "intervals"}
ARRANGEMENTS |= {"flow": "a flow"}
NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
IN_SECONDS = frozenset({"work_s", "rest_after_s", "rest_s"})
OWN_LINE = frozenset({"group", "section"})


def describe_difference(found: RoutineDifference) -> list[str]:
    """One line a difference, in the order of the class; nothing for routines that are the same."""
    lines = [f"{change.field}: {_arrow(change)}" for change in found.about]
    for _, run in groupby(found.sets, key=_run_key(found.sets)):
        lines += _describe_run(list(run))
    lines += [line for group in found.groups for line in _describe_group(group)]
    lines += [_describe_query(query) for query in found.queries]
    return lines + [f"{change.field}: {_arrow(change)}" for change in found.noise]


def name_set(one: SetDifference) -> str:
    """``set 7, goblet squat round 2``; a set that is gone is counted in the old routine."""
    text = f"set {one.new_number or one.old_number}, {one.exercise}"
    if one.side in ("left", "right"):
        text += f" {one.side}"
    return text + (f" round {one.round}" if one.rounds > 1 else "")


def _run_key(sets: Sequence[SetDifference]) -> Callable[[SetDifference], int]:
    """Sets that follow each other and share their fate are told in one line."""
    numbers: dict[int, int] = {}
    run, last = 0, None
    for one in sets:
        number = one.old_number if one.fate == "removed" else one.new_number
        here = (one.fate, _moves(one))
        follows = last is not None and here == last[0] and number == (last[1] or 0) + 1
        if not (follows and (one.fate != "changed" or here[1])):
            run += 1
        numbers[id(one)] = run
        last = (here, number)
    return lambda one: numbers[id(one)]


def _moves(one: SetDifference) -> tuple[tuple[str, str], ...]:
    """To which section or group a changed set goes, when nothing else about it is changed."""
    if one.fate != "changed" or any(c.field not in OWN_LINE for c in one.changes):
        return ()
    return tuple((c.field, c.after) for c in one.changes)


def _describe_run(run: list[SetDifference]) -> Iterator[str]:
    first, last = run[0], run[-1]
    if first.fate == "changed":
        if len(run) > 1:
            where = " and ".join(_tell_place(f, text) for f, text in _moves(first))
            yield f"sets {first.new_number} to {last.new_number} are now in {where}"
        else:
            yield from _describe_changed(first)
        return
    if len(run) == 1:
        where = f" added at {format_clock(round(first.at * 1000))}" if first.fate == "added" else " is gone"
        yield f"{name_set(first)}{where}{_summarise(first)}"
        return
    names = ", ".join(one.exercise for one in run)
    if first.fate == "removed":
        yield f"sets {first.old_number} to {last.old_number} of the old routine are gone: {names}"
    else:
        where = "before all others" if first.after_s is None else f"after {format_clock(round(first.after_s * 1000))}"
        yield f"{_count(len(run))} sets added {where}: {names}"


def _describe_changed(one: SetDifference) -> Iterator[str]:
    told = [_tell_change(change) for change in one.changes if change.field not in OWN_LINE]
    if told:
        yield f"{name_set(one)}: {'; '.join(told)}"
    places = [_tell_place(change.field, change.after) for change in one.changes if change.field in OWN_LINE]
    if places:
        yield f"{name_set(one)} is now in {' and '.join(places)}"


def _tell_place(field: str, text: str) -> str:
    return f"group {text}" if field == "group" else f"the {text.replace('_', '-')}"


def _tell_change(change: FieldChange) -> str:
    if change.field == "exercise":
        return f"was {change.before}"
    return f"{FIELD_WORDS.get(change.field, change.field)} {_arrow(change)}"


def _arrow(change: FieldChange) -> str:
    before, after = change.before, change.after
    if change.field in ("start", "end"):
        before, after = _tell_times(float(before), float(after))
    elif change.field in IN_SECONDS:
        before, after = (f"{text} s" if text else "" for text in (before, after))
    shared = _shared_end(before, after)
    if shared:
        before = before[: -len(shared)].rstrip()
    return f"{before or 'none'} → {after or 'none'}"


def _shared_end(before: str, after: str) -> str:
    """The unit that both have: ``16 kg``, ``14 kg`` -> ``kg``. Only behind a number, so that words stay whole."""
    a, b = before.split(" ", 1), after.split(" ", 1)
    if len(a) == len(b) == 2 and a[1] == b[1] and a[0].replace(".", "").isdigit() and b[0].replace(".", "").isdigit():
        return a[1]
    return ""


def _tell_times(before: float, after: float) -> tuple[str, str]:
    """As clocks; with tenths when the clocks would look the same."""
    texts = (format_clock(round(before * 1000)), format_clock(round(after * 1000)))
    if texts[0] == texts[1]:
        return f"{texts[0]}.{int(before * 10) % 10}", f"{texts[1]}.{int(after * 10) % 10}"
    return texts


def _summarise(one: SetDifference) -> str:
    cells = {change.field: change.after for change in one.changes}
    told = [f"{cells['reps']} reps" if "reps" in cells else "", f"{cells['work_s']} s" if "work_s" in cells else ""]
    told += [cells.get("load", ""), cells.get("finisher", "")]
    text = ", ".join(filter(None, told))
    return f": {text}" if text and one.fate == "added" else ""


def _describe_group(group: GroupDifference) -> Iterator[str]:
    for change in group.changes:
        if change.field == "arrangement":
            yield f"group {group.new_number} is now {ARRANGEMENTS[change.after]} (was {ARRANGEMENTS[change.before]})"
        else:
            yield f"group {group.new_number}: {FIELD_WORDS.get(change.field, change.field)} {_arrow(change)}"


def _describe_query(query: QueryDifference) -> str:
    where = f" on set {query.set_number}, {query.exercise}" if query.set_number else ""
    about = f" ({query.field})" if query.field else ""
    fate = {"accepted": "answered", "dismissed": "dismissed", "open": "asked again", "": "no longer asked"}[query.after]
    if not query.before:
        fate = {"open": "new"}.get(query.after, f"new, {fate}")
    answer = f": {query.answer}" if query.answer else ""
    return f"query {query.code}{where}{about} {fate}{answer}"


def _count(number: int) -> str:
    return NUMBERS[number] if number < len(NUMBERS) else str(number)
