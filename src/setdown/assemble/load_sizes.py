"""Loads beside one another: heavier or lighter than what was used before, the biggest or smallest of those known."""

from __future__ import annotations

from setdown.assemble.context import HEAD_WORDS, ClassContext, Draft
from setdown.assemble.ranker import Candidate
from setdown.model.mention import Mention
from setdown.model.routine import Load


def compare_sizes(context: ClassContext, at: int, candidates: list[Candidate], said: list[Mention]) -> None:
    """Adds to each load how it compares with the one before, and with all others where one is called by its size.

    ``said`` are the loads spoken of in the talk of set ``at``; among them 'a bit lighter'.
    """
    draft = context.drafts[at]
    loads = [c for c in candidates if c.value is not None and c.value.value is not None]
    before = _find_before(context, at)
    if before is not None:
        rels = {m.value.rel for m in said if m.value.rel}
        superseded = any("last in the set-up" in c.features for c in loads if c.value.value != before.value)
        for c in loads:
            if c.value.unit != before.unit:
                continue
            if c.value.value == before.value:
                step = "as heavy as"
            else:
                step = "heavier than" if c.value.value > before.value else "lighter than"
            if superseded and "not last in the set-up" in c.features:
                c.add(f"{step} before, another is said last")
            c.add(f"{step} before", *(f"{step} before, {rel} said" for rel in rels))
    high = min(draft.span.start + HEAD_WORDS, max(draft.span.end, draft.span.start + 4))
    for kind, pick in (("weight_big", max), ("weight_small", min)):
        if len(loads) < 2 or not context.index.has(kind, draft.setup_start, high):
            continue
        most = pick(c.value.value for c in loads)
        for c in loads:
            c.add(f"{kind} said, {'it is' if c.value.value == most else 'it is not'}")


def _find_before(context: ClassContext, at: int) -> Load | None:
    """The load of this move last time, else of the set before."""
    drafts: tuple[Draft | None, ...] = (context.find_earlier(at), context.drafts[at - 1] if at else None)
    for draft in drafts:
        load: Load | None = draft.value("load") if draft is not None else None
        if load is not None and load.value is not None:
            return load
    return None
