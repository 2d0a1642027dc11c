"""Rep targets that nobody says again: as last time, as the set before, declared, by the scheme, on down the ladder."""

from __future__ import annotations

from setdown.assemble.announced import announced
from setdown.assemble.candidates import CandidateSet
from setdown.assemble.context import ClassContext, Draft
from setdown.assemble.rep_values import make_reps, rep_key
from setdown.model.routine import Reps

MATES = 12  # sets back in which a round is looked for


def put_carried(context: ClassContext, at: int, found: CandidateSet) -> None:
    """Add what sets before had, what was declared, and what the scheme says for this round."""
    draft = context.drafts[at]
    own = context.find_earlier(at)
    if own is not None and own.value("reps") is not None:
        place = "in this group" if own.group == draft.group else "in another group"
        features = ["as last time", f"as last time {place}"]
        if own is context.drafts[at - 1] and own.value("side") != draft.value("side"):
            features.append("as on the other side")
        evidence = own.ranked["reps"].best.evidence[:1]
        found.put(own.value("reps"), rep_key(own.value("reps")), features, evidence[0] if evidence else None, "carried")
    if at and context.drafts[at - 1].value("reps") is not None:
        before = context.drafts[at - 1]
        place = "same section" if before.section == draft.section else "another section"
        features = ["as the set before", f"as the set before {place}", f"as the set before, {draft.arrangement}"]
        features.append(
            "as the set before, same round" if before.round == draft.round else "as the set before, other round"
        )
        evidence = before.ranked["reps"].best.evidence[:1]
        found.put(
            before.value("reps"), rep_key(before.value("reps")), features, evidence[0] if evidence else None, "carried"
        )
    for k in range(at - 1, max(-1, at - 12), -1):
        mate = context.drafts[k]
        if mate.group == draft.group and mate.round == draft.round and mate.value("reps") is not None:
            evidence = mate.ranked["reps"].best.evidence[:1]
            found.put(
                mate.value("reps"),
                rep_key(mate.value("reps")),
                ["as a mate of this round"],
                evidence[0] if evidence else None,
                "carried",
            )
            break
    told = announced(context, "reps", draft.span.start, 3)
    for back, m in enumerate(reversed(told), 1):
        reps = make_reps(m.value.lo, m.value.hi, m.value.to_failure)
        if reps is not None:
            features = ["declared", f"declared, section {draft.section}", f"declared, {back} back"]
            features.append(
                "declared before the first set" if m.start < context.drafts[0].span.start else "declared later"
            )
            found.put(reps, rep_key(reps), features, m, "declared")
    for m in context.index.latest("scheme", draft.span.start, 2):
        scheme = m.value.reps
        if 1 <= draft.round <= len(scheme):
            value = scheme[draft.round - 1]
            reps = make_reps(value, value)
            if reps is not None:
                found.put(
                    reps, rep_key(reps), ["by the scheme", f"by the scheme, section {draft.section}"], m, "declared"
                )


def put_continued(context: ClassContext, at: int, found: CandidateSet) -> None:
    """Add where the row of this movement's targets leads, by its own steps and by those of the moves done with it.

    5, 4 leads to 3; when the mate went from 10 to 8 this round, so may this one; when last round the mate had 10 to
    this one's 5, it has now half of the mate's.
    """
    draft = context.drafts[at]
    own = _list_own(context, at, 3)
    counts = [_single(d.value("reps")) for d in own]
    if len(counts) >= 2 and counts[0] and counts[1] and counts[0] != counts[1]:
        step = counts[0] - counts[1]
        regular = len(counts) > 2 and counts[2] is not None and counts[1] - counts[2] == step
        _put_number(found, counts[0] + step, ["on by its step", *(["on by its regular step"] if regular else [])])
        if regular:
            _put_number(found, counts[0] - step, ["back by its regular step"])
    mate = _find_mate(context, at)
    if not own or mate is None:
        return
    mates_own = _list_own(context, mate, 1)
    now, last, ours = _single(context.drafts[mate].value("reps")), None, counts[0]
    if mates_own:
        last = _single(mates_own[0].value("reps"))
    if not now or not last or not ours:
        return
    moved = "its mate moved" if now != last else "its mate stayed"
    candidate = found.put(
        own[0].value("reps"), rep_key(own[0].value("reps")), [f"as last time, {moved}"], None, "carried"
    )
    if draft.round != own[0].round:
        candidate.add(f"as last time, {moved}, other round")
    if now != last:
        _put_number(found, ours + now - last, ["moves as its mate"])
        if ours * now % last == 0:
            _put_number(found, ours * now // last, ["in proportion to its mate"])


def _put_number(found: CandidateSet, value: int, features: list[str]) -> None:
    reps = make_reps(value, value)
    if reps is not None:
        found.put(reps, rep_key(reps), features, None, "carried")


def _single(reps: Reps | None) -> int | None:
    return reps.lo if reps is not None and reps.lo == reps.hi else None


def _list_own(context: ClassContext, at: int, most: int) -> list[Draft]:
    """The last sets before ``at`` of the same movement in its section, the latest first; one side stands for both."""
    draft = context.drafts[at]
    movement = draft.value("exercise") or ""
    found: list[Draft] = []
    for k in range(at - 1, max(-1, at - 3 * MATES), -1):
        other = context.drafts[k]
        if other.section != draft.section:
            break
        if (other.value("exercise") or "") != movement or (other.round == draft.round and other.group == draft.group):
            continue
        if found and other.round == found[-1].round and other.group == found[-1].group:
            continue
        found.append(other)
        if len(found) == most:
            break
    return found


def _find_mate(context: ClassContext, at: int) -> int | None:
    """The last set before ``at`` of another movement in the same round of the same group, with a target."""
    draft = context.drafts[at]
    for k in range(at - 1, max(-1, at - MATES), -1):
        other = context.drafts[k]
        if other.group != draft.group or other.round != draft.round:
            return None
        if (other.value("exercise") or "") != (draft.value("exercise") or "") and other.value("reps") is not None:
            return k
    return None
