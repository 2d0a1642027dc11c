"""How heavy: what the instructor holds in a set, carried on until it changes."""

from __future__ import annotations

from collections.abc import Set as AbstractSet
from itertools import islice

from setdown.assemble.bar import list_totals
from setdown.assemble.basis import basis_candidates
from setdown.assemble.candidates import CandidateSet, describe_set, place_of, window_of
from setdown.assemble.context import HEAD_WORDS, ClassContext, Draft
from setdown.assemble.load_sizes import compare_sizes
from setdown.assemble.load_talk import describe_said, near_names
from setdown.assemble.load_values import find_class_unit, load_key, read_load, to_load
from setdown.assemble.ranker import Candidate
from setdown.model.mention import Mention
from setdown.model.routine import Load

__all__ = ["basis_candidates", "find_class_unit", "load_candidates", "load_key", "near_names", "to_load"]

REACH_BACK = 30
STRAIGHT_ON = 6  # no more words than these between two sets: nothing was put down
#: What is put on a body or a machine, and stays on from move to move.
WORN = frozenset(["ankle_weight", "weight_vest"])
#: What tells whether a load that is not spoken of now is still held.
CARRYING = frozenset(["worn", "no kit", "loaded kit", "kit without load", "its kit named here"]) | {
    "other loaded kit named here",
    "emptied here",
    "the same said",
    "none said here",
}


def load_candidates(
    context: ClassContext, at: int, unit: str | None, used: AbstractSet[str] | None = None
) -> list[Candidate]:
    """Candidates for the load of set ``at`` (:class:`Load` without basis), 'none' among them.

    ``used`` holds the keys of the loads of all sets before, empty for none; it is looked up when not given.
    """
    draft = context.drafts[at]
    found = CandidateSet()
    low, high = window_of(draft)
    said = context.index.within("load", low, high)
    usable = [m for m in said if not m.value.offered and (m.value.value is not None or m.value.rel)]
    _put_said(context, at, found, said, usable, unit)
    _put_alternatives(context, draft, found, low, high, unit)
    if used is None:
        used = {load_key(d.value("load")) for d in context.drafts[:at]}
    _put_earlier(context, at, found, unit, used)
    about = [*describe_set(context, draft), *_tell_kit(context, draft)]
    about += ["emptied here"] if any(m.value.none for m in said) else []
    about += ["the same said"] if any(m.value.same for m in said) else []
    about += [] if usable else ["none said here"]
    compare_sizes(context, at, found.all(), said)
    numbers = _numbers_heard(context, draft)
    own = context.find_earlier(at)
    where = "carried from elsewhere" if own is None else "carried, done before"
    elsewhere = [f"{where}, {a}" for a in about if a in CARRYING]
    elsewhere += (
        ["another is said alone in the set-up"] if any("alone in the set-up" in c.features for c in found.all()) else []
    )
    for candidate in found.all():
        candidate.add("a load", *(f"load, {a}" for a in about))
        if candidate.value.value is not None and int(candidate.value.value) in numbers:
            candidate.add("its number is heard")
        if "said here" not in candidate.features:
            candidate.add(*elsewhere)
    none = found.put(None, "", ["none", *(f"none, {a}" for a in about)], None, "inferred")
    if own is not None:
        none.add("none, none last time" if own.value("load") is None else "none, loaded last time")
    if at and context.drafts[at - 1].value("load") is None:
        none.add("none, none before")
    if not any(used):
        none.add("none, none so far")
    return found.all()


def _put_said(
    context: ClassContext,
    at: int,
    found: CandidateSet,
    said: list[Mention],
    usable: list[Mention],
    unit: str | None,
) -> None:
    """Loads spoken of in the talk of this set, plates on each end of a bar as what they make in all."""
    draft = context.drafts[at]
    movement = draft.value("exercise") or ""
    setup = [m for m in usable if draft.setup_start <= m.start < draft.span.start]
    for m in said:
        load, key = read_load(context, m, unit)
        totals = list_totals(context, m, unit, _find_on_bar(context, at)) if m.value.per_side_plates else []
        if load is None and not totals:
            continue
        features = describe_said(context, draft, m, movement)
        features += ["last said"] if usable and m is usable[-1] else []
        features += ["first said"] if usable and m is usable[0] else []
        if setup and m in setup:
            features += ["last in the set-up"] if m is setup[-1] else ["not last in the set-up"]
            features += ["alone in the set-up"] if len(setup) == 1 else []
        for total, reasons in totals:
            found.put(total, load_key(total), [*features, *reasons], m).features["rule score"] = m.score
        if load is None or (totals and _is_for_bar(context, draft)):
            continue
        if load.value is None:
            features.append("only a direction")
        if m.value.per_side_plates:
            features.append("plates without the bar")
        c = found.put(load, key, features, m)
        c.features["rule score"] = max(c.features.get("rule score", 0.0), m.score)


