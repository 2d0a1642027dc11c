"""Questions for the reviewer: what does not fit, what was repaired, what is unsure. The rest should need no reading."""

from __future__ import annotations

from collections.abc import Iterator

from setdown.assemble.announced import announced
from setdown.assemble.context import ClassContext, Draft
from setdown.assemble.evidence import quote_mentions
from setdown.assemble.loads import load_key
from setdown.assemble.namings import gather_namings
from setdown.assemble.ranker import Ranked
from setdown.assemble.rep_values import rep_key
from setdown.model.mention import Mention
from setdown.model.routine import Query, Set, Severity

UNSURE = 0.6
VERY_UNSURE = 0.4
FASTEST_REP_S, SLOWEST_REP_S = 0.7, 12.0
SUBJECTS = {
    "exercise": "movement is",
    "side": "side is",
    "reps": "reps are",
    "work_s": "seconds of work are",
    "load": "load is",
    "finisher": "finisher is",
}


def raise_queries(context: ClassContext, sets: list[Set]) -> list[Query]:
    """All queries of a routine in order of time; ids are made of the code, the set and the field."""
    found: list[Query] = []
    for draft, s in zip(context.drafts, sets, strict=True):
        found += _ask_about_name(context, draft, s)
        found += _ask_about_numbers(draft, s)
        found += _ask_about_unsure(context, draft, s)
    found += _ask_about_rounds(context, sets)
    return found


def _query(
    code: str,
    severity: Severity,
    s: Set | None,
    field: str,
    message: str,
    suggestions: list[str] | None = None,
) -> Query:
    where = s.id if s else "class"
    return Query(
        id=f"{code}:{where}" + (f":{field}" if field else ""),
        code=code,
        severity=severity,
        set=s.id if s else "",
        field=field,
        message=message,
        suggestions=suggestions or [],
    )


def _ask_about_name(context: ClassContext, draft: Draft, s: Set) -> Iterator[Query]:
    transcript = context.tagged.transcript
    ranked = draft.ranked["exercise"]
    others = _other_names(context, ranked)
    if not s.exercise.id:
        said = f"“{s.exercise.said}”" if s.exercise.said else "what is done here"
        yield _query("movement-unknown", "must", s, "exercise", f"The lexicon has no movement for {said}.", others)
        return
    evidence = ranked.best.evidence
    if evidence and evidence[0].kind == "movement_guess":
        hit = evidence[0].value
        query = _query(
            "name-repaired",
            "note",
            s,
            "exercise",
            f"The caption has “{s.exercise.said}”; it was read as {hit.name}.",
            [hit.name],
        )
        query.evidence = quote_mentions(transcript, evidence[:1])
        yield query
    announced_as = _announced_otherwise(context, draft)
    if announced_as is not None:
        name = context.lexicon.movements[announced_as.value.movement].name
        query = _query(
            "names-differ",
            "should",
            s,
            "exercise",
            f"Announced as {name}, but what is coached is {s.exercise.name}.",
            [s.exercise.name, name],
        )
        query.evidence = quote_mentions(transcript, [announced_as, *evidence[:1]])
        yield query


def _announced_otherwise(context: ClassContext, draft: Draft) -> Mention | None:
    """A firm name of another, unrelated movement before a set whose own name was only described or said later."""
    chosen = draft.value("exercise")
    movements = context.lexicon.movements
    own = draft.ranked["exercise"].best.evidence
    if not own or not (own[0].kind == "described" or own[0].start >= draft.span.start):
        return None
    family = movements[chosen].family if chosen in movements else ""
    for naming in reversed(gather_namings(context, draft)):
        if naming.zone != "setup" or naming.doubts or naming.mention.kind != "movement" or naming.in_list:
            continue
        other = naming.movement
        if other != chosen and movements[other].family not in (family, chosen) and other != family:
            return naming.mention
    return None


