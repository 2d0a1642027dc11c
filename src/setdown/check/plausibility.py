"""Plausibility: numbers that are possible but seldom right. Always notes: people do unusual things in a class."""

from __future__ import annotations

from collections.abc import Callable

from setdown.check.finding import Finding, format_path
from setdown.check.walk import walk_sets
from setdown.model.routine import Routine, Set

# Seconds for one repetition. A moderate repetition takes 2 to 4 s (1-2 s each way: Ratamess et al., Progression
# Models in Resistance Training for Healthy Adults, Med Sci Sports Exerc 2009;41(3):687-708); slow tempos of studies
# take up to 10 (6/0/4/0); jumps and pulses take under one. The margin on both sides is common practice, no source.
SECONDS_PER_REP = (1.0, 15.0)
LONGEST_SET_S = 900.0  # common practice, no source
WORK_FACTOR, WORK_SLACK_S = 1.5, 15.0  # how far the stated seconds may exceed what the recording shows
HEAVIEST = {"lb": 660.0, "kg": 300.0, "pct1rm": 110.0}  # of a load used in a follow-along class; no source


def check_plausibility(routine: Routine) -> list[Finding]:
    found = []
    for path, _, _, one in walk_sets(routine):
        for name, doubt in DOUBTS:
            problem = doubt(one)
            if problem:
                found.append(Finding("unlikely-" + name, format_path(path), problem, severity="note"))
    return found


def _doubt_pace(one: Set) -> str:
    if not one.reps or one.reps.lo is None or one.reps.hi is None:
        return ""
    lasts = one.end - one.start
    low, high = SECONDS_PER_REP
    sides = 2 if one.side == "each" else 1
    if lasts < low * one.reps.lo or lasts > high * one.reps.hi * sides:
        return f"{one.reps} reps in {lasts:.0f} s"
    return ""


def _doubt_length(one: Set) -> str:
    lasts = one.end - one.start
    return f"a set of {lasts / 60:.0f} minutes" if lasts > LONGEST_SET_S else ""


def _doubt_work(one: Set) -> str:
    lasts = one.end - one.start
    if one.work_s is not None and one.work_s > WORK_FACTOR * lasts + WORK_SLACK_S:
        return f"{one.work_s:g} s of work in a set that lasts {lasts:.0f} s"
    return ""


def _doubt_load(one: Set) -> str:
    if one.load and one.load.value is not None and one.load.unit and one.load.value > HEAVIEST[one.load.unit]:
        return f"a load of {one.load.value:f} {one.load.unit}"
    return ""


DOUBTS: tuple[tuple[str, Callable[[Set], str]], ...] = (
    ("pace", _doubt_pace),
    ("length", _doubt_length),
    ("work", _doubt_work),
    ("load", _doubt_load),
)
