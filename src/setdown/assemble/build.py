"""From decided drafts to the routine: sections, groups and sets with evidence, origins and confidences."""

from __future__ import annotations

import hashlib
from typing import Any

from setdown import __version__
from setdown.assemble.coaching import gather_coaching
from setdown.assemble.confidence import Calibration
from setdown.assemble.context import ClassContext, Draft
from setdown.assemble.details import add_details
from setdown.assemble.evidence import quote_mentions, quote_words, to_seconds
from setdown.assemble.inventory import gather_declared, gather_equipment
from setdown.assemble.timing import time_draft
from setdown.model.mention import Mention
from setdown.model.routine import (
    Evidence,
    Exercise,
    Finisher,
    Group,
    Load,
    MadeBy,
    Routine,
    Section,
    SectionKind,
    Set,
    Source,
)

SHEET_FIELDS = ("exercise", "side", "reps", "work_s", "load", "basis", "finisher")
CONFIDENCE_DIGITS = 2


def build_routine(context: ClassContext, calibration: Calibration | None = None) -> tuple[Routine, list[Set]]:
    """The routine without queries, and its sets in the order of the drafts.

    Confidences are the rankers' probabilities, corrected by the ``calibration`` where one is given.
    """
    calibration = calibration or Calibration()
    context.settle_names()
    transcript = context.tagged.transcript
    befores = [None, *context.drafts]
    times = [time_draft(context, d, before) for d, before in zip(context.drafts, befores, strict=False)]
    sets = [_build_set(context, at, times, calibration) for at in range(len(context.drafts))]
    _make_ids_unique(sets)
    routine = Routine(
        id=f"routine-{transcript.sha256[:12]}",
        title=transcript.info.title,
        language=transcript.language,
        source=Source(
            name=transcript.name,
            format=transcript.format,
            sha256=transcript.sha256,
            duration_s=to_seconds(transcript.duration),
            cue_count=len(transcript.cues),
            timing="word" if transcript.timing == "word" else "cue",
            resolution_s=to_seconds(transcript.resolution),
            instructor=transcript.info.instructor,
            date=transcript.info.date,
            media=transcript.info.media,
            tags=list(transcript.info.tags),
        ),
        made_by=MadeBy(version=__version__, lexicon=context.lexicon.fingerprint),
        notices=[n.message for n in transcript.notices],
        declared=gather_declared(context),
        equipment=gather_equipment(context),
        sections=_build_sections(context, sets),
    )
    return routine, sets


def _build_set(context: ClassContext, at: int, times: list[tuple[int, int, int]], calibration: Calibration) -> Set:
    draft = context.drafts[at]
    start, end, margin = times[at]
    if at + 1 < len(times):
        end = min(end, max(start, times[at + 1][0]))
    evidence: dict[str, list[Evidence]] = {}
    origin: dict[str, Any] = {}
    confidence: dict[str, float] = {}
    for name in SHEET_FIELDS:
        ranked = draft.ranked[name]
        target = "load" if name == "basis" else name
        sure = _round(calibration.calibrate(name, ranked.confidence, stated=ranked.best.value not in (None, "")))
        if name == "basis":
            if draft.value("load") is not None:
                confidence["basis"] = sure
                origin["basis"] = ranked.best.origin
            continue
        confidence[name] = sure
        if ranked.best.value is None and name != "exercise":
            continue
        quotes = quote_mentions(context.tagged.transcript, ranked.best.evidence or _look_back(context, at, name))
        evidence[target] = quotes
        origin[target] = ranked.best.origin if quotes else "inferred"
    evidence["span"] = quote_words(
        context.tagged.transcript, draft.span.start, min(draft.span.start + 6, draft.span.end)
    )
    origin["span"] = "inferred"
    confidence["span"] = _round(calibration.calibrate("span", draft.span.probability, stated=True))
    load = draft.value("load")
    finisher = draft.value("finisher")
    result = Set(
        id=_make_id(context, draft),
        exercise=_name_exercise(context, draft),
        round=draft.round,
        side=draft.value("side"),
        reps=draft.value("reps"),
        work_s=draft.value("work_s"),
        load=Load(value=load.value, unit=load.unit, basis=draft.value("basis"), rel=load.rel) if load else None,
        finisher=_time_finisher(context, draft, finisher, end) if finisher else None,
        rest_after_s=to_seconds(max(0, times[at + 1][0] - end)) if at + 1 < len(times) else None,
        start=to_seconds(start),
        end=to_seconds(end),
        margin_s=to_seconds(margin),
        coaching=gather_coaching(context, draft),
        evidence=evidence,
        origin=origin,
        confidence=confidence,
    )
    add_details(context, draft, result)
    return result


