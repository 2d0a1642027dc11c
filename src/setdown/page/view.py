"""A routine as the page gets it: the texts of its cells, what is unsure, who changed what, and where the words stand.

Everything here is plain data for JSON. Times are seconds; a span of words is ``[cue, char_start, char_end]``.
"""

from __future__ import annotations

from typing import Any

from setdown.model.routine import Evidence, Group, Mark, Query, Routine, Section, Set
from setdown.model.transcript import Transcript
from setdown.review.cell_load import show_load
from setdown.sheet import format_number

UNSURE = 0.6  # below this a value is shown as unsure, as extraction asks about it
View = dict[str, Any]


def describe_cells(one: Set) -> dict[str, str]:
    """The texts of a set's cells, by field; ``start`` and ``end`` in seconds with at most three decimals."""
    return {
        "exercise": one.exercise.name,
        "start": format_number(one.start),
        "end": format_number(one.end),
        "round": str(one.round),
        "side": one.side or "",
        "reps": str(one.reps) if one.reps else "",
        "work_s": format_number(one.work_s),
        "load": show_load(one.load),
        "finisher": one.finisher.kind if one.finisher else "",
        "rest_after_s": format_number(one.rest_after_s),
        "tempo": one.tempo or "",
        "effort": one.effort or "",
    }


def describe_set(one: Set) -> View:
    """One set: its cells and what stands behind them."""
    return {
        "id": one.id,
        "start": one.start,
        "end": one.end,
        "cells": describe_cells(one),
        "said": one.exercise.said,
        "tail": one.finisher.start if one.finisher else None,
        "unsure": {f: c for f, c in one.confidence.items() if c < UNSURE and one.origin.get(f) != "edited"},
        "edited": {field: describe_mark(mark) for field, mark in one.edited.items()},
        "evidence": {field: [describe_evidence(e) for e in pieces] for field, pieces in one.evidence.items()},
        "coaching": [[c.kind, *describe_evidence(c.evidence)] for c in one.coaching],
    }


def describe_query(query: Query) -> View:
    """One query, open or settled."""
    return {
        "id": query.id,
        "code": query.code,
        "severity": query.severity,
        "set": query.set,
        "field": query.field,
        "message": query.message,
        "suggestions": query.suggestions,
        "state": query.state,
        "answer": query.answer,
        "by": query.settled.by if query.settled else "",
        "evidence": [describe_evidence(e) for e in query.evidence],
    }


def describe_section(section: Section) -> View:
    """A section with its groups; sets are named by their ids."""
    return {
        "id": section.id,
        "kind": section.kind,
        "start": section.start,
        "end": section.end,
        "groups": [describe_group(group) for group in section.groups],
    }


def describe_group(group: Group) -> View:
    return {
        "id": group.id,
        "arrangement": group.arrangement,
        "rounds": group.rounds,
        "rest": format_number(group.rest_s),
        "sets": [one.id for one in group.sets],
    }


def describe_evidence(evidence: Evidence) -> list[int]:
    return [evidence.cue, evidence.char_start, evidence.char_end]


def describe_mark(mark: Mark) -> str:
    return f"changed by {mark.by} on {mark.at[:10]}"


def describe_transcript(transcript: Transcript | None) -> View:
    """The captions as ``[start, end, text, speaker]``; none without a transcript."""
    cues = transcript.cues if transcript else ()
    return {"cues": [[c.start / 1000, c.end / 1000, c.text, c.speaker] for c in cues]}


def describe_routine(routine: Routine) -> View:
    """The whole routine."""
    return {
        "sections": [describe_section(section) for section in routine.sections],
        "sets": {one.id: describe_set(one) for _, _, one in routine.iter_sets()},
        "queries": {query.id: describe_query(query) for query in routine.queries},
    }


def describe_difference(old: Routine, new: Routine) -> View:
    """What differs between two routines, part by part: ``None`` for a part that is gone. Unchanged parts are left out.

    Parts that both routines share as one object are not looked into, so that a small edit costs little.
    """
    old_sets = {one.id: one for _, _, one in old.iter_sets()}
    new_sets = {one.id: one for _, _, one in new.iter_sets()}
    old_queries = {query.id: query for query in old.queries}
    new_queries = {query.id: query for query in new.queries}
    view: View = {"sets": dict.fromkeys(old_sets.keys() - new_sets.keys())}
    view["queries"] = dict.fromkeys(old_queries.keys() - new_queries.keys())
    for id, one in new_sets.items():
        before = old_sets.get(id)
        if before is not one and before != one:
            view["sets"][id] = describe_set(one)
    for id, query in new_queries.items():
        asked = old_queries.get(id)
        if asked is not query and asked != query:
            view["queries"][id] = describe_query(query)
    sections = [describe_section(section) for section in new.sections]
    if sections != [describe_section(section) for section in old.sections]:
        view["sections"] = sections
    return view
