"""What speaks for and against a row as a whole, beyond each of its values: does it fit the rows around it?

Each feature is named ``topic: what it sees``, so that a query can say in words why a row is to be looked at. Values are
doubts (``-log`` of a confidence: 0 for certain), shares, or 1 where something holds. The order of the drafts is that of
the class.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from setdown.assemble.context import ClassContext, Draft
from setdown.assemble.loads import load_key
from setdown.model.routine import Set

FIELDS = ("exercise", "side", "reps", "work_s", "load", "finisher")
VALUES = ("reps", "work_s", "load")
LEAST = 0.02  # confidences below count as this one
MOST_SCORE = 5.0
OPPOSITE = {"left": "right", "right": "left"}


def gather_doubts(context: ClassContext, sets: Sequence[Set]) -> list[dict[str, float]]:
    """The features of every row; ``sets`` are those of the drafts, with calibrated confidences of their fields."""
    doubts = [{f: -math.log(max(s.confidence.get(f, 1.0), LEAST)) for f in (*FIELDS, "basis")} for s in sets]
    names = [d["exercise"] for d in doubts]
    by_move: dict[str, Alike] = {}
    by_group: dict[int, Alike] = {}
    for at, draft in enumerate(context.drafts):
        keys = {f: _key(f, draft) for f in VALUES}
        by_move.setdefault(draft.value("exercise") or f"?{at}", Alike()).add(at, draft, keys, names[at])
        by_group.setdefault(draft.group, Alike()).add(at, draft, keys, names[at])
    overall = sum(names) / len(names) if names else 0.0
    out = []
    for at, (draft, one) in enumerate(zip(context.drafts, sets, strict=True)):
        same, alike = by_move[draft.value("exercise") or f"?{at}"], by_group[draft.group]
        group = [k for k in alike.members if k != at]
        found: dict[str, float] = {}
        found |= _see_fields(draft, one, doubts[at])
        found |= _see_names(draft, names, at, same, group, overall)
        found |= _see_side(context, draft, same)
        found |= _see_values(draft, same, alike)
        found |= _see_numbers(context, draft, one)
        found |= _see_span(draft, one)
        found |= _see_round(context, draft, group)
        out.append({name: round(value, 4) for name, value in found.items() if value})
    return out


@dataclass(slots=True)
class Alike:
    """Sets of one move or group, counted once for all of them: each is compared with the others."""

    members: list[int] = field(default_factory=list)
    sides: Counter[str] = field(default_factory=Counter)
    keys: dict[str, Counter[str]] = field(default_factory=lambda: {f: Counter() for f in VALUES})
    doubts: list[float] = field(default_factory=list)  # the least two about their names, in order

    def add(self, at: int, draft: Draft, keys: Mapping[str, str], doubt: float) -> None:
        """One more set, with its values' keys and the doubt about its name."""
        self.members.append(at)
        self.sides[draft.value("side") or "none"] += 1
        for f, key in keys.items():
            self.keys[f][key] += 1
        self.doubts = sorted([*self.doubts, doubt])[:2]

    def others(self) -> int:
        """How many others each of the sets has."""
        return len(self.members) - 1


def _see_fields(draft: Draft, one: Set, doubts: Mapping[str, float]) -> dict[str, float]:
    found = {f"{f}: unsure": doubts[f] for f in FIELDS}
    if one.load is not None:
        found["basis: unsure"] = doubts["basis"]
    for f in FIELDS:
        ranked = draft.ranked[f]
        if len(ranked.probabilities) > 1:
            found[f"{f}: a close second"] = ranked.probabilities[1] / max(ranked.probabilities[0], LEAST)
        if draft.value(f):
            found[f"{f}: {ranked.best.origin}"] = 1.0
    return found


def _see_names(
    draft: Draft, names: Sequence[float], at: int, same: Alike, group: list[int], overall: float
) -> dict[str, float]:
    around = [names[k] for k in range(max(at - 2, 0), min(at + 3, len(names))) if k != at]
    found = {
        "exercise: unsure in the sets around": _mean(around, names[at]),
        "exercise: unsure in its group": _mean([names[k] for k in group], names[at]),
        "exercise: unsure in the class": overall,
        # of the two least doubts the one that is not its own; its own when it is alone
        "exercise: unsure wherever it comes": same.doubts[-1] if names[at] == same.doubts[0] else same.doubts[0],
        "exercise: comes once": float(not same.others()),
        "exercise: comes often": math.log1p(same.others()),
    }
    evidence = draft.ranked["exercise"].best.evidence
    if evidence:
        found[f"exercise: by {evidence[0].kind}"] = 1.0
    return found


