"""A metadata track: one WebVTT cue for each set, with JSON, so that a player can show the move that is on.

Each cue's JSON: ``set``, ``exercise`` (id and name), ``move`` (the plan's label), ``section``, ``round``, ``rounds``,
and where they are known ``side``, ``reps``, ``work_s``, ``load``, ``finisher``, ``next`` (the set after it, by name).
"""

from __future__ import annotations

from typing import Any

from setdown.model.routine import Routine, Set
from setdown.publish.fixed_text import load_strings
from setdown.publish.inert import clean_line, dump_json_line
from setdown.publish.passes import list_moves
from setdown.publish.plan import letter_group
from setdown.publish.vtt import TextCue, format_vtt


def format_track_vtt(routine: Routine) -> str:
    """The track of a routine; times are those of the sets."""
    labels = _label_sets(routine)
    rows = sorted(routine.iter_sets(), key=lambda row: row[2].start)
    cues = []
    for n, (section, group, one) in enumerate(rows):
        following = rows[n + 1][2] if n + 1 < len(rows) else None
        value: dict[str, Any] = {
            "set": one.id,
            "exercise": {"id": one.exercise.id, "name": clean_line(one.exercise.name)},
        }
        value |= {"move": labels.get(one.id, ""), "section": section.kind, "round": one.round, "rounds": group.rounds}
        value |= _describe(one)
        if following is not None:
            value["next"] = clean_line(following.exercise.name)
        start, end = round(one.start * 1000), round(one.end * 1000)
        cues.append(TextCue(start, end, dump_json_line(value), identifier=one.id, raw=True))
    strings = load_strings(routine.language)
    notes = [strings.say("captions.draft_note")] if routine.status == "draft" else []
    return format_vtt(cues, kind="metadata", language=routine.language, notes=notes)


def _describe(one: Set) -> dict[str, Any]:
    value: dict[str, Any] = {}
    if one.side:
        value["side"] = one.side
    if one.reps:
        value["reps"] = str(one.reps)
    if one.work_s:
        value["work_s"] = one.work_s
    if one.load:
        value["load"] = one.load.model_dump(mode="json", exclude_none=True)
    if one.finisher:
        value["finisher"] = one.finisher.model_dump(mode="json", exclude_none=True)
    return value


def _label_sets(routine: Routine) -> dict[str, str]:
    labels: dict[str, str] = {}
    groups = [group for section in routine.sections for group in section.groups if group.sets]
    for number, group in enumerate(groups):
        moves = list_moves(group)
        for n, move in enumerate(moves, 1):
            label = letter_group(number) + (str(n) if len(moves) > 1 else "")
            labels |= {one.id: label for one in move.sets}
    return labels
