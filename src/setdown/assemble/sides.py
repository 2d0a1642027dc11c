"""Which side a set trains: said, switched ('other leg'), both counted apart ('each side'), or none."""

from __future__ import annotations

from setdown.assemble.candidates import CandidateSet, bucket_distance, window_of
from setdown.assemble.context import HEAD_WORDS, ClassContext
from setdown.assemble.ranker import Candidate
from setdown.model.mention import Mention

OPPOSITE = {"left": "right", "right": "left"}
# Words beside a side that tell whether it works or helps: 'right ankle over your left knee', 'help it with the left'.
LYING, LYING_WORDS = (
    frozenset(["lie", "lying", "roll", "rolling", "onto", "turn"]),
    5,
)  # who lies on one works the other
BESIDE = frozenset(
    [
        "leg",
        "arm",
        "hand",
        "foot",
        "knee",
        "elbow",
        "hip",
        "shoulder",
        "ankle",
        "heel",
        "shin",
        "thigh",
        "palm",
        "side",
        "one",
        "over",
        "in",
        "forward",
        "back",
        "behind",
        "front",
        "up",
        "down",
        "your",
        "the",
        "with",
        "to",
        "on",
        "and",
        "now",
        "then",
        "take",
        "cross",
        "lie",
        "roll",
        "of",
        "from",
        "by",
        "first",
        "goes",
        "is",
        "across",
        "bend",
        "reach",
        "lean",
    ]
)


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
    setup = {s: [m for m in ms if m.start >= draft.setup_start] for s, ms in said.items()}
    first_setup = min((m.start for ms in setup.values() for m in ms), default=None)
    last_setup = max((m.start for ms in setup.values() for m in ms), default=None)
    same_side = context.index.has("side_same", low, draft.span.start + 4)
    next_said = _list_next_sides(context, at) if next_same else []
    how = "other said" if other else "said in the set-up" if any(setup.values()) else "none said"
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
            features += _tell_place(context, setup[side], first_setup, last_setup)
            if not setup[OPPOSITE[side]] and setup[side]:
                features.append("alone in the set-up")
        elif said[OPPOSITE[side]]:
            features.append("only the opposite said")
        elif setup[OPPOSITE[side]]:
            features.append("only the opposite in the set-up")
        if next_said:
            features.append(
                f"next set of this move {'says this' if next_said[0] == side else 'says the opposite'} first"
            )
            if len(set(next_said)) == 1:
                features.append(f"next set of this move says only {'this' if next_said[0] == side else 'the opposite'}")
        if same_side and previous_side:
            features.append("same side said" if previous_side == side else "same side said, another before")
        if previous_side == OPPOSITE[side] and same_as_before:
            features += ["opposite of before"] + (["opposite of before, other said"] if other else [])
            if not said["left"] and not said["right"]:
                features.append("opposite of before, none said")
        if previous_side == side and same_as_before:
            features.append("same as before")
        if previous_side == side and not same_as_before:
            features += ["side of another move before", f"side of another move before, {how}"]
        if previous_side == OPPOSITE[side] and not same_as_before:
            features.append(f"opposite of another move before, {how}")
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


def _tell_place(context: ClassContext, mentions: list[Mention], first: int | None, last: int | None) -> list[str]:
    """How one side is spoken of since the set before: is it first, is it last, and which words are beside it."""
    if not mentions:
        return ["said before the set-up only"]
    features = []
    if mentions[0].start == first:
        features.append("first in the set-up")
    if mentions[-1].start == last:
        features.append("last in the set-up")
    words = context.tagged.words
    for mention, which in ((mentions[0], "first"), (mentions[-1], "last")):
        side = mention.start
        while side < mention.end - 1 and words[side] not in OPPOSITE:
            side += 1
        before = words[side - 1] if side else ""
        after = words[side + 1] if side + 1 < len(words) else ""
        if LYING & set(words[max(side - LYING_WORDS, 0) : side]):
            features.append(f"lie down, {which} side")
        features += [f"{before}, {which} side"] if before in BESIDE else []
        features += [f"{which} side, {after}"] if after in BESIDE else []
    return features


def _list_next_sides(context: ClassContext, at: int) -> list[str]:
    """The sides said between this set and the next, and as the next begins, in their order."""
    draft, after = context.drafts[at], context.drafts[at + 1]
    low, high = draft.span.end, min(after.span.start + HEAD_WORDS, max(after.span.end, after.span.start + 4))
    said = [(m.start, side) for side in OPPOSITE for m in context.index.within(f"side_{side}", low, high)]
    return [side for _, side in sorted(said)]
