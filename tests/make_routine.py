"""A small transcript and a routine that fits it in every respect, for tests to bend."""

from __future__ import annotations

import hashlib
from decimal import Decimal
from functools import cache
from typing import Any

from setdown.model.routine import (
    Coaching,
    Declared,
    Equipment,
    Evidence,
    Exercise,
    Finisher,
    Group,
    Load,
    MadeBy,
    Query,
    Reps,
    Routine,
    Section,
    Set,
    Source,
)
from setdown.model.transcript import Transcript
from setdown.read import parse_transcript

CAPTIONS = (  # start and end in ms, text
    (4_000, 9_000, "hi everybody it's wren grab a pair of tens two rounds of ten"),
    (60_000, 64_000, "here we go goblet squats"),
    (66_000, 110_000, "one more and relax"),
    (120_000, 124_000, "left arm first rows give me eight to ten"),
    (170_000, 174_000, "other side same again"),
    (230_000, 234_000, "hold it for thirty and breathe"),
)
VTT = "WEBVTT\n\n" + "\n".join(
    f"00:{a // 60000:02d}:{a // 1000 % 60:02d}.000 --> 00:{b // 60000:02d}:{b // 1000 % 60:02d}.000\n{text}\n"
    for a, b, text in CAPTIONS
)
SHA256 = hashlib.sha256(VTT.encode()).hexdigest()


@cache
def make_transcript() -> Transcript:
    """The captions above, as they are read from a file."""
    return parse_transcript(VTT.encode(), name="wren.vtt")


def quote(words: str, cue: int) -> Evidence:
    """Evidence for words of a caption, at the time of the first of them."""
    text = CAPTIONS[cue][2]
    start = text.index(words)
    first = next(w for w in make_transcript().words if w.cue == cue and w.char_end > start)
    return Evidence(
        cue=cue, char_start=start, char_end=start + len(words), quote=words, at=first.start / 1000, rule="as said"
    )


def make_set(id: str, name: str, start: float, end: float, said: Evidence, **values: Any) -> Set:
    """A set whose values all have an origin, a confidence and the evidence ``said``."""
    fields = ["exercise", *(k for k in values if k in ("side", "reps", "work_s", "load", "finisher"))]
    return Set(
        id=id,
        exercise=Exercise(id=name.replace(" ", "-"), name=name, said=name),
        start=start,
        end=end,
        evidence={field: [said] for field in fields},
        origin=dict.fromkeys(fields, "said"),
        confidence=dict.fromkeys(fields, 0.9),
        **values,
    )


def make_routine() -> Routine:
    """A warm-up without sets, a main section of two groups and a held stretch."""
    tens = Load(value=Decimal("10"), unit="lb", basis="per_hand")
    squats = make_set("s1", "goblet squat", 62.0, 110.0, quote("goblet squats", 1), reps=Reps(lo=10, hi=10), load=tens)
    squats.coaching.append(Coaching(kind="breath", evidence=quote("relax", 2)))
    rows = [
        make_set("s2", "row", 124.0, 160.0, quote("rows", 3), side="left", reps=Reps(lo=8, hi=10)),
        make_set("s3", "row", 172.0, 210.0, quote("other side", 4), side="right", reps=Reps(lo=8, hi=10)),
    ]
    hold = make_set("s4", "child's pose", 231.0, 234.0, quote("hold it", 5), work_s=30.0)
    hold.confidence["work_s"] = 0.456
    rows[1].finisher = Finisher(kind="pulses", start=200.0, end=210.0)
    rows[1].origin["finisher"], rows[1].confidence["finisher"] = "inferred", 0.5
    return Routine(
        id="wren",
        title="Wren's ten",
        source=Source(
            name="wren.vtt",
            format="webvtt",
            sha256=SHA256,
            duration_s=234.0,
            cue_count=len(CAPTIONS),
            timing="cue",
            resolution_s=2.0,
        ),
        made_by=MadeBy(version="0.1.0"),
        declared=[Declared(scope="class", field="reps", value="10", start=4.0, evidence=[quote("of ten", 0)])],
        equipment=[Equipment(id="dumbbell", name="dumbbell", count=2, loads=[tens], evidence=[quote("tens", 0)])],
        sections=[
            Section(id="intro", kind="intro", start=0.0, end=58.0),
            Section(
                id="main",
                kind="main",
                start=58.0,
                end=220.0,
                groups=[
                    Group(id="g1", arrangement="straight", sets=[squats]),
                    Group(id="g2", arrangement="superset", sets=rows),
                ],
            ),
            Section(
                id="cool",
                kind="cool_down",
                start=220.0,
                end=234.0,
                groups=[Group(id="g3", arrangement="flow", sets=[hold])],
            ),
        ],
        queries=[
            Query(
                id="q1",
                code="load-unsure",
                severity="should",
                set="s1",
                field="load",
                message="Ten of what?",
                suggestions=["10 lb", "10 kg"],
                evidence=[quote("tens", 0)],
            ),
            Query(id="q2", code="name-unsure", severity="should", set="s1", field="exercise", message="Which squat?"),
            Query(id="q3", code="side-unsure", severity="note", set="s2", message="Left?", state="dismissed"),
        ],
    )
