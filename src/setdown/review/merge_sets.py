"""One set out of up to three versions of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from setdown.model.routine import Set
from setdown.review.cell_load import show_load
from setdown.review.merge_facets import (
    Doc,
    Facet,
    choose_facet,
    drop_stale_evidence,
    list_facets,
    put_facets,
)
from setdown.review.merge_match import Node, Side, Triple
from setdown.sheet import format_number

MEANING = ("exercise", "round", "side", "reps", "work_s", "load", "tempo", "effort", "finisher")


@dataclass(frozen=True, slots=True)
class Clash:
    """A value that a person and the new extraction both changed, differently, as texts of a cell.

    ``at`` is the position of the set among the merged ones, ``None`` when there is no such set in the result.
    """

    field: str
    mine: str
    theirs: str
    by: str = ""
    exercise: str = ""
    start: float = 0.0


@dataclass(slots=True, eq=False)
class Work:
    """A set that is being merged: its document, versions, place, and what clashed."""

    triple: Triple
    doc: Doc
    edited: Set | None
    new: Set | None
    group: Node = field(default_factory=Node)
    section: Node = field(default_factory=Node)
    placed_by_hand: bool = False
    clashes: list[Clash] = field(default_factory=list)

    @property
    def start(self) -> float:
        return float(self.doc["start"])

    @property
    def end(self) -> float:
        return float(self.doc["end"])

    def is_as_in(self, one: Set | None) -> bool:
        """Whether the span of time is that of a version."""
        return one is not None and (one.start, one.end) == (self.start, self.end)


def merge_sets(
    base: Side, edited: Side, new: Side, triples: Sequence[Triple], *, other_transcript: bool
) -> tuple[list[Work], list[Clash]]:
    """The sets that go on, not yet in order, and clashes about those that do not."""
    works, lost = [], []
    for triple in triples:
        b = base.sets[triple.base] if triple.base is not None else None
        e = edited.sets[triple.edited] if triple.edited is not None else None
        n = new.sets[triple.new] if triple.new is not None else None
        if e is None and n is None:
            continue
        if e is None and b is not None and n is not None:  # deleted by a person
            if _tell_meaning(b) != _tell_meaning(n):
                lost.append(Clash("", "deleted", _tell_set(n), exercise=n.exercise.name, start=n.start))
            continue
        if n is None and b is not None and e is not None and not _is_edited(b, e):
            continue  # the new extraction knows better, and no person had a hand in it
        work = _merge_one(triple, b, e, n)
        if n is None and b is not None and e is not None:
            work.clashes.append(Clash("", _tell_set(e), "no such set", by=_tell_who(e, "")))
        if other_transcript and e is not None and work.doc != (n and n.model_dump(mode="json")):
            drop_stale_evidence(work.doc, n.model_dump(mode="json") if n else None)
        works.append(work)
    return works, lost


def show_field(one: Set, name: str) -> str:
    """A value as a cell shows it; ``none`` for no value."""
    if name == "load":
        text = show_load(one.load)
    elif name == "exercise":
        text = one.exercise.name
    elif name == "finisher":
        text = one.finisher.kind if one.finisher else ""
    elif name in ("work_s", "start", "end", "rest_after_s"):
        text = format_number(getattr(one, name))
    else:
        value = getattr(one, name)
        text = "" if value is None else str(value)
    return text or "none"


def _merge_one(triple: Triple, b: Set | None, e: Set | None, n: Set | None) -> Work:
    if e is None or n is None:
        one = e or n
        assert one is not None
        return Work(triple, one.model_dump(mode="json"), e, n)
    before = list_facets(b.model_dump(mode="json")) if b is not None else None
    mine, theirs = list_facets(e.model_dump(mode="json")), list_facets(n.model_dump(mode="json"))
    merged: dict[str, Facet] = {}
    clashes = []
    for name in dict.fromkeys([*mine, *theirs]):
        was = None if before is None else before.get(name, {})
        a, c = mine.get(name, {}), theirs.get(name, {})
        choice = choose_facet(name, was, a, c)
        if choice == "clash":
            clashes.append(Clash(name, show_field(e, name), show_field(n, name), by=_tell_who(e, name)))
        merged[name] = c if choice == "new" else a
    doc = put_facets(merged)
    if doc["end"] < doc["start"]:
        doc["start"], doc["end"] = e.start, e.end
    keep_finisher_inside(doc)
    return Work(triple, doc, e, n, clashes=clashes)


def keep_finisher_inside(doc: Doc) -> None:
    """A finisher whose times are not those of its set any more has none."""
    finisher = doc["finisher"]
    times = [t for t in (finisher["start"], finisher["end"]) if t is not None] if finisher else []
    if any(not doc["start"] - 0.0015 <= t <= doc["end"] + 0.0015 for t in times):
        doc["finisher"] = finisher | {"start": None, "end": None}


def _is_edited(b: Set, e: Set) -> bool:
    """Whether anything but what follows from other sets is changed."""
    before, after = list_facets(b.model_dump(mode="json")), list_facets(e.model_dump(mode="json"))
    derived = set() if e.origin.get("rest_after_s") == "edited" else {"rest_after_s"}
    return any(before.get(name) != after.get(name) for name in {**before, **after} if name not in derived)


def _tell_meaning(one: Set) -> list[str]:
    return [show_field(one, name) for name in MEANING]


def _tell_set(one: Set) -> str:
    values = [one.exercise.name, f"{one.reps} reps" if one.reps else ""]
    values += [f"{format_number(one.work_s)} s" if one.work_s else "", show_load(one.load)]
    return ", ".join(filter(None, values))


def _tell_who(one: Set, name: str) -> str:
    mark = one.edited.get(name) or next(iter(one.edited.values()), None)
    return mark.by if mark else ""
