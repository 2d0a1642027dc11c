"""Where sets stand: a routine taken apart into sets with their section and group, and put together again."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import count
from statistics import median_high

from setdown.model.routine import Group, Routine, Section, SectionKind, Set
from setdown.model.timecode import format_clock
from setdown.review.refused import EditRefusedError


@dataclass(frozen=True, slots=True)
class Placed:
    """A set, and the section and group it belongs to; of those two only what is not about their sets counts."""

    one: Set
    section: Section
    group: Group


def list_placed(routine: Routine) -> list[Placed]:
    """Every set with its place, in the order of the document."""
    return [Placed(one, section, group) for section, group, one in routine.iter_sets()]


def find_placed(routine: Routine, set_id: str) -> tuple[int, Placed]:
    """Position and place of a set.

    Raises:
        EditRefusedError: no set has the id.
    """
    for at, placed in enumerate(list_placed(routine)):
        if placed.one.id == set_id:
            return at, placed
    raise EditRefusedError(f"there is no set {set_id!r}", field="set", value=set_id, set=set_id)


def swap_set(placed: Sequence[Placed], one: Set) -> list[Placed]:
    """The same places with another version of one set."""
    return [replace(p, one=one) if p.one.id == one.id else p for p in placed]


def put_together(routine: Routine, placed: Sequence[Placed]) -> Routine:
    """The routine with these sets in these places. Sets are put in order of time.

    Rests, rounds of groups and bounds of sections follow the sets where no person has decided them. Sections that lose
    their last set go; sections that never had one stay.

    Raises:
        EditRefusedError: a set would stand between the sets of another group or section.
    """
    ordered = sorted(placed, key=lambda p: p.one.start)
    ordered = _time_rests(routine, ordered)
    known = {g.id: g for s in routine.sections for g in s.groups}
    sections: list[Section] = []
    groups: list[list[tuple[Group, list[Set]]]] = []
    for at, p in enumerate(ordered):
        if not sections or sections[-1].id != p.section.id:
            if any(s.id == p.section.id for s in sections):
                raise _refuse_between(ordered, at, p.section.kind + " section", lambda q: q.section.id)
            sections.append(p.section)
            groups.append([])
        if not groups[-1] or groups[-1][-1][0].id != p.group.id:
            if any(g.id == p.group.id for parts in groups for g, _ in parts):
                raise _refuse_between(ordered, at, "group", lambda q: q.group.id)
            groups[-1].append((p.group, []))
        groups[-1][-1][1].append(p.one)
    filled = [
        section.model_copy(update={"groups": [_fill_group(known.get(g.id), g, sets) for g, sets in parts]})
        for section, parts in zip(sections, groups, strict=True)
    ]
    empty = [s for s in routine.sections if not any(g.sets for g in s.groups)]
    return routine.model_copy(update={"sections": fit_sections([*filled, *empty])})


def make_id(wanted: str, taken: set[str]) -> str:
    """``wanted``, or ``wanted-2`` and so on when it is taken."""
    found, number = wanted, 1
    while found in taken:
        number += 1
        found = f"{wanted}-{number}"
    return found


def list_ids(routine: Routine) -> set[str]:
    """Ids of all sections, groups and sets."""
    ids = {s.id for s in routine.sections}
    return ids | {g.id for s in routine.sections for g in s.groups} | {x.id for _, _, x in routine.iter_sets()}


def make_group(routine: Routine, like: Group | None = None, also: Iterable[str] = ()) -> Group:
    """An empty group with an id of its own (none of ``also``), arranged like another one."""
    taken = list_ids(routine).union(also)
    number = next(n for n in count(1) if f"group-{n}" not in taken)
    return Group(id=f"group-{number}", arrangement=like.arrangement if like else "straight")


def make_section(routine: Routine, kind: SectionKind, one: Set) -> Section:
    """An empty section with an id of its own, as long as the set."""
    ident = make_id(kind.replace("_", "-"), list_ids(routine))
    return Section(id=ident, kind=kind, start=one.start, end=one.end)


def _refuse_between(ordered: Sequence[Placed], at: int, what: str, key: Callable[[Placed], str]) -> EditRefusedError:
    before = max(k for k in range(at) if key(ordered[k]) == key(ordered[at]))
    one = ordered[before + 1].one
    clock = format_clock(round(one.start * 1000))
    problem = f"{one.exercise.name} at {clock} would stand between the sets of another {what}"
    hint = "Move the sets beside it first, or join them into one group"
    return EditRefusedError(problem, field=what.rsplit(" ", 1)[-1], set=one.id, hint=hint)


def _time_rests(routine: Routine, ordered: list[Placed]) -> list[Placed]:
    """Rests of sets whose end, or whose neighbour's start, has changed."""
    old = [one for _, _, one in routine.iter_sets()]
    starts = [*(one.start for one in old[1:]), None]
    spans = {one.id: (one.end, after) for one, after in zip(old, starts, strict=False)}
    found = []
    for at, p in enumerate(ordered):
        after = ordered[at + 1].one.start if at + 1 < len(ordered) else None
        if spans.get(p.one.id) != (p.one.end, after) and p.one.origin.get("rest_after_s") != "edited":
            rest = None if after is None else max(0.0, round(after - p.one.end, 3))
            p = replace(p, one=p.one.model_copy(update={"rest_after_s": rest}))
        found.append(p)
    return found


