"""Rep targets that may have been heard: numbers whose likeliest role is another, and repetitions counted aloud."""

from __future__ import annotations

from setdown.assemble.candidates import CandidateSet
from setdown.assemble.context import ClassContext, Draft
from setdown.assemble.rep_values import make_reps, rep_key
from setdown.assemble.spoken import read_bare_number, tell_spoken
from setdown.model.mention import Mention

OTHER_ROLES = ("load", "count", "work_s", "other", "ordinal", "scheme", "sets", "time_left")
EARLY = 6  # words into the work in which a bare number may still announce it
MOST = 100  # what may be a count; common practice, no source
PHRASES = (4, 8)  # beats in a phrase of music; common practice, no source


def put_alternatives(context: ClassContext, draft: Draft, found: CandidateSet, low: int, high: int) -> None:
    """Add numbers whose likeliest role is another, but which may be a target."""
    for kind in OTHER_ROLES:
        mentions = context.index.within(kind, low, high)
        for m in mentions:
            for alternative in getattr(m.value, "alternatives", ()):
                if alternative.kind != "reps":
                    continue
                reps = make_reps(alternative.value.lo, alternative.value.hi, alternative.value.to_failure)
                if reps is not None:
                    features = tell_spoken(context, draft, m, mentions)
                    found.put(reps, rep_key(reps), [f"may be said as {kind}", *features], m)
    _put_bare(context, draft, found)


def _put_bare(context: ClassContext, draft: Draft, found: CandidateSet) -> None:
    """Add what stands as a number between the sets, whatever it was taken for: 'three big breaths', 'flat, eight'."""
    end = min(draft.span.start + EARLY, max(draft.span.end, draft.span.start + 1))
    entry = context.lexicon.movements.get(draft.value("exercise") or "")
    breathing = entry is not None and entry.pattern == "breathing"
    for kind in ("count", "breaths", "sets", "other", "ordinal", "load", "work_s"):
        mentions = context.index.within(kind, draft.setup_start, draft.span.start if kind == "count" else end)
        for m in mentions:
            bounds = read_bare_number(m)
            if bounds is not None and (reps := make_reps(*bounds)) is not None:
                features = tell_spoken(context, draft, m, mentions)
                c = found.put(reps, rep_key(reps), [f"stands as {kind}", *(f"{kind} {f}" for f in features)], m)
                if kind == "breaths":
                    c.add("breaths to breathe" if breathing else "breaths in a move")
    for m in context.index.within("load", draft.setup_start, end):
        if m.value.value in PHRASES and m.value.implements and m.value.unit is None:
            total = int(m.value.value) * m.value.implements
            found.put(make_reps(total, total), str(total), ["may be counts of music"], m)


def put_counts(context: ClassContext, draft: Draft, found: CandidateSet) -> None:
    """Add the highest number counted aloud, what 'two more' after it comes to, and the sum when it starts anew."""
    span = draft.span
    counts = _list_counts(context, draft)
    if not counts:
        return
    top = max(counts, key=lambda m: (m.value.n, m.start))
    reps = make_reps(top.value.n, top.value.n)
    if reps is not None:
        near_end = span.end - top.end <= 8
        found.put(
            reps,
            rep_key(reps),
            ["counted to", "counted to at end" if near_end else "counted to midway"],
            top,
            "inferred",
        )
    for m in context.index.within("remaining", top.end, span.end):
        total = top.value.n + m.value.n
        reps = make_reps(total, total)
        if reps is not None:
            found.put(reps, rep_key(reps), ["counted and left"], m, "inferred")
    peaks = _list_peaks(counts)
    if len(peaks) > 1:
        total = sum(peaks)
        reps = make_reps(total, total)
        if reps is not None:
            same = "alike" if len(set(peaks)) == 1 else "unlike"
            found.put(reps, rep_key(reps), ["counted anew", f"counted anew, {same}"], counts[-1], "inferred")


def tell_counting(context: ClassContext, draft: Draft) -> list[str]:
    """How the work is counted: how many counts, and whether the last stands at its end."""
    counts = _list_counts(context, draft)
    if not counts:
        return ["nobody counts"]
    some = "one count" if len(counts) == 1 else "counts"
    end = "at the end" if draft.span.end - counts[-1].end <= 3 else "before the end"
    return [some, f"{some} {end}"]


def _list_counts(context: ClassContext, draft: Draft) -> list[Mention]:
    span = draft.span
    counts = context.index.within("count", span.start, max(span.end, span.start + 1))
    return [m for m in counts if m.value.n <= MOST]


def _list_peaks(counts: list[Mention]) -> list[int]:
    """The last number of each run that counts upwards."""
    peaks: list[int] = []
    last = 0
    for m in counts:
        if m.value.first <= last and peaks:
            peaks.append(m.value.n)
        elif peaks:
            peaks[-1] = m.value.n
        else:
            peaks.append(m.value.n)
        last = m.value.n
    return peaks


def put_next(context: ClassContext, at: int, found: CandidateSet) -> None:
    """Add what the next set says or counts when it is of the same move: often only the second side is counted."""
    if at + 1 >= len(context.drafts):
        return
    draft, after = context.drafts[at], context.drafts[at + 1]
    if (draft.value("exercise") or "") != (after.value("exercise") or ""):
        return
    for m in context.index.within("reps", draft.span.end, min(after.span.start + EARLY, after.span.end)):
        reps = make_reps(m.value.lo, m.value.hi, m.value.to_failure)
        if reps is not None:
            found.put(reps, rep_key(reps), ["the next set of this move says it"], m, "inferred")
    counts = _list_counts(context, after)
    if counts:
        top = max(counts, key=lambda m: m.value.n)
        reps = make_reps(top.value.n, top.value.n)
        if reps is not None:
            found.put(reps, rep_key(reps), ["the next set of this move counts to it"], top, "inferred")
