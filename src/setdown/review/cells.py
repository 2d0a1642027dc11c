"""What a person types into a cell, as a value of the routine; and a value as the text that a cell shows.

A cell that is empty, or holds ``none``, ``-`` or a dash, means that there is no value. Numbers may have a decimal
comma. Every ``parse_`` function raises ``EditRefusedError`` with what was expected.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TypeVar, get_args

from setdown.model.routine import Arrangement, Finisher, Reps, SectionKind, Side
from setdown.review.refused import EditRefusedError
from setdown.sheet import format_number

T = TypeVar("T")
NOTHING = frozenset({"", "none", "-", "–", "—", "n/a"})
NUMBER = r"\d+(?:[.,]\d+)?"
CLOCK = re.compile(r"(?:(\d+):)?(\d+):(\d{1,2}(?:[.,]\d+)?)")
SECONDS = re.compile(rf"({NUMBER})\s*(?:s|sec|secs|second|seconds|″|\")?")
MINUTES = re.compile(rf"({NUMBER})\s*(?:m|min|mins|minute|minutes)(?:\s*(\d{{1,2}})\s*(?:s|sec|secs|seconds)?)?")
REPS = re.compile(r"(\d+)(?:\s*(?:-|–|—|to|bis|/)\s*(\d+))?(?:\s*reps?)?")
DATE = re.compile(r"\d{1,2}[-. /]+[^\W\d_]{3,9}\.?|[^\W\d_]{3,9}\.?[-. /]+\d{1,2}|\d{1,4}[-./]\d{1,2}[-./]\d{1,4}")
MOST = {"max", "amrap", "to failure", "failure", "as many as possible"}
SIDES: dict[str, Side] = {"left": "left", "l": "left", "right": "right", "r": "right", "each": "each"}
SIDES |= {"each side": "each", "per side": "each"}
FINISHERS = {"pulses": "pulses", "pulse": "pulses", "hold": "hold", "holds": "hold", "isometric hold": "hold"}
FINISHERS |= {
    "drop": "drop",
    "drop set": "drop",
    "partials": "partials",
    "partial": "partials",
    "partial reps": "partials",
}
LONGEST_TEXT = 100


def is_nothing(text: str) -> bool:
    """Whether a cell says that there is no value."""
    return text.strip().lower() in NOTHING


def parse_number(text: str, field: str) -> float:
    """``7.5`` or ``7,5``; ``1,000`` could be one or a thousand and is refused."""
    text = text.strip()
    if not re.fullmatch(NUMBER, text) or re.fullmatch(r"[1-9]\d{0,2},\d{3}", text):
        raise EditRefusedError(f"{field} is {text!r}", field=field, value=text, expected="a number such as 7.5 or 7,5")
    return float(text.replace(",", "."))


def parse_seconds(text: str, field: str) -> float:
    """``95``, ``95.5``, ``95,5``, ``1:35``, ``0:01:35``, ``45 s``, ``1 min 30 s`` -> seconds, three decimals."""
    asked = text.strip().lower()
    clock = CLOCK.fullmatch(asked)
    if clock:
        hours, minutes, seconds = int(clock[1] or 0), int(clock[2]), float(clock[3].replace(",", "."))
        if seconds < 60 and (not clock[1] or minutes < 60):
            return round(hours * 3600 + minutes * 60 + seconds, 3)
    elif found := SECONDS.fullmatch(asked):
        return round(parse_number(found[1], field), 3)
    elif found := MINUTES.fullmatch(asked):
        return round(parse_number(found[1], field) * 60 + float(found[2] or 0), 3)
    expected = "seconds (95.5) or a time (1:35)"
    raise EditRefusedError(f"{field} is {text!r}", field=field, value=text, expected=expected)


def parse_reps(text: str) -> Reps | None:
    """``12``, ``8-10`` or ``max``."""
    if is_nothing(text):
        return None
    asked = " ".join(text.lower().split())
    if asked in MOST:
        return Reps(to_failure=True)
    found = REPS.fullmatch(asked)
    if found:
        lo, hi = int(found[1]), int(found[2] or found[1])
        if 1 <= lo <= hi <= 1000:
            return Reps(lo=lo, hi=hi)
    hint = "A spreadsheet seems to have made a date of it: format the column as text" if DATE.fullmatch(asked) else ""
    expected = "a number (12), a range (8-10) or max"
    raise EditRefusedError(f"reps is {text!r}", field="reps", value=text, expected=expected, hint=hint)


def parse_count(text: str, field: str, lowest: int, highest: int) -> int:
    """A whole number within bounds; ``2.0`` is one too, since spreadsheets write that."""
    found = re.fullmatch(r"(\d{1,6})(?:[.,]0+)?", text.strip())
    if not found or not lowest <= int(found[1]) <= highest:
        expected = f"a whole number from {lowest} to {highest}"
        raise EditRefusedError(f"{field} is {text!r}", field=field, value=text, expected=expected)
    return int(found[1])


def parse_side(text: str) -> Side | None:
    """``left``, ``right``, ``each``, or nothing."""
    return None if is_nothing(text) else _choose(text, "side", SIDES, "left, right, each or nothing")


def parse_finisher(text: str, before: Finisher | None) -> Finisher | None:
    """``pulses``, ``hold``, ``drop`` or ``partials``, at the time of the finisher that was there before."""
    if is_nothing(text):
        return None
    kind = _choose(text, "finisher", FINISHERS, "pulses, hold, drop, partials or nothing")
    return Finisher.model_validate((dict(before) if before else {}) | {"kind": kind})


def parse_section(text: str) -> SectionKind:
    kinds = {kind: kind for kind in get_args(SectionKind)}
    return _choose(text, "section", kinds, "intro, warm_up, main, cool_down or outro")


def parse_arrangement(text: str) -> Arrangement:
    kinds = {kind: kind for kind in get_args(Arrangement)}
    return _choose(text, "arrangement", kinds, "straight, superset, circuit, interval or flow")


def parse_text(text: str, field: str) -> str | None:
    """A short line of text, such as a tempo; ``None`` for nothing."""
    line = " ".join(text.split())
    if is_nothing(line):
        return None
    if len(line) > LONGEST_TEXT or not line.isprintable():
        expected = f"one line of at most {LONGEST_TEXT} characters"
        raise EditRefusedError(f"{field} will not do", field=field, value=text, expected=expected)
    return line


def _choose(text: str, field: str, choices: Mapping[str, T], expected: str) -> T:
    asked = " ".join(text.lower().split())
    for form in (asked, asked.replace("-", "_").replace(" ", "_"), asked.replace("-", " ")):
        if form in choices:
            return choices[form]
    raise EditRefusedError(f"{field} is {text!r}", field=field, value=text, expected=expected)


def show_seconds(value: float | None) -> str:
    """Seconds for a cell: ``45``, ``7.5``, empty for ``None``."""
    return format_number(value)
