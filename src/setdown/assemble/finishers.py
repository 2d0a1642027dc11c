"""What was added at the end of a set: pulses, a hold, a drop in load, partial reps."""

from __future__ import annotations

from setdown.assemble.candidates import CandidateSet, describe_set
from setdown.assemble.context import ClassContext
from setdown.assemble.ranker import Candidate

PHRASES = {"pulses": "pulses", "hold": "hold", "drop": "drop_set", "partials": "partials"}


def finisher_candidates(context: ClassContext, at: int) -> list[Candidate]:
    """Candidates pulses, hold, drop, partials and none for set ``at``."""
    draft = context.drafts[at]
    span, index = draft.span, context.index
    about = describe_set(context, draft)
    length = max(span.end - span.start, 1)
    middle = span.start + length // 2
    late = max(span.end - 25, span.start)
    found = CandidateSet()
    heard = False
    own = context.find_earlier(at)
    last_time = own.value("finisher") if own is not None else None
    for kind, phrase in PHRASES.items():
        in_work = index.within(phrase, span.start, span.end)
        in_late = [m for m in in_work if m.start >= late]
        features = [kind, *(f"{kind}, {a}" for a in about if a.startswith(("pattern", "counted", "section")))]
        if in_work:
            features.append(f"{kind} in work")
        if in_late:
            heard = True
            features += [f"{kind} late", f"{kind} late x{min(len(in_late), 4)}"]
            first = in_late[0]
            for cue in ("last", "count", "remaining", "countdown", "stop", "time_left"):
                if index.has(cue, max(first.start - 8, span.start), first.start + 1):
                    features.append(f"{kind} late after {cue}")
            if index.has("countdown", first.end, span.end + 6):
                features.append(f"{kind} late, then a countdown")
            text = " ".join(context.tagged.words[first.start : first.end])
            features.append(f"{kind} late: {text}")
        if [m for m in in_work if m.start >= middle]:
            features.append(f"{kind} in second half")
        if [m for m in in_work if m.start < middle]:
            features.append(f"{kind} in first half")
        setup = index.within(phrase, draft.setup_start, span.start)
        if setup:
            heard = True
            features.append(f"{kind} in setup")
            if index.has("last", setup[-1].start - 8, setup[-1].end + 10) or index.has(
                "negated", setup[-1].start - 6, setup[-1].start
            ):
                features.append(f"{kind} in setup near last or not")
        if index.has(phrase, 0, draft.setup_start):
            features.append(f"{kind} spoken of before")
        if last_time == kind:
            features.append(f"{kind} last time")
        if at and context.drafts[at - 1].value("finisher") == kind:
            features.append(f"{kind} in the set before")
        evidence = next(iter(in_late or setup), None)
        found.put(kind, kind, features, evidence, "said" if in_late else "declared")
    features = ["none", *(f"none, {a}" for a in about if a.startswith(("pattern", "counted", "section")))]
    if not heard:
        features.append("none, nothing heard")
    found.put(None, "", features, None, "inferred")
    return found.all()
