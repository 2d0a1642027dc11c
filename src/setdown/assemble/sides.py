"""Which side a set trains: said, switched ('other leg'), both counted apart ('each side'), or none."""

from __future__ import annotations

from setdown.assemble.candidates import CandidateSet, bucket_distance, window_of
from setdown.assemble.context import HEAD_WORDS, ClassContext
from setdown.assemble.ranker import Candidate

OPPOSITE = {"left": "right", "right": "left"}


def side_candidates(context: ClassContext, at: int) -> list[Candidate]:
    """Candidates left, right, each and none for set ``at``; the movements of all sets are decided already."""
    draft = context.drafts[at]
    movement = draft.value("exercise") or ""
    entry = context.lexicon.movements.get(movement)
    sided = entry.sided if entry else "unknown"
    before = context.drafts[at - 1] if at else None
    previous_side = before.value("side") if before else None
    same_as_before = before is not None and (before.value("exercise") or "") == movement
    own_last = context.find_earlier(at)
    next_same = at + 1 < len(context.drafts) and (context.drafts[at + 1].value("exercise") or "") == movement
    low, high = window_of(draft)
    early = min(draft.span.start + HEAD_WORDS, high)
    other = context.index.has("side_other", low, draft.span.start + 4)
    said = {s: context.index.within(f"side_{s}", low, early) for s in ("left", "right")}
    general = [f"sided {sided}", "same move as before" if same_as_before else "another move than before"]
    if next_same:
        general.append("same move next")
    if other:
        general.append("other side said")
    if not said["left"] and not said["right"]:
        general.append("no side said")

    found = CandidateSet()
    for side in ("left", "right"):
        features = ["one side", *(f"one side, {g}" for g in general)]
        mentions = said[side]
        if mentions:
            nearest = min(mentions, key=lambda m: abs(m.start - draft.span.start))
            zone = context.zone(draft, nearest.start)
            features += ["said", f"said in {zone}", f"said {bucket_distance(abs(nearest.start - draft.span.start))}"]
            features.append("only this side said" if not said[OPPOSITE[side]] else "both sides said")
            if len(mentions) > 1:
                features.append("said twice")
            last_any = max((m for ms in said.values() for m in ms), key=lambda m: m.start)
            first_any = min((m for ms in said.values() for m in ms), key=lambda m: m.start)
            if last_any in mentions:
                features.append("last said")
            if first_any in mentions:
                features.append("first said")
            setup_said = [m for ms in said.values() for m in ms if m.start < draft.span.start]
            if setup_said and max(setup_said, key=lambda m: m.start) in mentions:
                features.append("last said before work")
            features.append(f"said, sided {sided}")
        elif said[OPPOSITE[side]]:
            features.append("only the opposite said")
        if previous_side == OPPOSITE[side] and same_as_before:
            features += ["opposite of before"] + (["opposite of before, other said"] if other else [])
            if not said["left"] and not said["right"]:
                features.append("opposite of before, none said")
        if previous_side == side and same_as_before:
            features.append("same as before")
        if previous_side == side and not same_as_before:
            features.append("side of another move before")
        if own_last is not None and not same_as_before:
            if own_last.value("side") == side:
                features.append("side of this move last time")
            elif own_last.value("side") == OPPOSITE[side]:
                features.append("opposite of this move last time" + (", other said" if other else ""))
        evidence = mentions[-1] if mentions else context.index.last("side_other", low, draft.span.start + 4)
        origin = "said" if mentions else ("carried" if evidence else "inferred")
        found.put(side, side, features, evidence, origin)

    each = context.index.within("each_side", low, high)
    features = ["each", *(f"each, {g}" for g in general)]
    if each:
        zone = context.zone(draft, each[-1].start)
        features += ["each said", f"each said in {zone}"]
    rep_each = [m for m in context.index.within("reps", low, high) if getattr(m.value, "each_side", False)]
    if rep_each:
        features.append("reps each side said")
    if context.index.has("alternate", low, high):
        features.append("alternating said")
    if own_last is not None:
        features.append(f"each, last time {own_last.value('side') or 'none'}")
    evidence = next(iter((rep_each or each)[-1:]), None)
    found.put("each", "each", features, evidence, "said" if each or rep_each else "carried")

    features = ["none", *(f"none, {g}" for g in general)]
    if own_last is not None and own_last.value("side") is None:
        features.append("none last time")
    if previous_side in OPPOSITE and same_as_before:
        features.append("none, after one side of this move")
    found.put(None, "", features, None, "inferred")
    return found.all()
