"""TTML time expressions: clock times, frames, ticks and offsets, in milliseconds."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from setdown.read.base import MAX_MS

_CLOCK = re.compile(r"([0-9]{2,9}):([0-5][0-9]):([0-5][0-9]|60)(?:\.([0-9]{1,12})|:([0-9]{2,6})(?:\.([0-9]{1,6}))?)?")
_OFFSET = re.compile(r"([0-9]{1,15}(?:\.[0-9]{1,12})?)(h|ms|m|s|f|t)")
_UNITS = {"h": 3_600_000, "m": 60_000, "s": 1000, "ms": 1}
_COUNT = re.compile(r"[0-9]{1,9}")


@dataclass(frozen=True, slots=True)
class Clock:
    """Rates of a file: frames per second, sub-frames per frame, ticks per second (TTML2 section 7.2 parameters)."""

    frame_rate: Fraction = Fraction(30)
    sub_frame_rate: int = 1
    tick_rate: Fraction = Fraction(1)


def read_clock(values: dict[str, str]) -> Clock:
    """The rates from the attributes of the root, by local name; what is missing or unusable keeps its default.

    Ticks: ``tickRate``, else frame rate times sub-frame rate when a frame rate is stated, else one per second.
    """
    rate = _read_count(values.get("frameRate"))
    frame_rate = Fraction(rate or 30)
    factors = values.get("frameRateMultiplier", "").replace(":", " ").split()
    numbers = [_read_count(factor) for factor in factors]
    if len(numbers) == 2 and numbers[0] and numbers[1]:
        frame_rate *= Fraction(numbers[0], numbers[1])
    sub_frame_rate = _read_count(values.get("subFrameRate")) or 1
    ticks = _read_count(values.get("tickRate"))
    default = frame_rate * sub_frame_rate if rate else Fraction(1)
    return Clock(frame_rate, sub_frame_rate, Fraction(ticks) if ticks else default)


def _read_count(text: str | None) -> int | None:
    return int(text) if text and _COUNT.fullmatch(text) else None


def parse_time(text: str, clock: Clock) -> int | None:
    """``01:02:03.5``, ``01:02:03:15`` (frames), ``75.5s``, ``45f``, ``10t`` ... as ms; ``None`` for anything else."""
    text = text.strip()
    if match := _CLOCK.fullmatch(text):
        hours, minutes, seconds, fraction, frames, sub_frames = match.groups()
        value = Fraction((int(hours) * 60 + int(minutes)) * 60 + int(seconds))
        if fraction:
            value += Fraction(int(fraction), 10 ** len(fraction))
        if frames:
            value += (int(frames) + Fraction(int(sub_frames or 0), clock.sub_frame_rate)) / clock.frame_rate
        value *= 1000
    elif match := _OFFSET.fullmatch(text):
        count, metric = Fraction(match[1]), match[2]
        if metric in _UNITS:
            value = count * _UNITS[metric]
        else:
            value = count * 1000 / (clock.frame_rate if metric == "f" else clock.tick_rate)
    else:
        return None
    ms = round(value)
    return ms if ms <= MAX_MS else None
