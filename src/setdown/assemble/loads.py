"""How heavy: what the instructor holds in a set, carried on until it changes, and on what basis it was said."""

from __future__ import annotations

from collections.abc import Set as AbstractSet
from decimal import Decimal
from itertools import islice
from typing import Any

from setdown.assemble.candidates import CandidateSet, describe_set, place_of, window_of
from setdown.assemble.context import ClassContext, Draft
from setdown.assemble.namings import NAME_KINDS
from setdown.assemble.ranker import Candidate
from setdown.model.mention import Mention
from setdown.model.routine import Load

NEAR_NAME = 14
REACH_BACK = 30


def load_key(load: Load | None) -> str:
    """Value, unit and direction in one word; empty for none."""
    if load is None:
        return ""
    if load.value is None:
        return load.rel or ""
    return f"{load.value.normalize():f} {load.unit or '?'}"


def find_class_unit(context: ClassContext) -> str | None:
    """The unit of bare loads: what was declared for the class, else the unit said most often with a load."""
    said = context.index.within("unit", 0, len(context.tagged.words))
    if said:
        return str(said[-1].value.unit)
    votes: dict[str, int] = {}
    for m in context.index.within("load", 0, len(context.tagged.words)):
        if m.value.unit in ("lb", "kg"):
            votes[m.value.unit] = votes.get(m.value.unit, 0) + 1
    return max(sorted(votes), key=lambda u: votes[u]) if votes else None


def to_load(value: Any, unit: str | None) -> Load | None:
    """A load as said -> the model's load (basis left open); ``None`` when nothing is held or nothing is told."""
    if value.none or value.same:
        return None
    if value.value is None:
        return Load(rel=value.rel) if value.rel else None
    amount = Decimal(value.value)
    if not 0 < amount < 1000:
        return None
    return Load(value=amount, unit=value.unit or unit)


def read_load(context: ClassContext, mention: Mention, unit: str | None) -> tuple[Load | None, str]:
    """The load of a mention of kind ``load`` and its key (made once for the class)."""
    place = (id(mention), unit)
    found: tuple[Load | None, str] | None = context.known_loads.get(place)
    if found is None:
        load = to_load(mention.value, unit)
        found = context.known_loads[place] = (load, load_key(load))
    return found


def near_names(context: ClassContext, mention: Mention) -> frozenset[str]:
    """Movements named close to a load: first those just after ('fifteens for the rows'), else just before."""
    found = context.near_loads.get(mention.start)
    if found is None:
        found = context.near_loads[mention.start] = frozenset(
            m.value.movement
            for kind in NAME_KINDS[:3]
            for m in context.index.within(kind, mention.start - NEAR_NAME, mention.end + NEAR_NAME)
        )
    return found


def load_candidates(
    context: ClassContext, at: int, unit: str | None, used: AbstractSet[str] | None = None
) -> list[Candidate]:
    """Candidates for the load of set ``at`` (:class:`Load` without basis), 'none' among them.

    ``used`` holds the keys of the loads of all sets before, empty for none; it is looked up when not given.
    """
    draft = context.drafts[at]
    movement = draft.value("exercise") or ""
    found = CandidateSet()
    about = describe_set(context, draft)
    low, high = window_of(draft)
    said = context.index.within("load", low, high)
    usable = [m for m in said if not m.value.offered]
    emptied = [m for m in said if m.value.none]
    for m in said:
        load, key = read_load(context, m, unit)
        if load is None:
            continue
        names = near_names(context, m)
        features = ["said here", *place_of(context, draft, m)]
        features.append("near own name" if movement in names else "near another name" if names else "near no name")
        if m.value.offered:
            features.append("offered to the viewer")
        if usable and m is usable[-1]:
            features.append("last said")
        if usable and m is usable[0]:
            features.append("first said")
        if load.value is None:
            features.append("only a direction")
        c = found.put(load, key, features, m)
        c.features["rule score"] = max(c.features.get("rule score", 0.0), m.score)
    _put_alternatives(context, draft, found, low, high, unit)
    if used is None:
        used = {load_key(d.value("load")) for d in context.drafts[:at]}
    _put_earlier(context, at, found, unit, used)
    for candidate in found.all():
        candidate.add("a load", *(f"load, {a}" for a in about))
        if emptied:
            candidate.add("load, but emptied here")
        if not usable:
            candidate.add("load, none said here")
    none = found.put(None, "", ["none", *(f"none, {a}" for a in about)], None, "inferred")
    if emptied:
        none.add("none, emptied here")
    if not usable:
        none.add("none, none said here")
    own = context.find_earlier(at)
    if own is not None and own.value("load") is None:
        none.add("none, none last time")
    if at and context.drafts[at - 1].value("load") is None:
        none.add("none, none before")
    if not any(used):
        none.add("none, none so far")
    return found.all()


def _put_alternatives(
    context: ClassContext, draft: Draft, found: CandidateSet, low: int, high: int, unit: str | None
) -> None:
    for kind in ("reps", "count", "ordinal", "other", "sets", "scheme"):
        for m in context.index.within(kind, low, high):
            for alternative in getattr(m.value, "alternatives", ()):
                if alternative.kind == "load":
                    load = to_load(alternative.value, unit)
                    if load is not None:
                        found.put(load, load_key(load), [f"may be said as {kind}", *place_of(context, draft, m)], m)


