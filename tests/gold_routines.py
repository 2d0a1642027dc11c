"""Routines made from the gold sheets of the annotated classes, and a folder of them to be indexed.

A routine takes its values from the sheet; the name is the first alternative that the lexicon has. What a sheet does not
say is chosen by the number of the class: the day (one class in nine has none), the kit that is named, the status.
"""

from __future__ import annotations

import csv
import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

from gold.compile_class import CompiledClass, compile_class, cut_captions, format_vtt
from setdown.document import format_routine
from setdown.lexicon import Lexicon, load_lexicon
from setdown.model.routine import (
    Equipment,
    Exercise,
    Finisher,
    Group,
    Load,
    MadeBy,
    Reps,
    Routine,
    Section,
    Set,
    Source,
)

SCRIPTS = sorted((Path(__file__).resolve().parent / "gold" / "scripts").glob("*.script"))
FIRST_DAY = date(2023, 11, 20)  # so that the classes go over a turn of the year
KITS = ((), ("mat",), ("dumbbell", "mat"), ("dumbbell",), ("kettlebell",), ("band", "chair"), ("barbell", "bench"))
STATES = ("draft", "reviewed", "published")


@dataclass(frozen=True)
class GoldClass:
    """One class: its routine, the text of its captions, and its rows as the sheet has them."""

    number: int
    name: str
    routine: Routine
    vtt: str
    rows: tuple[dict[str, Any], ...]


@cache
def list_gold(count: int = 1000) -> tuple[GoldClass, ...]:
    """The first ``count`` classes."""
    lexicon = load_lexicon()
    return tuple(make_gold(number, compile_class(script), lexicon) for number, script in enumerate(SCRIPTS[:count]))


def make_gold(number: int, made: CompiledClass, lexicon: Lexicon) -> GoldClass:
    """The class of one script."""
    vtt = format_vtt(cut_captions(made.words, made.meta, long=False))
    day = "" if number % 9 == 4 else (FIRST_DAY + timedelta(days=3 * number % 200)).isoformat()
    routine = Routine(
        id=made.name,
        title=made.meta["title"],
        status=STATES[number % 3],
        source=Source(
            name=f"{made.name}.vtt",
            format="webvtt",
            sha256=hashlib.sha256(vtt.encode()).hexdigest(),
            duration_s=round(made.words[-1][2], 3),
            cue_count=vtt.count("-->"),
            timing="cue",
            resolution_s=2.0,
            instructor=made.meta.get("trainer", ""),
            date=day,
            media=f"{made.name}.mp4" if number % 2 else "",
        ),
        made_by=MadeBy(version="gold"),
        equipment=[Equipment(id=kit, name=kit) for kit in KITS[number % len(KITS)]],
        sections=_make_sections(made.rows, lexicon),
    )
    return GoldClass(number, made.name, routine, vtt, tuple(made.rows))


def write_folder(folder: Path, classes: Sequence[GoldClass]) -> Path:
    """Each class as NAME.vtt and NAME.routine.json. An edited draft: nothing is extracted, whatever the status."""
    folder.mkdir(parents=True, exist_ok=True)
    for one in classes:
        (folder / f"{one.name}.vtt").write_text(one.vtt, encoding="utf-8", newline="\n")
        (folder / f"{one.name}.routine.json").write_text(format_routine(one.routine), encoding="utf-8")
    return folder


def write_rows(path: Path, rows: Sequence[dict[str, Any]]) -> None:
    """Rows as CSV."""
    with path.open("w", newline="", encoding="utf-8") as stream:
        writer = csv.DictWriter(stream, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)


def _make_sections(rows: Sequence[dict[str, Any]], lexicon: Lexicon) -> list[Section]:
    sections: list[Section] = []
    numbers: list[int] = []
    for place, row in enumerate(rows, 1):
        one = make_set(f"s{place}", row, lexicon)
        if not sections or sections[-1].kind != row["section"]:
            sections.append(Section(id=f"p{len(sections) + 1}", kind=row["section"], start=one.start, end=one.end))
            numbers = []
        section = sections[-1]
        section.end = max(section.end, one.end)
        if not numbers or numbers[-1] != int(row["group"]):
            numbers.append(int(row["group"]))
            section.groups.append(Group(id=f"g{place}", arrangement=row["arrangement"]))
        section.groups[-1].sets.append(one)
        section.groups[-1].rounds = max(section.groups[-1].rounds, one.round)
    return sections


def make_set(id: str, row: dict[str, Any], lexicon: Lexicon) -> Set:
    """The set of one row, marked as edited by a person."""
    names = row["exercise"].split("|")
    movement = next((found for name in names if (found := lexicon.look_up(name)) is not None), None)
    lo, _, hi = row["reps"].partition("-")
    reps = None
    if row["reps"] == "max":
        reps = Reps(to_failure=True)
    elif row["reps"]:
        reps = Reps(lo=int(lo), hi=int(hi or lo))
    load = None
    if row["load"] or row["rel"]:
        load = Load(
            value=Decimal(row["load"]) if row["load"] else None,
            unit=row["unit"] or None,
            basis=row["basis"] or None,
            rel=row["rel"] or None,
        )
    exercise = Exercise(id=movement.id if movement else "", name=movement.name if movement else names[0])
    return Set(
        id=id,
        exercise=exercise,
        round=int(row["round"]),
        side=row["side"] or None,
        reps=reps,
        work_s=float(row["work_s"]) if row["work_s"] else None,
        load=load,
        finisher=Finisher(kind=row["finisher"]) if row["finisher"] else None,
        start=row["start"],
        end=row["end"],
        origin={"exercise": "edited"},
        confidence={"exercise": 1.0},
    )
