"""Metabolic equivalents (MET) for the kinds of work in a class.

Source: Ainsworth et al., '2011 Compendium of Physical Activities', Medicine and Science in Sports and Exercise
2011;43(8):1575-1581; codes and values read in a copy of its table, not in the original. The 2024 edition (Herrmann et
al., J Sport Health Sci 2024;13:6-12; adults of 19 to 59 years) differs in some: 02020 7.5, circuit 5.0 and 7.5, Hatha
yoga 2.3. What is gentle or hard in a class is not in its transcript, so each kind has a low and a high activity.
Which activity stands for which kind of work is this project's choice (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

EDITION = "2011 Compendium of Physical Activities (Ainsworth et al., Med Sci Sports Exerc 2011;43(8):1575-1581)"


@dataclass(frozen=True, slots=True)
class Activity:
    """One row of the Compendium; rests inside the activity are part of its MET."""

    code: str
    met: Fraction
    text: str


def _row(code: str, met: str, text: str) -> Activity:
    return Activity(code, Fraction(met), text)


ACTIVITIES = {
    row.code: row
    for row in (
        _row("02020", "8.0", "calisthenics, vigorous effort"),
        _row("02022", "3.8", "calisthenics, moderate effort"),
        _row("02024", "2.8", "calisthenics, light effort"),
        _row("02035", "4.3", "circuit training, moderate effort"),
        _row("02040", "8.0", "circuit training, including kettlebells, minimal rest, vigorous"),
        _row("02050", "6.0", "resistance training, free weights, vigorous effort"),
        _row("02054", "3.5", "resistance training, multiple exercises, 8 to 15 repetitions"),
        _row("02101", "2.3", "stretching, mild"),
        _row("02150", "2.5", "yoga, Hatha"),
        _row("02160", "4.0", "yoga, Power"),
        _row("03020", "5.0", "aerobic dance, low impact"),
        _row("03021", "7.3", "aerobic dance, high impact"),
    )
}

# Kind of work: its gentlest and its hardest activity.
KINDS = {
    "resistance": ("02054", "02050"),
    "circuit": ("02035", "02040"),
    "calisthenics": ("02022", "02020"),
    "light": ("02024", "02022"),
    "dance": ("03020", "03021"),
    "stretching": ("02101", "02150"),
    "yoga": ("02150", "02160"),
}


def find_activities(kind: str) -> tuple[Activity, Activity]:
    """The low and the high activity of a kind of work."""
    low, high = KINDS[kind]
    return ACTIVITIES[low], ACTIVITIES[high]