def _put_earlier(context: ClassContext, at: int, found: CandidateSet, unit: str | None, used: AbstractSet[str]) -> None:
    draft = context.drafts[at]
    movement = draft.value("exercise") or ""
    own = context.find_earlier(at)
    if own is not None and own.value("load") is not None and own.value("load").value is not None:
        features = [
            "as last time",
            "as last time, this group" if own.group == draft.group else "as last time, another group",
        ]
        if own is context.drafts[at - 1] and own.value("side") != draft.value("side"):
            features.append("as on the other side")
        evidence = own.ranked["load"].best.evidence[:1]
        found.put(
            own.value("load"), load_key(own.value("load")), features, evidence[0] if evidence else None, "carried"
        )
    before = context.drafts[at - 1] if at else None
    if before is not None and before.value("load") is not None and before.value("load").value is not None:
        features = ["as the set before", f"as the set before, {draft.arrangement}"]
        features.append(
            "as the set before, this group" if before.group == draft.group else "as the set before, another group"
        )
        a, b = context.lexicon.movements.get(movement), context.lexicon.movements.get(before.value("exercise") or "")
        if a is not None and b is not None:
            features.append(
                "same kit as the set before" if set(a.kit) & set(b.kit) else "other kit than the set before"
            )
        evidence = before.ranked["load"].best.evidence[:1]
        found.put(
            before.value("load"), load_key(before.value("load")), features, evidence[0] if evidence else None, "carried"
        )
    _put_said_earlier(context, at, found, unit, used)


def _put_said_earlier(
    context: ClassContext, at: int, found: CandidateSet, unit: str | None, used: AbstractSet[str]
) -> None:
    """Loads spoken of before this set's own talk: announced for this move, laid out at the start, last in use."""
    draft = context.drafts[at]
    movement = draft.value("exercise") or ""
    entry = context.lexicon.movements.get(movement)
    first = context.drafts[0].span.start
    talk = context.index.back_from("load", max(draft.setup_start - 6, 0))
    earlier = islice((m for m in talk if not m.value.offered), REACH_BACK)
    seen: set[str] = set()
    announced_for = False
    own = context.find_earlier(at)
    for place, m in enumerate(earlier):
        load, key = read_load(context, m, unit)
        if load is None or load.value is None or key in seen:
            continue
        seen.add(key)
        features = ["said earlier", "said before the first set" if m.start < first else "said between sets"]
        if place == 0:
            features.append("last load spoken of")
        if entry is not None and m.value.basis:
            features.append("basis fits the move" if m.value.basis == entry.basis else "basis does not fit the move")
        if entry is not None and not entry.kit:
            features.append("said earlier, the move needs no kit")
        if movement in near_names(context, m) and not announced_for:
            announced_for = True
            done = own is not None and own.span.start > m.start
            features += ["announced for this move", "announced, used already" if done else "announced, not yet used"]
        features.append("said earlier, in use" if key in used else "said earlier, not yet in use")
        found.put(load, key, features, m, "declared")
    if len(seen) == 1:
        for candidate in found.all():
            if candidate.key in seen:
                candidate.add("the only load so far")


def basis_candidates(context: ClassContext, at: int) -> list[Candidate]:
    """Per hand or total, for a set whose load is a number; only 'none' for one without."""
    draft = context.drafts[at]
    load = draft.value("load")
    if load is None or load.value is None:
        return [Candidate(None, "", {"no load": 1.0}, origin="inferred")]
    entry = context.lexicon.movements.get(draft.value("exercise") or "")
    shared = [f"default {entry.basis or 'open'}", f"sided {entry.sided}"] if entry else ["movement unknown"]
    if entry is not None:
        shared += [f"kit {k}" for k in entry.kit[:3]]
        shared.append(f"pattern {entry.pattern}")
    if draft.value("side") in ("left", "right"):
        shared.append("one side at a time")
    own = context.find_earlier(at)
    if own is not None and own.value("basis"):
        shared.append(f"last time {own.value('basis')}")
    said = [m for m in draft.ranked["load"].best.evidence if m.kind == "load"]
    for m in said:
        if m.value.basis:
            shared.append(f"said {m.value.basis}")
        if m.value.implements:
            shared.append(f"implements {m.value.implements}")
        if m.value.per_side_plates or getattr(m.value, "bar_plus", False):
            shared.append("plates on a bar")
        text = " ".join(context.tagged.words[m.start : m.end])
        for word in ("pair", "each", "both hands", "one", "single", "bell", "bar", "the"):
            if f" {word} " in f" {text} ":
                shared.append(f"words {word}")
        if text.endswith("s") and not text.endswith("ss"):
            shared.append("plural")
    low, high = window_of(draft)
    for m in context.index.within("load", low, high):
        if m.value.basis and m not in said:
            shared.append(f"said nearby {m.value.basis}")
    found = CandidateSet()
    for basis in ("per_hand", "total"):
        found.put(
            basis,
            basis,
            [basis, *(f"{basis}, {s}" for s in shared)],
            said[0] if said else None,
            "said" if any(m.value.basis == basis for m in said) else "inferred",
        )
    found.put(None, "", ["open", *(f"open, {s}" for s in shared)], None, "inferred")
    return found.all()
