"""Time under tension, by what it rests on.

Tempo digits are seconds: lowering, pause, lifting, and a last pause when there are four (Wilk, Zajac, Tufano, Sports
Medicine 2021;51:1629-1650; three numbers as in BMJ Military Health 2022;168(4):314-319, Table 1: '3-1-1' is 5 s a
repetition). ``X`` is 'as fast as possible', taken as 0 to 1 s (common practice, no source). Without a tempo, a stated
hold or timed set counts its seconds; otherwise only the length of the set on the recording is known, which is longer
than the work in it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from setdown.measure.between import Between, add_all
from setdown.measure.performed import EASING_PATTERNS, Performed

TEMPO = re.compile(r"[0-9xX](?:[-/ ][0-9xX]){2,3}|[0-9xX]{3,4}")


@dataclass(frozen=True, slots=True)
class Tension:
    """Seconds under tension, in three parts that do not overlap; stretches, poses and mobility are left out.

    ``by_tempo_s`` is known from tempo and repetitions, ``by_time_s`` was said in seconds, ``at_most_s`` is the length
    on the recording of all other sets.
    """

    by_tempo_s: Between
    by_time_s: Fraction
    at_most_s: Fraction
    sets_by_tempo: int
    sets_by_time: int
    sets_by_span: int


def parse_tempo(tempo: str) -> Between | None:
    """Seconds for one repetition: ``3-1-1`` is 5, ``2/0/X/0`` is 2 to 3. None when not all phases are given."""
    text = tempo.strip()
    if not TEMPO.fullmatch(text):
        return None
    digits = re.findall(r"[0-9xX]", text)
    fast = sum(digit in "xX" for digit in digits)
    known = sum(int(digit) for digit in digits if digit not in "xX")
    return Between(Fraction(known), Fraction(known + fast))


def measure_tension(sets: Sequence[Performed]) -> Tension:
    """Time under tension of the sets of work."""
    tempo: list[Between] = []
    stated: list[Fraction] = []
    spans: list[Fraction] = []
    for one in sets:
        if one.pattern in EASING_PATTERNS:
            continue
        each = parse_tempo(one.one.tempo or "")
        if each is not None and one.reps is not None:
            tempo.append(Between(each.lo * one.reps.lo, each.hi * one.reps.hi))
        elif one.one.work_s is not None:
            stated.append(Fraction(round(one.one.work_s * 1000), 1000))
        else:
            spans.append(Fraction(one.end_ms - one.start_ms, 1000))
    return Tension(
        by_tempo_s=add_all(tempo),
        by_time_s=sum(stated, Fraction(0)),
        at_most_s=sum(spans, Fraction(0)),
        sets_by_tempo=len(tempo),
        sets_by_time=len(stated),
        sets_by_span=len(spans),
    )
