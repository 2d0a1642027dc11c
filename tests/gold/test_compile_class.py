"""Annotated classes compile to the captions and gold sheets that everything is scored on."""

from __future__ import annotations

import json
from pathlib import Path
from typing import get_args

import pytest

from gold.compile_class import FIELDS, STYLES, compile_class, write_class
from setdown.evaluate.align import parse_seconds
from setdown.model.routine import Arrangement, Basis, SectionKind, Side, Unit
from setdown.read import read_transcript
from setdown.sheet import COLUMNS, read_sheet_csv

SCRIPT = """\
# title: Tiny
# trainer: Nobody
# rate: 2.0
# case: lower

:section intro
Right, sit-ups!
:section main
:group superset
:set ex="goblet squat|squat" reps=8-10 load=12 unit=lb basis=total
Down... {goblet squats|gobble it's quat} at 12:30.
:pause 20
:end
:set ex="plank" round=2 work_s=30 side=left
{Hold|}
:end
"""

# What the compiler gave when the measures were defined, byte for byte.
COMPILED = {
    ".vtt": "WEBVTT\n\n00:00:04.000 --> 00:00:07.845\nright sit ups down gobble it's quat at 12:30\n",
    ".clean.vtt": (
        "WEBVTT\n\n00:00:04.000 --> 00:00:07.843\nRight, sit-ups! Down... goblet squats at 12:30.\n\n"
        "00:00:28.294 --> 00:00:28.779\nHold\n"
    ),
    ".srt": "1\n00:00:04,000 --> 00:00:07,845\nright sit ups down gobble it's quat at 12:30\n",
    ".txt": "[0:04] right sit ups down gobble it's quat at 12:30\n",
    ".rolling.vtt": (
        "WEBVTT\nKind: captions\nLanguage: en\n\n00:00:04.000 --> 00:00:07.845 align:start position:0%\n \n"
        "right<00:00:04.500><c> sit ups</c><00:00:05.358><c> down</c><00:00:05.775><c> gobble</c><00:00:06.191><c> it's"
        "</c><00:00:06.608><c> quat</c><00:00:07.025><c> at</c><00:00:07.441><c> 12:30</c>\n\n"
        "00:00:07.845 --> 00:00:07.855 align:start position:0%\nright sit ups down gobble it's quat at 12:30\n \n"
    ),
    ".gold.csv": (
        "start,end,section,group,arrangement,round,exercise,side,reps,work_s,load,unit,basis,rel,finisher\r\n"
        "5.4,28.3,main,1,superset,1,goblet squat|squat,,8-10,,12,lb,total,,\r\n"
        "28.3,29.3,main,1,superset,2,plank,left,,30,,,,,\r\n"
    ),
}
SCRIPTS = sorted((Path(__file__).parent / "scripts").glob("*.script"))


def write_script(folder: Path, text: str) -> Path:
    script = folder / "tiny-class.script"
    script.write_text(text, encoding="utf-8")
    return script


def test_a_small_class_in_every_style(tmp_path):
    """The captions of a small class are what they always were, to the byte."""
    write_class(write_script(tmp_path, SCRIPT), tmp_path / "out")
    for suffix, text in COMPILED.items():
        assert (tmp_path / "out" / f"tiny-class{suffix}").read_bytes().decode() == text, suffix
    recognised = json.loads((tmp_path / "out" / "tiny-class.words.json").read_text())
    assert recognised["segments"][0]["words"][1] == {"word": " sit ups", "start": 4.5, "end": 4.99, "probability": 0.9}
    assert set(STYLES) == {*COMPILED, ".words.json"} - {".gold.csv"}


@pytest.mark.parametrize(
    ("text", "line", "problem"),
    [
        (":set ex=a\n:set ex=b\n", 2, "set inside a set"),
        (":set ex=a\n", None, "last set not closed"),
        (":end\n", 1, "end without set"),
        ("hi\n:dance\n", 2, "unknown directive dance"),
        (":set reps=10\n", 1, "needs ex="),
        (":set ex=a weight=10\n", 1, "needs ex="),
    ],
)
def test_a_script_that_is_wrong_is_refused(tmp_path, text, line, problem):
    """The error names the file and the line."""
    with pytest.raises(ValueError, match=problem) as caught:
        compile_class(write_script(tmp_path, text))
    assert ("tiny-class.script" + (f":{line}" if line else "")) in str(caught.value)


@pytest.mark.parametrize("script", SCRIPTS, ids=lambda p: p.stem)
def test_an_annotated_class_is_sound(script, gold_folder):
    """Sets follow each other inside sections that follow each other, and every cell holds a value of the model."""
    rows = read_sheet_csv(gold_folder / f"{script.stem}.gold.csv")
    assert rows
    kinds, arrangements = get_args(SectionKind), get_args(Arrangement)
    last = 0.0
    for row in rows:
        start, end = parse_seconds(row["start"]), parse_seconds(row["end"])
        assert last <= start < end
        last = end
        assert row["section"] in kinds
        assert row["arrangement"] in arrangements
        assert row["side"] in ("", *get_args(Side))
        assert row["unit"] in ("", *get_args(Unit))
        assert row["basis"] in ("", *get_args(Basis))
        assert row["rel"] in ("", "lighter", "heavier")
        assert row["finisher"] in ("", "pulses", "hold", "drop", "partials")
        assert row["round"].isdecimal()
        assert row["reps"] in ("", "max") or all(part.isdecimal() for part in row["reps"].split("-"))
        assert bool(row["load"]) == bool(row["unit"])
    groups = [int(row["group"]) for row in rows]
    assert groups == sorted(groups)
    places = [kinds.index(row["section"]) for row in rows]
    assert places == sorted(places)


def test_every_style_reads_as_the_same_class(gold_folder):
    """The reader finds the same words in the captions that carry the same text."""
    for script in SCRIPTS[::10]:
        said = {
            style: [word.text for word in read_transcript(gold_folder / (script.stem + style)).words]
            for style in (".vtt", ".srt", ".txt", ".rolling.vtt")
        }
        assert said[".vtt"] == said[".srt"]
        assert len(said[".txt"]) == len(said[".vtt"])
        assert len(said[".rolling.vtt"]) == len(said[".vtt"])


def test_the_columns_are_those_of_the_sheet():
    """A gold sheet has the sheet's columns, but for those that only an extraction can fill."""
    assert tuple(FIELDS) == COLUMNS[: len(FIELDS)]
    assert COLUMNS[len(FIELDS) :] == ("confidence", "queries")
