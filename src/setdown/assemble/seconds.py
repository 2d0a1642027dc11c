"""How long a timed set or hold is meant to last, in seconds."""

from __future__ import annotations

from setdown.assemble.announced import announced
from setdown.assemble.candidates import CandidateSet, describe_set, place_of, span_seconds, window_of
from setdown.assemble.context import ClassContext, Draft
from setdown.assemble.ranker import Candidate
from setdown.assemble.spoken import read_bare_number, tell_spoken

EARLY = 6  # words into the work in which a bare number may still announce it
SHORTEST = 3  # seconds; less is no length of a set; common practice, no source


def second_candidates(context: ClassContext, at: int) -> list[Candidate]:
    """Candidates for the seconds of work of set ``at`` (integers), 'none' among them."""
    draft = context.drafts[at]
    found = CandidateSet()
    about = describe_set(context, draft)
    low, high = window_of(draft)
    said = context.index.within("work_s", low, high)
    for m in said:
        c = found.put(m.value.work, str(m.value.work), ["said here", *tell_spoken(context, draft, m, said)], m)
        c.features["rule score"] = max(c.features.get("rule score", 0.0), m.score)
    for kind in ("rest_s", "time_left", "reps", "load", "count", "other", "interval"):
        for m in context.index.within(kind, low, high):
            for alternative in getattr(m.value, "alternatives", ()):
                if alternative.kind == "work_s":
                    seconds = alternative.value.work
                    found.put(seconds, str(seconds), [f"may be said as {kind}", *place_of(context, draft, m)], m)
    _put_bare(context, draft, found)
    for m in context.index.latest("interval", draft.span.start, 2):
        features = ["by the interval plan", f"by the interval plan, section {draft.section}"]
        found.put(m.value.work, str(m.value.work), features, m, "declared")
    for m in announced(context, "work_s", draft.span.start, 3):
        found.put(m.value.work, str(m.value.work), ["declared", f"declared, section {draft.section}"], m, "declared")
    _put_carried(context, at, found)
    lasts = span_seconds(context, draft)
    for candidate in found.all():
        candidate.add("seconds", *(f"seconds, {a}" for a in about))
        ratio = lasts / candidate.value if candidate.value else 0.0
        well, roughly = 0.8 <= ratio <= 1.2, 0.6 <= ratio <= 1.5
        candidate.add("fits the span well" if well else "fits the span" if roughly else "does not fit the span")
        if context.index.has("time_left", low, high):
            candidate.add("time left is told")
        if context.index.has("countdown", draft.span.start, high):
            candidate.add("counted down")
    none = found.put(None, "", ["none", *(f"none, {a}" for a in about)], None, "inferred")
    if not said:
        none.add("none, none said here")
    for kind in ("reps", "count", "remaining", "countdown", "breaths", "time_left"):
        if context.index.has(kind, low, high):
            none.add(f"none, {kind} said here")
    if draft.value("reps") is not None:
        none.add("none, has reps")
    if announced(context, "interval", draft.span.start, 1):
        none.add("none, interval class")
    if at and context.drafts[at - 1].value("work_s") is None:
        none.add("none, none before")
    own = context.find_earlier(at)
    if own is not None and own.value("work_s") is None:
        none.add("none, none last time")
    return found.all()


def _put_bare(context: ClassContext, draft: Draft, found: CandidateSet) -> None:
    """Add what stands as a number between the sets, whatever it was taken for: 'calf, twenty'."""
    end = min(draft.span.start + EARLY, max(draft.span.end, draft.span.start + 1))
    for kind in ("reps", "count", "other", "load"):
        mentions = context.index.within(kind, draft.setup_start, end)
        for m in mentions:
            bounds = read_bare_number(m)
            if bounds is not None and bounds[0] == bounds[1] >= SHORTEST:
                features = tell_spoken(context, draft, m, mentions)
                found.put(bounds[0], str(bounds[0]), [f"stands as {kind}", *(f"{kind} {f}" for f in features)], m)


def _put_carried(context: ClassContext, at: int, found: CandidateSet) -> None:
    draft = context.drafts[at]
    own = context.find_earlier(at)
    before = context.drafts[at - 1] if at else None
    for mate, label in ((own, "as last time"), (before, "as the set before")):
        if mate is None or mate.value("work_s") is None:
            continue
        features = [label, f"{label}, {'same' if mate.section == draft.section else 'another'} section"]
        if mate is own and own is before and own.value("side") != draft.value("side"):
            features.append("as on the other side")
        evidence = mate.ranked["work_s"].best.evidence[:1]
        found.put(
            mate.value("work_s"), str(mate.value("work_s")), features, evidence[0] if evidence else None, "carried"
        )
