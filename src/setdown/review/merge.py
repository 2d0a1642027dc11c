"""Three routines into one: what a person edited stays, what extraction found anew elsewhere is taken.

``base`` is what was extracted first, ``edited`` what a person made of it, ``new`` what is extracted now (with a better
lexicon, or from corrected captions). Where only one of the two differs from the base, it counts. Where both do and do
not agree, the person's value stays and a query holds both.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from setdown.check.timeline import check_timeline
from setdown.model.routine import Group, Query, Routine
from setdown.review.merge_facets import choose
from setdown.review.merge_match import Side, match_nodes, match_sets, take_side
from setdown.review.merge_place import give_places, hold_together, make_room
from setdown.review.merge_queries import ask_about_clash, merge_queries
from setdown.review.merge_sets import Clash, Work, merge_sets
from setdown.review.merge_structure import Built, build_sections

SIGNED = frozenset({"status", "signatures"})
ABOUT = ("id", "title", "language", "made_by", "notices", "declared", "equipment")
OF_PEOPLE = frozenset({"title", "instructor", "date", "media"})  # what a person knows better


@dataclass(frozen=True, slots=True)
class Merged:
    """The merged routine, and the queries in it that tell of clashes."""

    routine: Routine
    clashes: tuple[Query, ...]


def merge_routines(base: Routine, edited: Routine, new: Routine) -> Merged:
    """Merge the edits that lead from ``base`` to ``edited`` into ``new``.

    With ``new`` equal to ``base`` the result is ``edited``; with ``edited`` equal to ``base`` it is ``new``.
    """
    sides = take_side(base), take_side(edited), take_side(new)
    triples = match_sets(*sides)
    other = base.source.sha256 != new.source.sha256
    works, lost = merge_sets(*sides, triples, other_transcript=other)
    groups = match_nodes(*sides, triples, lambda place: place[1], _list_groups)
    sections = match_nodes(*sides, triples, lambda place: place[0], lambda routine: routine.sections)
    give_places(works, *sides, groups, sections)
    works, crowded = make_room(works)
    hold_together(works, groups, sections)
    built = build_sections(works, groups, sections, *sides)
    about, unsure = _merge_about(base, edited, new)
    ids = _map_ids(sides, built)
    sets = {one.id: one for one in built.sets}
    queries = merge_queries(base, edited, new, ids, sets, other_transcript=other)
    clashes = _list_clashes(works, built, [*lost, *crowded], unsure)
    merged = Routine(
        **about,
        source=_merge_source(base, edited, new),
        status="draft",
        sections=built.sections,
        queries=[*queries, *(q for q in clashes if q.id not in {known.id for known in queries})],
    )
    merged, wrong = _ask_about_wrong(merged, edited, new)
    return Merged(_give_status(merged, base, edited, new), (*clashes, *wrong))


def _list_groups(routine: Routine) -> list[Group]:
    return [g for s in routine.sections for g in s.groups]


def _map_ids(sides: tuple[Side, Side, Side], built: Built) -> Any:
    """Of each routine: id of a set -> id of the merged set."""
    found: tuple[dict[str, str], dict[str, str], dict[str, str]] = ({}, {}, {})
    for work, one in zip(built.works, built.sets, strict=True):
        t = work.triple
        for known, side, at in zip(found, sides, (t.base, t.edited, t.new), strict=True):
            if at is not None:
                known[side.sets[at].id] = one.id
    return found


def _merge_about(base: Routine, edited: Routine, new: Routine) -> tuple[dict[str, Any], list[tuple[str, str, str]]]:
    about: dict[str, Any] = {}
    unsure = []
    for name in ABOUT:
        b, e, n = (getattr(r, name) for r in (base, edited, new))
        choice = choose(b, e, n)
        about[name] = n if choice == "new" or (choice == "clash" and name not in OF_PEOPLE) else e
        if choice == "clash" and name in OF_PEOPLE:
            unsure.append((name, str(e), str(n)))
    for name in OF_PEOPLE - {"title"}:
        b, e, n = (getattr(r.source, name) for r in (base, edited, new))
        if choose(b, e, n) == "clash":
            unsure.append((name, str(e), str(n)))
    return about, sorted(unsure)


def _merge_source(base: Routine, edited: Routine, new: Routine) -> Any:
    changes: dict[str, Any] = {}
    for name in type(new.source).model_fields:
        b, e, n = (getattr(r.source, name) for r in (base, edited, new))
        choice = choose(b, e, n)
        if choice == "clash" and name == "tags":
            changes[name] = [t for t in e if t in n or t not in b] + [t for t in n if t not in e and t not in b]
        else:
            changes[name] = n if choice == "new" or (choice == "clash" and name not in OF_PEOPLE) else e
    return new.source.model_copy(update=changes)


def _list_clashes(
    works: list[Work], built: Built, lost: list[Clash], unsure: list[tuple[str, str, str]]
) -> list[Query]:
    found = []
    for work, one in zip(built.works, built.sets, strict=True):
        found += [ask_about_clash(clash, one.id, one) for clash in work.clashes]
    found += [ask_about_clash(clash, "", None) for clash in lost]
    for name, mine, theirs in unsure:
        message = f"{name}: the edited routine has {mine!r}, the new one {theirs!r}."
        query = Query(id=f"versions-differ:{name}", code="versions-differ", severity="should", message=message)
        found.append(query.model_copy(update={"suggestions": [mine, theirs]}))
    return found


def _ask_about_wrong(merged: Routine, edited: Routine, new: Routine) -> tuple[Routine, list[Query]]:
    """What is wrong only now that both are together becomes a query that must be answered."""
    known = {f.code for f in check_timeline(edited)} | {f.code for f in check_timeline(new)}
    wrong = [
        Query(
            id=f"versions-differ:{finding.code}:{n}",
            code="versions-differ",
            severity="must",
            message=f"The two versions do not fit together: {finding.problem}.",
        )
        for n, finding in enumerate(check_timeline(merged))
        if finding.code not in known
    ]
    return merged.model_copy(update={"queries": [*merged.queries, *wrong]}), wrong


def _give_status(merged: Routine, base: Routine, edited: Routine, new: Routine) -> Routine:
    """A routine that is one of the two keeps the status that it had there; anything else is a draft."""
    content = merged.model_dump(exclude=set(SIGNED))
    mine, theirs = (content == one.model_dump(exclude=set(SIGNED)) for one in (edited, new))
    if not mine and not theirs:
        return merged
    b, e, n = ((r.status, r.signatures) for r in (base, edited, new))
    status, signatures = n if not mine or (theirs and choose(b, e, n) == "new") else e
    return merged.model_copy(update={"status": status, "signatures": signatures})
