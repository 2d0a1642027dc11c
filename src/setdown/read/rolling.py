"""Rolling captions: take out the lines that a caption repeats from the one before.

Automatic captioning shows two lines: the one just finished, as plain text, and below it the new one, often with a time
in front of each word; between two such cues stands a short 'hold' cue with the finished line alone. A repeated line is
a carry-over only by its place: the top line or lines of a cue that are the bottom lines of the cue before, in a file
that rolls as a whole. The same words said again stand below the carried line, or in a file that does not roll: kept.
"""

from __future__ import annotations

from dataclasses import dataclass

from setdown.read.base import RawCue

MAX_LINES = 4  # on a screen at a time; more lines are compared no further
ADJACENT_MS = 500  # the longest gap within one run of rolling captions
SHORT_MS = 1000  # hold cues last from 10 ms (WebVTT of automatic captioning) to 400 ms (its SubRip conversions)


@dataclass(frozen=True, slots=True)
class _Shown:
    """What a cue shows: lines that are not blank, where they begin, and how many at the top may be carried over."""

    lines: list[str]
    begins: list[int]
    carriable: int


def unroll_captions(cues: list[RawCue]) -> list[RawCue]:
    """The cues (in order of time, ends known) with only their new text; unchanged when the file does not roll."""
    if len(cues) < 3 or not any("\n" in cue.text for cue in cues):
        return cues
    shown = [_split_lines(cue) for cue in cues]
    marked = sum(1 for cue in cues if cue.marks) * 3 >= len(cues)
    if not _rolls(cues, shown, marked):
        return cues
    out: list[RawCue] = []
    before: list[str] = []
    before_end = 0
    for cue, here in zip(cues, shown, strict=True):
        carried = _count_carried(before, here, marked and not cue.marks)
        if carried == len(here.lines) and cue.start - before_end > ADJACENT_MS:
            carried = 0  # nothing new, but not a hold: said again after a pause
        before, before_end = here.lines, _end(cue)
        if carried == 0:
            out.append(cue)
        elif carried < len(here.lines):
            out.append(_cut(cue, here.begins[carried]))
    return out


def _split_lines(cue: RawCue) -> _Shown:
    if "\n" not in cue.text:
        line = " ".join(cue.text.split())
        return _Shown([line] if line else [], [0], 0 if cue.marks or not line else 1)
    lines: list[str] = []
    begins: list[int] = []
    at = 0
    fresh = False  # a blank top line: the screen was empty, nothing is carried over
    for index, raw in enumerate(cue.text.split("\n")):
        line = " ".join(raw.split())
        if line:
            lines.append(line)
            begins.append(at)
        elif index == 0:
            fresh = True
        at += len(raw) + 1
    carriable = 0
    if not fresh:
        # a line with a time inside is being said now; the bottom line can only be carried when nothing is
        first_mark = cue.marks[0][0] if cue.marks else at
        ends = [*begins[1:], at]
        carriable = sum(1 for end in ends if end <= first_mark)
    return _Shown(lines, begins, carriable)


def _rolls(cues: list[RawCue], shown: list[_Shown], marked: bool) -> bool:
    """Whether at least half of the cues show the line before them, and some of them with a new line below it."""
    rolled = held = 0
    short = False
    for i in range(1, len(cues)):
        before = cues[i - 1]
        if cues[i].start - _end(before) > ADJACENT_MS:
            continue
        carried = _count_carried(shown[i - 1].lines, shown[i], False)
        if carried and carried < len(shown[i].lines):
            rolled += 1
            short = short or _end(before) - before.start <= SHORT_MS
        elif carried:
            held += 1
    enough = marked or short or rolled + held >= 3
    return rolled > 0 and enough and (rolled + held) * 2 >= len(cues) - 1


def _count_carried(before: list[str], here: _Shown, never_new: bool) -> int:
    """How many top lines of a cue are the bottom lines of the cue before.

    A cue is taken to bring a new line if it can; only in files where new lines have inline times (``never_new``) is one
    without them, of more than one word, known to bring none.
    """
    lines = here.lines
    most = min(len(before), len(lines), here.carriable, MAX_LINES)
    if not most:
        return 0
    if most == len(lines):
        if never_new and " " in lines[-1] and before[-most:] == lines:
            return most
        most -= 1
    for count in range(most, 0, -1):
        if before[-count:] == lines[:count]:
            return count
    return len(lines) if here.carriable >= len(lines) and before[-len(lines) :] == lines else 0


def _cut(cue: RawCue, begin: int) -> RawCue:
    marks = tuple((at - begin, ms) for at, ms in cue.marks if at >= begin)
    return cue._replace(text=cue.text[begin:], marks=marks)


def _end(cue: RawCue) -> int:
    return cue.start if cue.end is None else cue.end
