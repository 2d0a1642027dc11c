"""On what basis a load was said: for one hand or in all."""

from __future__ import annotations

from setdown.assemble.candidates import CandidateSet, window_of
from setdown.assemble.context import ClassContext
from setdown.assemble.ranker import Candidate


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