def _ask_about_numbers(draft: Draft, s: Set) -> Iterator[Query]:
    seconds = s.end - s.start
    short_for_reps = False
    if s.reps is not None and s.reps.lo and s.reps.hi and draft.span.end > draft.span.start:
        sides = 2 if s.side == "each" else 1
        slack = 2 * s.margin_s
        if seconds + slack < FASTEST_REP_S * s.reps.lo * sides:
            short_for_reps = True
            yield _query("span-short", "should", s, "end", f"{seconds:.0f} s is short for {s.reps} reps.")
        elif seconds - slack > SLOWEST_REP_S * s.reps.hi * sides and s.work_s is None:
            yield _query("span-long", "should", s, "end", f"{seconds:.0f} s is long for {s.reps} reps.")
    if s.reps is not None and s.reps.hi is not None and s.counted is not None and s.counted > s.reps.hi:
        message = f"The target is {s.reps}, but {s.counted} was counted."
        yield _query("reps-differ", "should", s, "reps", message, [str(s.reps), str(s.counted)])
    if s.work_s is not None and not short_for_reps:  # one question about a span is enough
        off = abs(seconds - s.work_s)
        if off > max(0.35 * s.work_s, 8.0) + 2 * s.margin_s:
            code = "span-short" if seconds < s.work_s else "span-long"
            yield _query(
                code, "should", s, "end", f"{s.work_s:.0f} s of work was said; the span lasts {seconds:.0f} s."
            )
    if s.load is not None and s.load.value is not None and s.load.unit is None:
        yield _query(
            "load-without-unit", "must", s, "load", f"No unit was said for the load {s.load.value}.", ["kg", "lb"]
        )


def _ask_about_unsure(context: ClassContext, draft: Draft, s: Set) -> Iterator[Query]:
    for field, word in SUBJECTS.items():
        ranked = draft.ranked[field]
        sure = s.confidence[field]
        if sure >= UNSURE or (field == "exercise" and not s.exercise.id):
            continue
        options = [_show(context, field, c.value) for c in ranked.candidates[:3]]
        severity: Severity = "must" if field == "exercise" and sure < VERY_UNSURE else "should"
        message = f"The {word} not certain: {options[0]} ({sure:.0%})"
        if len(options) > 1:
            message += f", or {' or '.join(options[1:])}"
        yield _query("unsure", severity, s, field, message + ".", options)


def _show(context: ClassContext, field: str, value: object) -> str:
    if value is None or value == "":
        return "none"
    if field == "exercise" and value in context.lexicon.movements:
        return context.lexicon.movements[str(value)].name
    if field == "reps":
        return rep_key(value)  # type: ignore[arg-type]
    if field == "load":
        return load_key(value)  # type: ignore[arg-type]
    return str(value)


def _other_names(context: ClassContext, ranked: Ranked) -> list[str]:
    return [context.lexicon.movements[c.key].name for c in ranked.candidates[:4] if c.key in context.lexicon.movements]


def _ask_about_rounds(context: ClassContext, sets: list[Set]) -> Iterator[Query]:
    """Rounds that were announced for a block and rounds that were seen in it."""
    blocks: dict[int, list[int]] = {}
    for i, draft in enumerate(context.drafts):
        if draft.section == "main":
            blocks.setdefault(draft.group, []).append(i)
    for members in blocks.values():
        first = context.drafts[members[0]]
        said = context.index.within("sets", first.setup_start, first.span.start)
        if not said:
            said = announced(context, "sets", first.span.start, 1)
        if not said:
            continue
        lo, hi = said[-1].value.lo, said[-1].value.hi
        seen = max(context.drafts[i].round for i in members)
        if not lo <= seen <= hi:
            told = str(lo) if lo == hi else f"{lo}-{hi}"
            query = _query(
                "rounds-differ",
                "note",
                sets[members[0]],
                "round",
                f"{told} rounds were announced; {seen} {'was' if seen == 1 else 'were'} seen.",
                [told, str(seen)],
            )
            query.evidence = quote_mentions(context.tagged.transcript, said[-1:])
            yield query
