"""What was added at the end of a set: pulses, a hold, a drop in load, partial reps."""

from __future__ import annotations

from setdown.assemble.candidates import CandidateSet, describe_set
from setdown.assemble.context import ClassContext, Draft
from setdown.assemble.ranker import Candidate

PHRASES = {"pulses": "pulses", "hold": "hold", "drop": "drop_set", "partials": "partials"}

AFTER = ("countdown", "load", "work_s", "time_left", "remaining", "side_other", "until_failure")
NEAR = 3  # words before the number that ends the set, in which what follows is already announced


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
    turn, after = _tell_after(context, draft)
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
        features += [f"{kind}, {a}" for a in after]
        if turn is not None and [m for m in in_work if m.start >= turn - NEAR]:
            features.append(f"{kind} heard as the target is reached")
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
    features += [f"none, {a}" for a in after]
    if not heard:
        features.append("none, nothing heard")
    found.put(None, "", features, None, "inferred")
    return found.all()


def _tell_after(context: ClassContext, draft: Draft) -> tuple[int | None, list[str]]:
    """The word at which counting reaches the target, and how the work goes on after it.

    Counting anew, counting down, a load or a change of hands after the last repetition are more than the set itself.
    """
    span, index, reps = draft.span, context.index, draft.value("reps")
    if reps is None or reps.lo is None:
        return None, ["no target"]
    counts = index.within("count", span.start, span.end)
    reached = next((m for m in counts if m.value.n >= reps.lo), None)
    last = index.last("remaining", span.start, span.end) if reached is None else None
    if reached is None and (last is None or last.value.n != 1):
        return None, ["target not counted to"]
    turn = reached.end if reached is not None else last.end if last is not None else span.end
    rest = span.end - turn
    features = [
        "words after the target " + ("<=2" if rest <= 2 else "<=6" if rest <= 6 else "<=12" if rest <= 12 else ">12")
    ]
    anew = [m for m in counts if m.start >= turn and m.value.first < reps.lo]
    if anew:
        top = max(m.value.n for m in anew)
        features += ["counts anew", "counts anew " + ("<=3" if top <= 3 else "<=6" if top <= 6 else ">6")]
    features += [f"then {kind}" for kind in AFTER if index.has(kind, turn, span.end)]
    return turn, features
