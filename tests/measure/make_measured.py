"""Small classes for the measures: sets one after the other, a minute each unless told otherwise."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from setdown.model.routine import (
    Arrangement,
    Exercise,
    Group,
    Load,
    MadeBy,
    Reps,
    Routine,
    Section,
    SectionKind,
    Set,
    Source,
)


def make_one(exercise: str, start: float = 0.0, end: float | None = None, **values: Any) -> Set:
    """A set; ``reps`` may be a number or a pair, ``load`` a (value, unit, basis)."""
    reps, load = values.pop("reps", None), values.pop("load", None)
    if isinstance(reps, int):
        reps = Reps(lo=reps, hi=reps)
    elif isinstance(reps, tuple):
        reps = Reps(lo=reps[0], hi=reps[1])
    if isinstance(load, tuple):
        load = Load(value=Decimal(str(load[0])), unit=load[1], basis=load[2])
    return Set(
        id=f"{exercise}-{start}",
        exercise=Exercise(id=exercise, name=exercise.replace("-", " ")),
        start=start,
        end=start + 40.0 if end is None else end,
        reps=reps,
        load=load,
        **values,
    )


def make_sets(*wanted: tuple[str, dict[str, Any]]) -> list[Set]:
    """Sets of 40 s, a minute from start to start."""
    return [make_one(exercise, at * 60.0, **values) for at, (exercise, values) in enumerate(wanted)]


def make_class(
    sets: Iterable[Set], kind: SectionKind = "main", arrangement: Arrangement = "straight", date: str = ""
) -> Routine:
    """A class of one section with one group."""
    listed = list(sets)
    end = max((one.end for one in listed), default=60.0)
    group = Group(id="g", arrangement=arrangement, sets=listed)
    return Routine(
        id="r",
        title="Pier Basics",
        source=Source(
            name="pier.vtt",
            format="webvtt",
            sha256="0" * 64,
            duration_s=end,
            cue_count=1,
            timing="cue",
            resolution_s=2.0,
            date=date,
        ),
        made_by=MadeBy(version="0"),
        sections=[Section(id="s", kind=kind, start=0.0, end=end, groups=[group] if listed else [])],
    )
