"""The class as linked data in the schema.org vocabulary: the recording with its clips, the plan, and the steps.

Property names and types are those of schema.org release 30. ``workload`` there means energy spent, not kilograms, so
loads are told in words; ``repetitions`` and clip offsets are numbers; durations are ISO 8601 with whole seconds and no
unit skipped, which every reader of durations takes (RFC 3339, Appendix A).
"""

from __future__ import annotations

from typing import Any
from urllib.parse import quote, urlsplit

from setdown.lexicon import Lexicon
from setdown.measure import Measures
from setdown.model.routine import Group, Routine, Section
from setdown.publish.fixed_text import Strings, load_strings
from setdown.publish.inert import clean_line
from setdown.publish.passes import MovePasses, list_moves
from setdown.publish.plan_parts import Move, Plan, PlanGroup
from setdown.publish.wording import tell_name

CONTEXT = "https://schema.org"
CATEGORIES = {  # pattern of movement -> member of schema.org's PhysicalActivityCategory
    "stretch": "Flexibility",
    "mobility": "Flexibility",
    "pose": "Flexibility",
    "balance": "Balance",
    "locomotion": "AerobicActivity",
    "jump": "AerobicActivity",
    "dance_step": "AerobicActivity",
    "striking": "AerobicActivity",
}
UNPATTERNED = frozenset({"", "breathing"})


def build_jsonld(routine: Routine, plan: Plan, measures: Measures, lexicon: Lexicon) -> dict[str, Any]:
    """One JSON-LD document with three parts that refer to each other by ``@id``."""
    strings = load_strings(routine.language)
    base = "urn:setdown:" + quote(routine.id, safe="")
    return {
        "@context": CONTEXT,
        "@graph": [
            _describe_video(routine, plan, strings, base),
            _describe_plan(routine, plan, measures, lexicon, strings, base),
            _describe_steps(routine, plan, strings, base),
        ],
    }


def format_duration(seconds: float) -> str:
    """``90`` -> ``PT1M30S``, ``3605`` -> ``PT1H0M5S``."""
    whole = max(0, round(seconds))
    hours, rest = divmod(whole, 3600)
    minutes, rest = divmod(rest, 60)
    text = f"{hours}H" if hours else ""
    text += f"{minutes}M" if minutes or (hours and rest) else ""
    text += f"{rest}S" if rest or not whole else ""
    return f"PT{text}"


def _describe_video(routine: Routine, plan: Plan, strings: Strings, base: str) -> dict[str, Any]:
    source = routine.source
    video: dict[str, Any] = {
        "@type": "VideoObject",
        "@id": f"{base}:recording",
        "name": plan.title,
        "description": strings.say("jsonld.description", sections=strings.join([s.heading for s in plan.sections])),
        "inLanguage": routine.language,
        "creativeWorkStatus": strings.say(f"jsonld.{routine.status}"),
        "duration": format_duration(source.duration_s),
    }
    if source.instructor:
        video["creator"] = {"@type": "Person", "name": clean_line(source.instructor)}
    if source.date:
        video["dateCreated"] = clean_line(source.date)
    if source.tags:
        video["keywords"] = [clean_line(tag) for tag in source.tags]
    if urlsplit(source.media).scheme in ("http", "https"):
        video["contentUrl"] = quote(clean_line(source.media), safe=":/?#[]@!$&'()*+,;=%~")
    clips = [
        {
            "@type": "Clip",
            "@id": f"{base}:set:{quote(one.id, safe='')}",
            "name": tell_name(one),
            "clipNumber": number,
            "startOffset": _number(one.start),
            "endOffset": _number(max(one.end, one.start)),
        }
        for number, (_, _, one) in enumerate(sorted(routine.iter_sets(), key=lambda row: row[2].start), 1)
    ]
    return video | ({"hasPart": clips} if clips else {})


