"""Merged sets as sections and groups again; rests, rounds and bounds follow the sets where they are new."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import median_high
from typing import Any

from setdown.model.routine import Group, Section, Set
from setdown.review.merge_facets import choose
from setdown.review.merge_match import Node, Side
from setdown.review.merge_sets import Work
from setdown.review.place import fit_sections, make_id


@dataclass(frozen=True, slots=True)
class Built:
    """The sections, and their sets beside the works that they come from."""

    sections: list[Section]
    works: list[Work]
    sets: list[Set]


def build_sections(
    works: list[Work], groups: Sequence[Node], sections: Sequence[Node], base: Side, edited: Side, new: Side
) -> Built:
    """Put the sets together. Ids that both sides gave to different parts are made different."""
    _time_rests(works, edited, new)
    sets = _make_sets(works)
    taken: set[str] = set()
    group_ids = {id(g): _take_id(g, taken) for g in _used(groups, works, "group")}
    made: list[Section] = []
    taken = set()
    used = _used(sections, works, "section")
    empty = [node for node in sections if node not in used and _is_still_empty(node)]
    for node in [*used, *empty]:
        members = [(w, one) for w, one in zip(works, sets, strict=True) if w.section is node]
        parts = list(dict.fromkeys(w.group for w, _ in members))
        built = [_build_group(g, group_ids[id(g)], [one for w, one in members if w.group is g]) for g in parts]
        fields = {name: _pick(node, name) for name in ("kind", "start", "end")}
        made.append(Section(id=_take_id(node, taken), groups=built, **fields))
    return Built(fit_sections(made), works, sets)


def _used(nodes: Sequence[Node], works: Sequence[Work], level: str) -> list[Node]:
    return list(dict.fromkeys(getattr(work, level) for work in works))


def _take_id(node: Node, taken: set[str]) -> str:
    found = make_id(_pick(node, "id"), taken)
    taken.add(found)
    return found


def _pick(node: Node, name: str) -> Any:
    """A value of a group or section: that of the version which changed it, the person's when both did."""
    if node.edited is None or node.new is None:
        return getattr(node.edited or node.new or node.base, name)
    was = getattr(node.base, name) if node.base is not None else None
    mine, theirs = getattr(node.edited, name), getattr(node.new, name)
    return theirs if choose(was, mine, theirs) == "new" else mine


def _is_still_empty(node: Node) -> bool:
    """Whether a section without sets was one before, and neither side took it away."""
    was, mine, theirs = (
        part is not None and not any(g.sets for g in part.groups) for part in (node.base, node.edited, node.new)
    )
    return theirs if choose(was, mine, theirs) == "new" else mine


def _time_rests(works: list[Work], edited: Side, new: Side) -> None:
    """Rests: as in the version where set and neighbour stand in time as they do now, else worked out."""
    known = [_list_spans(side) for side in (edited, new)]
    for work, after in zip(works, [*works[1:], None], strict=False):  # nothing when there are no sets
        if work.doc["origin"].get("rest_after_s") == "edited":
            continue
        span = work.end, after.start if after else None
        t = work.triple
        rests = [
            side.sets[at].rest_after_s
            for side, spans, at in zip((edited, new), known, (t.edited, t.new), strict=True)
            if at is not None and spans[at] == span
        ]
        if not rests:
            work.doc["rest_after_s"] = None if after is None else max(0.0, round(after.start - work.end, 3))
        elif work.doc["rest_after_s"] not in rests:
            work.doc["rest_after_s"] = rests[0]


def _list_spans(side: Side) -> list[tuple[float, float | None]]:
    starts: list[float | None] = [*(one.start for one in side.sets[1:]), None]
    return [(one.end, after) for one, after in zip(side.sets, starts, strict=False)]


def _make_sets(works: Sequence[Work]) -> list[Set]:
    """The sets with ids of their own: an id that is a set's in both versions goes before one that was only added."""
    taken: set[str] = set()
    ids: dict[int, str] = {}
    for work in sorted(works, key=lambda w: w.edited is None):
        ids[id(work)] = make_id(work.doc["id"], taken)
        taken.add(ids[id(work)])
    return [Set.model_validate(work.doc | {"id": ids[id(work)]}) for work in works]


def _build_group(node: Node, ident: str, sets: list[Set]) -> Group:
    edited = _merge_marks(node)
    rounds = _follow(node, "rounds", sets, lambda s: s.round, lambda: max(one.round for one in sets))
    if "rounds" in edited:
        rounds = max(_pick(node, "rounds"), *(one.round for one in sets))
    rest = _follow(node, "rest_s", sets, lambda s: s.rest_after_s, lambda: _work_out_rest(sets))
    if "rest_s" in edited:
        rest = _pick(node, "rest_s")
    return Group(id=ident, arrangement=_pick(node, "arrangement"), rounds=rounds, rest_s=rest, sets=sets, edited=edited)


def _merge_marks(node: Node) -> dict[str, Any]:
    """Who decided what about the group, of the versions whose values go on."""
    marks: dict[str, Any] = {}
    for name in ("arrangement", "rounds", "rest_s"):
        was, mine, theirs = (
            part.edited.get(name) if part is not None else None for part in (node.base, node.edited, node.new)
        )
        if node.edited is None or node.new is None:
            found = mine or theirs or (was if node.edited is None and node.new is None else None)
        else:
            found = theirs if choose(was, mine, theirs) == "new" else mine
        if found is not None:
            marks[name] = found
    return marks


def _follow(node: Node, name: str, sets: list[Set], key: Callable[[Set], Any], work_out: Callable[[], Any]) -> Any:
    """A value that follows from a group's sets: as in a version whose sets agree in it, else worked out."""
    now = [key(one) for one in sets]
    known = [part for part in (node.edited, node.new) if part is not None and [key(x) for x in part.sets] == now]
    values = [getattr(part, name) for part in known]
    if not values:
        return work_out()
    picked = _pick(node, name)
    return picked if picked in values else values[0]


def _work_out_rest(sets: list[Set]) -> float | None:
    rests = [one.rest_after_s for one in sets[:-1] if one.rest_after_s is not None]
    return median_high(rests) if rests else None