def _see_side(context: ClassContext, draft: Draft, same: Alike) -> dict[str, float]:
    entry = context.lexicon.movements.get(draft.value("exercise") or "")
    side = draft.value("side") or "none"
    sides = same.sides  # its own among them, which is neither the opposite side nor, where it has none, left or right
    found = {f"side: {side} for a move that trains {entry.sided if entry else 'unknown'}": 1.0}
    if side in OPPOSITE:
        found["side: no other side"] = float(not sides[OPPOSITE[side]])
        found["side: uneven"] = float(sides[side] != sides[OPPOSITE[side]])
    elif same.others():
        found["side: other sets of the move have one"] = float(sides["left"] + sides["right"] > 0)
    low, high = draft.setup_start, draft.span.end
    if side == "none" and any(context.index.has(kind, low, high) for kind in ("side_left", "side_right")):
        found["side: left or right was said"] = 1.0
    return found


def _see_values(draft: Draft, same: Alike, group: Alike) -> dict[str, float]:
    """Whether reps, seconds and load agree with those of the same move and of the same group."""
    found: dict[str, float] = {}
    for f in VALUES:
        own = _key(f, draft)
        for label, alike in (("of the move", same), ("of the group", group)):
            others = alike.others()
            if not others:
                continue
            keys = alike.keys[f]
            found[f"{f}: as in other sets {label}"] = (keys[own] - 1) / others
            without = (keys[""] - (not own)) / others
            found[f"{f}: none, but other sets {label} have it"] = 0.0 if own else 1.0 - without
            found[f"{f}: given, but not in other sets {label}"] = without if own else 0.0
    return found


def _see_numbers(context: ClassContext, draft: Draft, one: Set) -> dict[str, float]:
    entry = context.lexicon.movements.get(one.exercise.id)
    kinds = ["reps"] * (one.reps is not None) + ["seconds"] * (one.work_s is not None)
    given = " and ".join(kinds) or "nothing"
    found = {f"reps: {given} given": 1.0}
    if entry is not None:
        found[f"reps: {given} for a move counted in {' or '.join(sorted(entry.counted))}"] = 1.0
        found["load: none, though the move has kit"] = float(bool(entry.kit) and one.load is None)
        found["load: given, though the move has no kit"] = float(not entry.kit and one.load is not None)
    if one.counted is not None:
        top = one.reps.hi if one.reps is not None else None
        found["reps: counted, but none given"] = float(one.reps is None)
        found["reps: counted to the end"] = float(top == one.counted)
        found["reps: counted further"] = float(top is not None and one.counted > top)
    if one.load is not None:
        found["load: without unit"] = float(one.load.value is not None and one.load.unit is None)
        found["basis: none"] = float(one.load.basis is None)
    elif context.index.has("load", draft.setup_start, draft.span.start + 10):
        found["load: one was said"] = 1.0
    low, high = max(draft.setup_start - 6, 0), max(draft.span.end, draft.span.start + 4)
    if not draft.value("side") and context.index.has("each_side", low, high):
        found["side: each side was said"] = 1.0
    return found


def _see_span(draft: Draft, one: Set) -> dict[str, float]:
    seconds = one.end - one.start
    found = {
        "span: a clear start": min(max(draft.span.start_score, -MOST_SCORE), MOST_SCORE),
        "span: a clear end": min(max(draft.span.end_score, -MOST_SCORE), MOST_SCORE),
        "span: likely (log-odds)": _to_log_odds(draft.span.probability),
        "span: seconds (log)": math.log1p(max(seconds, 0.0)),
        "span: words (log)": math.log1p(draft.span.end - draft.span.start),
        "span: talk before (log)": math.log1p(max(draft.span.start - draft.setup_start, 0)),
        "span: talk after (log)": math.log1p(max(draft.next_start - draft.span.end, 0)),
        "span: times are rough": math.log1p(one.margin_s),
    }
    if one.work_s:
        found["span: other length than said"] = min(abs(math.log(max(seconds, 1.0) / one.work_s)), 2.0)
    if one.reps is not None and one.reps.lo:
        pace = seconds / one.reps.lo / (2 if one.side == "each" else 1)
        found["span: too short for the reps"] = float(pace < 0.7)
        found["span: too long for the reps"] = float(pace > 12.0)
    return found


def _see_round(context: ClassContext, draft: Draft, group: list[int]) -> dict[str, float]:
    moves = {context.drafts[k].value("exercise") for k in group} | {draft.value("exercise")}
    return {
        "round: a later one": min(draft.round - 1, 4),
        "round: of an uneven group": float(bool(group) and (len(group) + 1) % len(moves) != 0),
        "round: size of its group (log)": math.log1p(len(group)),
        f"place: {draft.section or 'no section'}": 1.0,
        f"place: {draft.arrangement or 'no arrangement'}": 1.0,
    }


def _key(name: str, draft: Draft) -> str:
    value = draft.value(name)
    if value is None or value == "":
        return ""
    return load_key(value) if name == "load" else str(value)


def _mean(values: Iterable[float], otherwise: float) -> float:
    held = list(values)
    return sum(held) / len(held) if held else otherwise


def _to_log_odds(probability: float) -> float:
    """From -MOST_SCORE to MOST_SCORE."""
    p = min(max(probability, 1e-9), 1 - 1e-9)
    return min(max(math.log(p / (1 - p)), -MOST_SCORE), MOST_SCORE)
