"""What the class as a whole needs and announces: kit with the loads used, and declarations with their scope."""

from __future__ import annotations

from typing import Any

from setdown.assemble.announced import announced
from setdown.assemble.context import ClassContext
from setdown.assemble.evidence import quote_mentions, to_seconds
from setdown.assemble.loads import load_key
from setdown.model.mention import Mention
from setdown.model.routine import Declared, Equipment, Load

DECLARED_KINDS = ("reps", "scheme", "sets", "interval", "emom", "work_s", "rest_s", "unit", "moves")


def gather_declared(context: ClassContext) -> list[Declared]:
    """Announcements in order of time: reps, sets, intervals, rests, units said for more than one set."""
    transcript = context.tagged.transcript
    end = len(context.tagged.words)
    first = context.drafts[0].span.start if context.drafts else end
    found: list[tuple[int, Declared]] = []
    for kind in DECLARED_KINDS:
        for m in announced(context, kind, end):
            found.append(
                (
                    m.start,
                    Declared(
                        scope="class" if m.start < first else "group",
                        field=kind,
                        value=_describe(m.value),
                        start=to_seconds(transcript.words[m.start].start),
                        evidence=quote_mentions(transcript, [m]),
                    ),
                )
            )
    return [d for _, d in sorted(found, key=lambda x: (x[0], x[1].field))]


def _describe(value: Any) -> str:
    """A quantity as one word a reader and a program can use."""
    kind = type(value).__name__
    if kind == "RepTarget":
        return "max" if value.to_failure else str(value.lo) if value.lo == value.hi else f"{value.lo}-{value.hi}"
    if kind == "RepScheme":
        return "-".join(str(r) for r in value.reps)
    if kind == "SetCount":
        return f"{value.lo}" if value.lo == value.hi else f"{value.lo}-{value.hi}"
    if kind == "IntervalPlan":
        return f"{value.work}/{value.rest}"
    if kind == "EmomPlan":
        return f"every {value.every_s} s" + (f" for {value.minutes} min" if value.minutes else "")
    if kind == "Seconds":
        return f"{value.work} s"
    if kind == "UnitSaid":
        return str(value.unit)
    if kind == "Moves":
        return str(value.n)
    return str(value)


def gather_equipment(context: ClassContext) -> list[Equipment]:
    """The kit that performed sets use or the talk names as needed, with the loads that were used with it."""
    transcript = context.tagged.transcript
    used: dict[str, list[Load]] = {}
    first_named: dict[str, Mention] = {}
    for m in context.index.within("kit", 0, len(context.tagged.words)):
        first_named.setdefault(m.value, m)
    for draft in context.drafts:
        entry = context.lexicon.movements.get(draft.value("exercise") or "")
        load = draft.value("load")
        kit = list(entry.kit) if entry else []
        loaded = [k for k in kit if k in context.lexicon.kit and context.lexicon.kit[k].loaded]
        if load is not None and load.value is not None and loaded:
            target = next((k for k in loaded if k in first_named), loaded[0])
            loads = used.setdefault(target, [])
            own = Load(value=load.value, unit=load.unit, basis=draft.value("basis"))
            if own not in loads:
                loads.append(own)
        for k in kit:
            if (k not in loaded and k in first_named) or (k in loaded and len(loaded) == 1 and k == "band"):
                used.setdefault(k, [])
    found = []
    for k in sorted(used):
        mention = first_named.get(k)
        found.append(
            Equipment(
                id=k,
                name=context.lexicon.kit[k].name if k in context.lexicon.kit else k,
                loads=sorted(used[k], key=load_key),
                evidence=quote_mentions(transcript, [mention]) if mention else [],
            )
        )
    return found