def _fill_group(before: Group | None, group: Group, sets: list[Set]) -> Group:
    """The group with these sets; rounds and rest follow them, where they changed and no person has decided."""
    old = before.sets if before else []
    sets = _fit_rounds(old, sets)
    changes: dict[str, object] = {"sets": sets}
    highest = max(one.round for one in sets)
    if [x.round for x in old] != [x.round for x in sets]:
        changes["rounds"] = max(group.rounds, highest) if "rounds" in group.edited else highest
    rests = [one.rest_after_s for one in sets[:-1] if one.rest_after_s is not None]
    if [x.rest_after_s for x in old] != [x.rest_after_s for x in sets] and "rest_s" not in group.edited:
        changes["rest_s"] = median_high(rests) if rests else None
    return group.model_copy(update=changes)


def _fit_rounds(old: list[Set], sets: list[Set]) -> list[Set]:
    """A set that is new in a group, or does another move now, counts on from the set before it that does the same."""
    keys = {one.id: (one.exercise.name, one.side) for one in old}
    found = list(sets)
    for at, one in enumerate(found):
        key = (one.exercise.name, one.side)
        if keys.get(one.id) == key or "round" in one.edited:
            continue
        low = max((x.round for x in found[:at] if (x.exercise.name, x.side) == key), default=1)
        high = min((x.round for x in found[at + 1 :] if (x.exercise.name, x.side) == key), default=200)
        fitting = min(max(one.round, low), high)
        if fitting != one.round:
            found[at] = one.model_copy(update={"round": fitting})
    return found


def fit_sections(sections: Iterable[Section]) -> list[Section]:
    """Sections in order of time, stretched over their sets, each beginning where the one before it may end.

    One without sets that is left no time goes.
    """
    ordered = sorted((_stretch(s) if _has_sets(s) else s for s in sections), key=lambda s: (_first(s), _last(s)))
    cut = set()
    for at in range(len(ordered) - 1):
        before, after = ordered[at], ordered[at + 1]
        if before.end > after.start:
            bound = min(max(after.start, _last(before)), _first(after) if _has_sets(after) else after.end)
            ordered[at] = before.model_copy(update={"end": max(bound, before.start)})
            ordered[at + 1] = after.model_copy(update={"start": bound})
            cut |= {before.id, after.id}
    return [s for s in ordered if _has_sets(s) or s.end > s.start or s.id not in cut]


def _has_sets(section: Section) -> bool:
    return any(g.sets for g in section.groups)


def _stretch(section: Section) -> Section:
    first, last = _first(section), _last(section)
    return section.model_copy(update={"start": min(section.start, first), "end": max(section.end, last)})


def _first(section: Section) -> float:
    return min((x.start for g in section.groups for x in g.sets), default=section.start)


def _last(section: Section) -> float:
    return max((x.end for g in section.groups for x in g.sets), default=section.start)
