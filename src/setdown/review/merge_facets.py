"""What of a set is decided together: a value with its origin, confidence, evidence and who edited it.

Three versions of each such *facet* (before, as a person edited it, as it is now extracted) become one.
"""

from __future__ import annotations

from typing import Any, Literal, TypeVar

Doc = dict[str, Any]
Facet = dict[tuple[str, ...], Any]
T = TypeVar("T")

VALUES = ("exercise", "round", "side", "reps", "counted", "work_s", "load", "tempo", "effort", "finisher")
FIELDS = (*VALUES, "start", "end", "rest_after_s")
PLAIN = ("id", "margin_s", "coaching")
META = ("origin", "confidence", "evidence", "edited")
ALSO = {"load": ("basis",)}  # other keys under which the notes on a field are kept
SAID = "said"
TIME_SLACK_S = 1.0  # a time that extraction moves by less is no reason to ask
QUOTED = ("said", "carried", "declared")  # origins that rest on words

Choice = Literal["edited", "new", "clash"]


def choose(before: T | None, edited: T, new: T) -> Choice:
    """Which of two versions goes on: the one that is changed. ``clash`` when both are, differently."""
    if edited == before:
        return "new"
    return "edited" if new in (before, edited) else "clash"


def list_facets(doc: Doc) -> dict[str, Facet]:
    """A set taken apart, by name of the facet. ``put_facets`` puts it together again."""
    facets: dict[str, Facet] = {}
    known: set[str] = set()
    for field in FIELDS:
        keys = (field, *ALSO.get(field, ()))
        known.update(keys)
        value = doc[field]
        if field == "exercise":
            value = {"id": value["id"], "name": value["name"]}
        facet: Facet = {("value",): value}
        facet |= {(kind, key): doc[kind][key] for kind in META for key in keys if key in doc.get(kind, {})}
        facets[field] = facet
    facets[SAID] = {("value",): doc["exercise"]["said"]}
    facets |= {name: {("value",): doc[name]} for name in PLAIN}
    for kind in META:
        for key, value in doc.get(kind, {}).items():
            if key not in known:
                facets.setdefault("about " + key, {})[kind, key] = value
    return facets


def put_facets(facets: dict[str, Facet]) -> Doc:
    """A set out of its facets."""
    doc: Doc = {kind: {} for kind in META}
    for name, facet in facets.items():
        for path, value in facet.items():
            if path == ("value",) and name != SAID:
                doc[name] = dict(value) if name == "exercise" else value
            elif path != ("value",):
                doc[path[0]][path[1]] = value
    doc["exercise"]["said"] = facets[SAID]["value",]
    return doc


def choose_facet(name: str, before: Facet | None, edited: Facet, new: Facet) -> Choice:
    """As ``choose``, where only values can clash: what a person decided goes before what is now said about it."""
    choice = choose(before, edited, new)
    if choice != "clash":
        return choice
    if name.startswith("about ") or name in PLAIN or name == SAID:
        return "edited" if name == "coaching" or name.startswith("about ") else "new"
    mine, theirs = edited["value",], new["value",]
    was = before["value",] if before is not None else None
    decided = before is None or mine != was or _list_marks(edited) != _list_marks(before)
    if not decided:
        return "new" if theirs != was else "edited"
    if theirs in (was, mine) and (before is not None or theirs == mine):
        return "edited"
    if name in ("start", "end") and was is not None and abs(theirs - was) <= TIME_SLACK_S:
        return "edited"
    if name == "finisher" and mine and theirs and mine["kind"] == theirs["kind"]:
        return "edited"
    if name == "rest_after_s" and edited.get(("origin", name)) != "edited":
        return "new"  # it follows the times
    return "clash"


def drop_stale_evidence(doc: Doc, fresh: Doc | None) -> None:
    """After the transcript changed, quotes of the old one do not hold: those of the new extraction take their place."""
    there = fresh["evidence"] if fresh else {}
    doc["evidence"] = {key: there[key] for key in doc["evidence"] if key in there}
    doc["coaching"] = fresh["coaching"] if fresh else []
    for key, origin in doc["origin"].items():
        if origin in QUOTED and not doc["evidence"].get(key):
            doc["origin"][key] = "inferred"


def _list_marks(facet: Facet) -> list[Any]:
    return [value for path, value in facet.items() if path[0] == "edited"]
