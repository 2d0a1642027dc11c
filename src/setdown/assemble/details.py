"""What a set carries beyond the sheet: reps counted aloud, tempo, effort."""

from __future__ import annotations

from setdown.assemble.candidates import window_of
from setdown.assemble.context import ClassContext, Draft
from setdown.assemble.evidence import quote_mentions
from setdown.model.routine import Set


def add_details(context: ClassContext, draft: Draft, result: Set) -> None:
    """Fill ``counted``, ``tempo`` and ``effort`` of ``result`` with evidence, where they were said."""
    transcript = context.tagged.transcript
    low, high = window_of(draft)
    counts = [m for m in context.index.within("count", draft.span.start, draft.span.end) if m.value.n <= 200]
    if counts:
        top = max(counts, key=lambda m: (m.value.n, -m.start))
        result.counted = top.value.n
        result.evidence["counted"] = quote_mentions(transcript, [top])
        result.origin["counted"] = "said"
        result.confidence["counted"] = round(top.score, 2)
    tempo = context.index.last("tempo", low, high)
    if tempo is not None:
        value = tempo.value
        digits = "-".join(str(s) for s in value.seconds)
        result.tempo = digits if value.phase == "all" else f"{digits} s {value.phase}"
        result.evidence["tempo"] = quote_mentions(transcript, [tempo])
        result.origin["tempo"] = "said"
        result.confidence["tempo"] = round(tempo.score, 2)
    effort = context.index.last("effort", low, high)
    if effort is not None:
        value = effort.value
        number = str(value.lo) if value.lo == value.hi else f"{value.lo}-{value.hi}"
        result.effort = f"{value.scale.upper()} {number}"
        result.evidence["effort"] = quote_mentions(transcript, [effort])
        result.origin["effort"] = "said"
        result.confidence["effort"] = round(effort.score, 2)