def _look_back(context: ClassContext, at: int, name: str) -> list[Mention]:
    """The words that an unnamed move rests on: those of the last set of the same move, else its last mention."""
    movement = context.drafts[at].value("exercise")
    if name != "exercise" or not movement:
        return []
    quoted = context.earlier_quoted[at]
    if quoted is not None:
        return quoted.ranked["exercise"].best.evidence[:1]
    named = context.names_of(movement)
    before = context.drafts[at].span.start
    for kind in ("movement", "movement_guess", "movement_weak"):
        last = named.latest(kind, before, 1)
        if last:
            return last
    return []


def _round(value: float) -> float:
    return round(value, CONFIDENCE_DIGITS)


def _name_exercise(context: ClassContext, draft: Draft) -> Exercise:
    chosen = draft.ranked["exercise"].best
    words = context.tagged.words
    said = ""
    if chosen.evidence:
        mention = chosen.evidence[0]
        said = " ".join(words[mention.start : mention.end])[:200]
    entry = context.lexicon.movements.get(chosen.value or "")
    if entry is not None:
        return Exercise(id=entry.id, name=entry.name, said=said)
    return Exercise(id="", name=said or "unnamed movement", said=said)


def _time_finisher(context: ClassContext, draft: Draft, kind: str, end: int) -> Finisher:
    evidence = draft.ranked["finisher"].best.evidence
    inside = [m for m in evidence if draft.span.start <= m.start < draft.span.end]
    words = context.tagged.transcript.words
    start = to_seconds(min(words[inside[0].start].start, end)) if inside else None
    return Finisher(kind=kind, start=start, end=to_seconds(end) if inside else None)


def _make_id(context: ClassContext, draft: Draft) -> str:
    """Stable under changes elsewhere: made of the movement, the side and the words around the start."""
    words = context.tagged.words
    low = max(draft.span.start - 4, 0)
    around = " ".join(words[low : draft.span.start + 8])
    digest = hashlib.sha256(f"{draft.value('side')}|{around}".encode()).hexdigest()[:8]
    return f"{draft.value('exercise') or 'unknown'}-{digest}"


def _make_ids_unique(sets: list[Set]) -> None:
    seen: dict[str, int] = {}
    for s in sets:
        count = seen[s.id] = seen.get(s.id, 0) + 1
        if count > 1:
            s.id = f"{s.id}-{count}"


def _build_sections(context: ClassContext, sets: list[Set]) -> list[Section]:
    drafts = context.drafts
    transcript = context.tagged.transcript
    if not drafts:
        return []
    kinds = [k for k in ("warm_up", "main", "cool_down") if any(d.section == k for d in drafts)]
    bounds = {k: [i for i, d in enumerate(drafts) if d.section == k] for k in kinds}
    sections: list[Section] = []
    begin = to_seconds(transcript.cues[0].start) if transcript.cues else 0.0
    first_start = sets[0].start
    if first_start > begin:
        sections.append(Section(id="intro", kind="intro", start=begin, end=first_start))
    for i, kind in enumerate(kinds):
        members = bounds[kind]
        start = sets[members[0]].start
        end = sets[bounds[kinds[i + 1]][0]].start if i + 1 < len(kinds) else sets[members[-1]].end
        sections.append(
            Section(
                id=kind.replace("_", "-"),
                kind=_kind(kind),
                start=start,
                end=end,
                groups=_build_groups(drafts, sets, members),
            )
        )
    finish = to_seconds(transcript.duration)
    if finish > sets[-1].end:
        sections.append(Section(id="outro", kind="outro", start=sets[-1].end, end=finish))
    return sections


def _kind(name: str) -> SectionKind:
    return name  # type: ignore[return-value]


def _build_groups(drafts: list[Draft], sets: list[Set], members: list[int]) -> list[Group]:
    groups: list[Group] = []
    numbers = list(dict.fromkeys(drafts[i].group for i in members))
    for number in numbers:
        own = [i for i in members if drafts[i].group == number]
        rests = sorted(s for i in own[:-1] if (s := sets[i].rest_after_s) is not None)
        groups.append(
            Group(
                id=f"group-{number}",
                arrangement=drafts[own[0]].arrangement,
                rounds=max(drafts[i].round for i in own),
                rest_s=rests[len(rests) // 2] if rests else None,
                sets=[sets[i] for i in own],
            )
        )
    return groups
