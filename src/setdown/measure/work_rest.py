"""Work, rest and density: how much of the class was spent in sets.

A set lasts from its start to its end on the recording. Times that overlap count once. What lies between the start of
the first set and the end of the last, and in no set, is rest: standing still, fetching kit, listening.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from statistics import median_low

from setdown.measure.performed import Performed
from setdown.model.routine import Routine


@dataclass(frozen=True, slots=True)
class SectionTime:
    """One section: seconds on the recording, seconds in sets, and its sets as performed."""

    kind: str
    seconds: Fraction
    work_s: Fraction
    sets: int


@dataclass(frozen=True, slots=True)
class WorkRest:
    """Seconds. ``training_s`` runs from the first set's start to the last one's end and is ``work_s`` + ``rest_s``.

    ``density`` is work / training, 0 to 1; ``margin_s`` is the middle one of the sets' margins: how well the captions
    let a start be known. ``longest_rest_s`` is the longest single gap.
    """

    class_s: Fraction
    training_s: Fraction
    work_s: Fraction
    rest_s: Fraction
    density: Fraction | None
    longest_rest_s: Fraction
    margin_s: Fraction
    sections: tuple[SectionTime, ...]


def measure_work_rest(routine: Routine, sets: Sequence[Performed]) -> WorkRest:
    """The times of the sets, whatever their order."""
    spans = merge_spans((one.start_ms, one.end_ms) for one in sets)
    training = spans[-1][1] - spans[0][0] if spans else 0
    work = sum(end - start for start, end in spans)
    gaps = [later[0] - earlier[1] for earlier, later in pairwise(spans)]
    return WorkRest(
        class_s=Fraction(round(routine.source.duration_s * 1000), 1000),
        training_s=Fraction(training, 1000),
        work_s=Fraction(work, 1000),
        rest_s=Fraction(training - work, 1000),
        density=Fraction(work, training) if training else None,
        longest_rest_s=Fraction(max(gaps, default=0), 1000),
        margin_s=Fraction(median_low([round(one.one.margin_s * 1000) for one in sets] or [0]), 1000),
        sections=tuple(
            _time_section(section.kind, section.start, section.end, [one for one in sets if one.section_at == at])
            for at, section in enumerate(routine.sections)
        ),
    )


def merge_spans(spans: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    """The spans in order of time, those that touch or overlap joined into one."""
    joined: list[tuple[int, int]] = []
    for start, end in sorted(spans):
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        else:
            joined.append((start, end))
    return joined


def find_density(volume: Fraction, minutes: Fraction) -> Fraction:
    """Session density: volume load a minute (BMJ Military Health 2022;168(4):314-319, Table 1).

    Raises:
        ZeroDivisionError: no minutes.
    """
    return volume / minutes


def _time_section(kind: str, start: float, end: float, sets: Sequence[Performed]) -> SectionTime:
    work = sum(b - a for a, b in merge_spans((one.start_ms, one.end_ms) for one in sets))
    seconds = Fraction(round(end * 1000) - round(start * 1000), 1000)
    return SectionTime(kind, seconds, Fraction(work, 1000), len(sets))