def _describe_plan(
    routine: Routine, plan: Plan, measures: Measures, lexicon: Lexicon, strings: Strings, base: str
) -> dict[str, Any]:
    muscles = [count for count in measures.muscle_groups if count.primary or count.eased]
    categories = dict.fromkeys(
        CATEGORIES.get(movement.pattern, "StrengthTraining")
        for _, _, one in routine.iter_sets()
        if (movement := lexicon.movements.get(one.exercise.id)) and movement.pattern not in UNPATTERNED
    )
    described: dict[str, Any] = {
        "@type": "ExercisePlan",
        "@id": f"{base}:plan",
        "name": strings.say("jsonld.plan_name", title=plan.title),
        "isBasedOn": {"@id": f"{base}:recording"},
        "creativeWorkStatus": strings.say(f"jsonld.{routine.status}"),
        "activityDuration": format_duration(routine.source.duration_s),
        "exerciseType": list(dict.fromkeys(tell_name(one) for _, _, one in routine.iter_sets())),
        "category": [f"{CONTEXT}/{category}" for category in categories],
        "associatedAnatomy": [{"@type": "Muscle", "name": clean_line(count.name)} for count in muscles],
        "additionalVariable": [f"{name}: {value}" for name, value in plan.facts],
        "disambiguatingDescription": " ".join(plan.cautions),
        "hasPart": [
            _describe_move(section, group, move, strings)
            for section in routine.sections
            for group in section.groups
            for move in list_moves(group)
        ],
    }
    return {key: value for key, value in described.items() if value not in ([], "")}


def _describe_move(section: Section, group: Group, move: MovePasses, strings: Strings) -> dict[str, Any]:
    first = move.first
    described: dict[str, Any] = {
        "@type": "ExercisePlan",
        "name": tell_name(first),
        "exerciseType": strings.say(f"section.{section.kind}"),
        "activityFrequency": strings.count("plan.sets", len(move.passes)),
    }
    reps = [one.reps for one in move.sets if one.reps and not one.reps.to_failure]
    if reps:
        lo, hi = min(r.lo or 0 for r in reps), max(r.hi or 0 for r in reps)
        ranged = {"@type": "QuantitativeValue", "minValue": lo, "maxValue": hi, "unitCode": "C62"}
        described["repetitions"] = lo if lo == hi else ranged
    elif first.work_s is not None:
        described["activityDuration"] = format_duration(first.work_s)
    if first.effort:
        described["intensity"] = clean_line(first.effort)
    if group.rest_s and group.rounds > 1:
        described["restPeriods"] = strings.say("jsonld.rest", n=round(group.rest_s))
    return described


def _describe_steps(routine: Routine, plan: Plan, strings: Strings, base: str) -> dict[str, Any]:
    steps = [
        {
            "@type": "HowToSection",
            "name": section.heading,
            "position": n,
            "itemListElement": [_describe_group(group, m) for m, group in enumerate(section.groups, 1)],
        }
        for n, section in enumerate(plan.sections, 1)
    ]
    described: dict[str, Any] = {
        "@type": "HowTo",
        "@id": f"{base}:steps",
        "name": strings.say("jsonld.howto_name", title=plan.title),
        "isBasedOn": {"@id": f"{base}:recording"},
        "creativeWorkStatus": strings.say(f"jsonld.{routine.status}"),
        "totalTime": format_duration(routine.source.duration_s),
        "tool": [{"@type": "HowToTool", "name": clean_line(piece.name)} for piece in routine.equipment],
        "step": steps,
    }
    return {key: value for key, value in described.items() if value != []}


def _describe_group(group: PlanGroup, position: int) -> dict[str, Any]:
    about = ", ".join(text for text in (group.how, group.rounds, group.rest) if text)
    return {
        "@type": "HowToStep",
        "name": f"{group.letter}: {about}",
        "position": position,
        "itemListElement": [part for move in group.moves for part in _describe_directions(move)],
    }


def _describe_directions(move: Move) -> list[dict[str, Any]]:
    told = ", ".join(text for text in (move.dose, move.load, move.finisher, move.tempo, move.effort) if text)
    tips = (*move.cues, *move.easier, *move.harder, *move.cautions)
    return [
        {"@type": "HowToDirection", "text": f"{move.label} {move.name}: {told}"},
        *({"@type": "HowToTip", "text": tip} for tip in tips),
    ]


def _number(seconds: float) -> float | int:
    return int(seconds) if seconds == int(seconds) else round(seconds, 3)
