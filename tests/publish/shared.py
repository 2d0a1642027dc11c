"""Samples and hostile text for the tests of publishing."""

from __future__ import annotations

from pathlib import Path

from setdown.check import parse_routine
from setdown.model.routine import Routine
from setdown.model.transcript import Transcript
from setdown.read import read_transcript

SAMPLES = sorted((Path(__file__).parent.parent.parent / "samples").glob("*.routine.json"))
HOSTILE = (
    "</script><script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "a & b < c > d \"e\" 'f'",
    "00:00:01.000 --> 00:00:02.000\n\nNOTE gone",
    '=HYPERLINK("http://x.example","y")',
    "[x](javascript:alert(1)) **b** `c` | d | <b>e</b> https://x.example www.x.example a@x.example",
    "# heading\n- item\n1. one\n> quote",
    "../../etc/passwd",
    "\u202egnp.exe\u2066 \x07bell\x1b[31m",
    "{curly} {0} {{ jinja }} {% raw %}",
)


def read_sample(path: Path) -> tuple[Routine, Transcript]:
    """A sample's routine and its transcript."""
    routine = parse_routine(path.read_text(encoding="utf-8"), path.name)
    return routine, read_transcript(path.parent / routine.source.name)


def poison(routine: Routine, text: str) -> Routine:
    """The routine with the text wherever somebody else's words can come in."""
    routine.title = routine.source.instructor = routine.source.date = routine.source.name = text
    routine.source.tags = [text]
    routine.source.media = "https://x.example/" + text
    routine.equipment[0].name = text
    for _, _, one in routine.iter_sets():
        one.exercise.name = one.exercise.said = text
        one.exercise.id = ""
        one.tempo = one.effort = text
        for said in one.coaching:
            said.kind = "caution"
            said.evidence.quote, said.evidence.rule = text, "caution: careful"
    return routine