def _find_on_bar(context: ClassContext, at: int) -> Load | None:
    """What was on the bar last: in the set before when it had one, else when this move came last."""
    for draft in (context.drafts[at - 1] if at else None, context.find_earlier(at)):
        entry = context.lexicon.movements.get(draft.value("exercise") or "") if draft else None
        if draft is not None and entry is not None and "barbell" in entry.kit and draft.value("load") is not None:
            load: Load = draft.value("load")
            return load
    return None


def _is_for_bar(context: ClassContext, draft: Draft) -> bool:
    """Whether plates surely go on a bar: the move is for nothing else, or the class says what its bar weighs."""
    entry = context.lexicon.movements.get(draft.value("exercise") or "")
    if entry is not None and "barbell" in entry.kit and not {"dumbbell", "kettlebell"} & set(entry.kit):
        return True
    return context.index.has("bar", 0, len(context.tagged.words))


def _tell_kit(context: ClassContext, draft: Draft) -> list[str]:
    """What the move is done with, as far as loads go, and what is spoken of in its set-up or worn."""
    entry = context.lexicon.movements.get(draft.value("exercise") or "")
    out = []
    weights = {k for k in entry.kit if k in context.lexicon.kit and context.lexicon.kit[k].loaded} if entry else set()
    if entry is not None and entry.kit:
        out.append("loaded kit" if weights else "kit without load")
    early = min(draft.span.start + HEAD_WORDS, max(draft.span.end, draft.span.start + 4))
    named = {m.value for m in context.index.within("kit", draft.setup_start, early)}
    if named & weights:
        out.append("its kit named here")
    elif any(k in context.lexicon.kit and context.lexicon.kit[k].loaded for k in named):
        out.append("other loaded kit named here")
    if any(m.value in WORN for m in context.index.latest("kit", draft.span.start, 60)):
        out.append("worn")
    return out


def _numbers_heard(context: ClassContext, draft: Draft) -> set[int]:
    """Numbers in the set-up and the first words of the work that are not read as loads."""
    high = min(draft.span.start + HEAD_WORDS // 2, max(draft.span.end, draft.span.start + 2))
    out: set[int] = set()
    for kind in ("reps", "count", "work_s"):
        for m in context.index.within(kind, draft.setup_start, high):
            number = getattr(m.value, "lo", None) or getattr(m.value, "first", None) or getattr(m.value, "work", None)
            if number:
                out.add(number)
    return out


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
        features += _tell_company(context, at, own.value("load"))
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
        features += ["as the set before, straight on"] if draft.span.start - draft.setup_start <= STRAIGHT_ON else []
        if own is not None and "its company changed" in _tell_company(context, at, own.value("load")):
            features.append("as the set before, which changed")
        evidence = before.ranked["load"].best.evidence[:1]
        found.put(
            before.value("load"), load_key(before.value("load")), features, evidence[0] if evidence else None, "carried"
        )
    _put_said_earlier(context, at, found, unit, used)


def _tell_company(context: ClassContext, at: int, last: Load | None) -> list[str]:
    """Whether the move just before, which had this one's load last time, has another by now: pairs change as one."""
    before, earlier = context.drafts[at - 1], context.find_earlier(at - 1) if at else None
    if (
        earlier is None
        or last is None
        or context.find_earlier(at) is before
        or before.group != context.drafts[at].group
    ):
        return []
    if load_key(earlier.value("load")) != load_key(last):
        return ["its company differs"]
    return ["its company stays" if load_key(before.value("load")) == load_key(last) else "its company changed"]


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
