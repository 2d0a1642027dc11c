"""How well captions can be read: characters a second, length of lines, lines, time on the screen.

The limits are those of common captioning practice: FCC rules ask only that captions be readable and in time (47 CFR
79.1(j)); figures are given by the BBC Subtitle Guidelines (160 to 180 words a minute, at most two lines, about 37 or
fewer characters a line on television and 68 % of the width online) and by broadcasters' and platforms' style guides
(about 17 to 20 characters a second for adults, 42 characters a line, 5/6 s to 7 s on the screen). All from memory of
those guides; they differ, so every limit can be given.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from setdown.model.timecode import format_clock
from setdown.model.transcript import Cue
from setdown.publish.fixed_text import Strings

MIN_S = 0.001


@dataclass(frozen=True, slots=True)
class ReadingLimits:
    """What is still read with ease: characters a second, characters a line, lines, seconds on the screen."""

    characters_s: float = 20.0
    line_characters: int = 42
    lines: int = 2
    shortest_s: float = 5 / 6
    longest_s: float = 7.0


@dataclass(frozen=True, slots=True)
class Reading:
    """One caption: ``faults`` are the limits that it breaks, by name."""

    cue: int
    at: int
    characters_s: float
    longest_line: int
    lines: int
    seconds: float
    faults: tuple[str, ...]


def read_captions(cues: Sequence[Cue], limits: ReadingLimits | None = None) -> list[Reading]:
    """The reading of every caption that has text. Blanks count as characters, line ends do not."""
    limits = limits or ReadingLimits()
    readings = []
    for n, cue in enumerate(cues):
        lines = [line.strip() for line in cue.text.split("\n") if line.strip()]
        if not lines:
            continue
        seconds = max((cue.end - cue.start) / 1000, MIN_S)
        speed, longest = sum(map(len, lines)) / seconds, max(map(len, lines))
        checks = (
            ("speed", speed > limits.characters_s),
            ("line", longest > limits.line_characters),
            ("lines", len(lines) > limits.lines),
            ("short", seconds < limits.shortest_s),
            ("long", seconds > limits.longest_s),
        )
        faults = tuple(name for name, broken in checks if broken)
        readings.append(Reading(n, cue.start, speed, longest, len(lines), seconds, faults))
    return readings


def format_reading(readings: Sequence[Reading], strings: Strings, limits: ReadingLimits | None = None) -> str:
    """The report: how many captions break which limit, the figures over all, and the captions to look at."""
    limits = limits or ReadingLimits()
    speeds = sorted(reading.characters_s for reading in readings)
    lines = [strings.say("reading.heading", n=len(readings)), ""]
    if readings:
        middle, high = speeds[len(speeds) // 2], speeds[min(len(speeds) - 1, len(speeds) * 95 // 100)]
        lines += [strings.say("reading.speeds", middle=f"{middle:.1f}", high=f"{high:.1f}")]
        lines += [strings.say("reading.longest", n=max(reading.longest_line for reading in readings)), ""]
    told = {
        "speed": f"{limits.characters_s:g}",
        "line": str(limits.line_characters),
        "lines": str(limits.lines),
        "short": f"{limits.shortest_s:.2f}",
        "long": f"{limits.longest_s:g}",
    }
    for name, limit in told.items():
        count = sum(name in reading.faults for reading in readings)
        lines.append(strings.say(f"reading.{name}", n=count, limit=limit))
    lines += ["", strings.say("reading.source"), ""]
    for reading in readings:
        if reading.faults:
            faults = strings.join_list([strings.say(f"reading.fault.{name}") for name in reading.faults])
            figures = strings.say(
                "reading.row",
                at=format_clock(reading.at),
                n=reading.cue + 1,
                speed=f"{reading.characters_s:.1f}",
                line=reading.longest_line,
                seconds=f"{reading.seconds:.1f}",
                faults=faults,
            )
            lines.append(figures)
    return "\n".join(lines).rstrip() + "\n"
