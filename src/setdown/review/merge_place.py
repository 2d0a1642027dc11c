"""Merged sets in order: no two at a time, and every group and section in one piece."""

from __future__ import annotations

from collections.abc import Sequence

from setdown.review.merge_facets import choose
from setdown.review.merge_match import Node, Side
from setdown.review.merge_sets import Clash, Work, keep_finisher_inside, show_field

SHORTEST_S = 1.0  # a set that is cut to make room keeps at least so much,
SHORTEST_SHARE = 0.5  # and this share of its length
SLACK_S = 0.0015


def give_places(
    works: Sequence[Work], base: Side, edited: Side, new: Side, groups: list[Node], sections: list[Node]
) -> None:
    """Say of each set which group and section it goes to: where a person put it, else where extraction does."""
    nodes = (*groups, *sections)
    of_base, of_edited, of_new = (
        {id(part): node for node in nodes if (part := getattr(node, name)) is not None}
        for name in ("base", "edited", "new")
    )
    for work in works:
        t = work.triple
        b = base.places[t.base] if t.base is not None else None
        e = edited.places[t.edited] if t.edited is not None else None
        n = new.places[t.new] if t.new is not None else None
        for level, name in ((1, "group"), (0, "section")):
            was = of_base[id(b[level])] if b else None
            mine = of_edited[id(e[level])] if e else None
            theirs = of_new[id(n[level])] if n else None
            node = theirs if mine is None else mine
            if mine is not None and theirs is not None:
                node = theirs if choose(was, mine, theirs) == "new" else mine
            work.placed_by_hand |= mine is not None and (was is None or mine is not was)
            assert node is not None
            setattr(work, name, node)


def make_room(works: list[Work]) -> tuple[list[Work], list[Clash]]:
    """The sets in order of time, none while another lasts: what a person set goes before what extraction adds.

    Clashes tell of sets that there was no room for.
    """
    lost: list[Clash] = []
    works = sort_works(works)
    at = 0
    while at < len(works) - 1:
        a, b = works[at], works[at + 1]
        both_old = a.is_as_in(a.edited) and b.is_as_in(b.edited)
        both_new = a.is_as_in(a.new) and b.is_as_in(b.new)
        if a.end <= b.start + SLACK_S or both_old or both_new:
            at += 1
            continue
        added = next((w for w in (a, b) if w.edited is None), None)
        if added is not None:
            if not _trim(added, b if added is a else a):
                works.remove(added)
                theirs = show_field(added.new, "exercise") if added.new else ""
                lost.append(Clash("", "another set at that time", theirs, exercise=theirs, start=added.start))
        else:
            moved = next(w for w in (b, a) if not w.is_as_in(w.edited))
            assert moved.edited is not None
            moved.doc |= {"start": moved.edited.start, "end": moved.edited.end}
            keep_finisher_inside(moved.doc)
        works = sort_works(works)
        at = 0
    return works, lost


def sort_works(works: list[Work]) -> list[Work]:
    def key(work: Work) -> tuple[float, float, float, float]:
        e, n = work.triple.edited, work.triple.new
        return work.start, work.end, -1 if e is None else e, -1 if n is None else n

    return sorted(works, key=key)


def hold_together(works: list[Work], groups: list[Node], sections: list[Node]) -> None:
    """Let no set stand between the sets of another section or group.

    One that a person did not put there joins what is around it; else what it parts becomes two.
    """
    _hold(works, "section", sections)
    _hold(works, "group", groups)
    where: dict[int, Node] = {}
    copies: dict[tuple[int, int], Node] = {}
    for work in works:  # a group that reaches into two sections becomes two
        home = where.setdefault(id(work.group), work.section)
        if home is not work.section:
            key = id(work.group), id(work.section)
            if key not in copies:
                copies[key] = Node(new=work.group.edited or work.group.new or work.group.base)
                groups.append(copies[key])
            work.group = copies[key]
            where[id(work.group)] = work.section


def _hold(works: list[Work], level: str, nodes: list[Node]) -> None:
    at = 0
    while at < len(works):
        node = getattr(works[at], level)
        run = at
        while run < len(works) and getattr(works[run], level) is node:
            run += 1
        again = next((k for k in range(run, len(works)) if getattr(works[k], level) is node), None)
        if again is None:
            at = run
            continue
        between = works[run:again]
        if not any(w.placed_by_hand for w in between):
            for work in between:
                setattr(work, level, node)
                if level == "section":
                    continue
                work.section = works[at].section
            continue
        copy = Node(new=node.edited or node.new or node.base)
        nodes.append(copy)
        for work in works[again:]:
            if getattr(work, level) is node:
                setattr(work, level, copy)
        at = run


def _trim(added: Work, other: Work) -> bool:
    """Cut what overlaps off an added set; whether enough of it is left."""
    length = added.end - added.start
    if added.start < other.start:
        start, end = added.start, other.start
    else:
        start, end = other.end, added.end
    if end - start < max(SHORTEST_S, SHORTEST_SHARE * length):
        return False
    added.doc |= {"start": start, "end": end}
    keep_finisher_inside(added.doc)
    return True
