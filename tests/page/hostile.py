"""A class that means harm: what was said, and every text of the routine, tries to become part of the page."""

from __future__ import annotations

import hashlib
from pathlib import Path

from setdown.document import format_routine
from setdown.model.routine import Coaching, Evidence, Exercise, MadeBy, Query, Reps, Routine, Section, Set, Source
from setdown.model.routine import Group as SetGroup
from setdown.read import parse_transcript

SCRIPT = "<script>window.harmed = 1</script>"
HANDLER = '<img src=x onerror="window.harmed = 2"> \' " ` ${window.harmed = 3} {{ 7 * 7 }} </p></li></ol>'
LONG = "squatsquatsquat" * 400
BACKWARDS = "\u202e\u05d0\u05d1\u05d2 ten reps \u0627\u0644\u0633\u0644\u0627\u0645 \u2067 never closed"
SPOKEN = [
    SCRIPT,
    HANDLER,
    LONG,
    BACKWARDS,
    "javascript:alert(1) data:text/html,x &lt;b&gt; &amp; -->",
    "twelve goblet squats",
]


def write_hostile_class(folder: Path) -> Path:
    """Transcript (JSON of a speech recogniser, which escapes nothing) and routine; the path of the routine."""
    import json

    segments = [{"start": 10.0 * n, "end": 10.0 * n + 9, "text": text} for n, text in enumerate(SPOKEN, 1)]
    data = json.dumps({"segments": segments}).encode()
    (folder / "hostile.json").write_bytes(data)
    transcript = parse_transcript(data, name="hostile.json")
    sets = [_make_set(n, text, transcript) for n, text in enumerate(SPOKEN)]
    queries = [
        Query(
            id=f"q{n}:{text[:40]}",
            code="unsure",
            severity="should",
            set=sets[n].id,
            field="exercise",
            message=text,
            suggestions=[text[:100], SCRIPT],
            evidence=sets[n].evidence["exercise"],
        )
        for n, text in enumerate(SPOKEN)
    ]
    routine = Routine(
        id="hostile",
        title=SCRIPT + HANDLER,
        source=Source(
            name="hostile.json",
            format=transcript.format,
            sha256=hashlib.sha256(data).hexdigest(),
            duration_s=70,
            cue_count=len(transcript.cues),
            timing="cue",
            resolution_s=4,
            instructor=HANDLER,
            date=SCRIPT[:10],
        ),
        made_by=MadeBy(version="0"),
        sections=[
            Section(
                id='main"><script>',
                kind="main",
                start=10,
                end=70,
                groups=[SetGroup(id="g'1\"", arrangement="straight", sets=sets)],
            )
        ],
        queries=queries,
    )
    path = folder / "hostile.routine.json"
    path.write_text(format_routine(routine), encoding="utf-8")
    return path


def _make_set(n: int, text: str, transcript) -> Set:
    cue = transcript.cues[n]
    quote = cue.text[: min(len(cue.text), 60)]
    said = Evidence(cue=n, char_start=0, char_end=len(quote), quote=quote, at=cue.start / 1000)
    start = cue.start / 1000
    return Set(
        id=f"s{n}\"'<b>{text[:5]}",
        exercise=Exercise(id="", name=text[:200], said=text),
        reps=Reps(lo=10, hi=10),
        tempo=HANDLER[:60],
        start=start,
        end=start + 8,
        evidence={"exercise": [said], "reps": [said]},
        origin={"exercise": "said", "reps": "said", "tempo": "inferred"},
        confidence={"exercise": 0.4, "reps": 0.9, "tempo": 0.5},
        coaching=[Coaching(kind="form", evidence=said)],
    )
