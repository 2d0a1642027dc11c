"""How many: the target of a set, from what was said for it, declared for all, done before, and counted aloud."""

from __future__ import annotations

from setdown.assemble.announced import announced
from setdown.assemble.candidates import CandidateSet, describe_set, span_seconds, window_of
from setdown.assemble.context import ClassContext, Draft
from setdown.assemble.ranker import Candidate
from setdown.assemble.rep_carried import put_carried, put_continued
from setdown.assemble.rep_heard import put_alternatives, put_counts, put_next, tell_counting
from setdown.assemble.rep_values import make_reps, rep_key
from setdown.assemble.spoken import tell_spoken
from setdown.model.mention import Mention
from setdown.model.routine import Reps


def rep_candidates(context: ClassContext, at: int) -> list[Candidate]:
    """Candidates for the rep target of set ``at``, 'none' among them."""
    draft = context.drafts[at]
    found = CandidateSet()
    about = describe_set(context, draft)
    low, high = window_of(draft)
    said = context.index.within("reps", low, high)
    for m in said:
        reps = make_reps(m.value.lo, m.value.hi, m.value.to_failure)
        if reps is not None:
            c = found.put(reps, rep_key(reps), ["said here", *tell_spoken(context, draft, m, said)], m)
            c.features["rule score"] = max(c.features.get("rule score", 0.0), m.score)
            if m is _last_before(said, draft):
                c.add("last said before work")
            if m.value.each_side:
                side = draft.value("side") or "none"
                c.add(f"said each side, side {side}")
                both = make_reps(2 * m.value.lo, 2 * m.value.hi) if m.value.lo is not None else None
                if both is not None:
                    found.put(both, rep_key(both), [f"twice what is said each side, side {side}"], m, "inferred")
    put_alternatives(context, draft, found, low, high)
    put_counts(context, draft, found)
    put_next(context, at, found)
    put_carried(context, at, found)
    put_continued(context, at, found)
    top = _highest_count(context, draft)
    lasts = span_seconds(context, draft)
    for candidate in found.all():
        fits = _compare_with_work(candidate.value, top, lasts, draft.value("side"))
        candidate.add("a number", *fits)
        candidate.add(*(f"number, {a}" for a in about))
        if candidate.value.to_failure:
            candidate.add("to failure")
    none = found.put(None, "", ["none", *(f"none, {a}" for a in about)], None, "inferred")
    if not said:
        none.add("none, none said here")
    for kind in ("work_s", "interval", "emom", "count", "remaining", "countdown", "breaths", "time_left"):
        if context.index.has(kind, low, high):
            none.add(f"none, {kind} said here")
    if announced(context, "interval", draft.span.start, 1):
        none.add("none, interval class")
    none.add(*(f"none, {how}" for how in tell_counting(context, draft)))
    before = context.find_earlier(at)
    if before is not None and before.value("reps") is None:
        none.add("none, none last time")
    if at and context.drafts[at - 1].value("reps") is None:
        none.add("none, none before")
    return found.all()


def _highest_count(context: ClassContext, draft: Draft) -> int | None:
    """The highest number counted aloud in the work; ``None`` when nobody counts."""
    span = draft.span
    counts = [m.value.n for m in context.index.within("count", span.start, max(span.end, span.start + 1))]
    return max((n for n in counts if n <= 100), default=None)


def _compare_with_work(reps: Reps, top: int | None, lasts: float, side: str | None) -> list[str]:
    """How a target fits the counting and the length of the work."""
    if reps.hi is None or reps.lo is None:
        return []
    found: list[str] = []
    if top is not None:
        over = reps.hi - top
        found.append(
            "below the count"
            if over < 0
            else "equals the count"
            if over == 0
            else "just above the count"
            if over <= 3
            else "above the count"
            if over <= 8
            else "far above the count"
        )
    pace = lasts / (reps.lo * (2 if side == "each" else 1))
    limit = next((x for x in (0.8, 1.5, 3.0, 5.0, 8.0) if pace <= x), None)
    found.append(f"seconds a rep <={limit}" if limit else "seconds a rep >8")
    return found


def _last_before(said: list[Mention], draft: Draft) -> Mention | None:
    return next((m for m in reversed(said) if m.start < draft.span.start), None)
