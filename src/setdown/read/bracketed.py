"""Text with a time before each block, as people and players write transcripts down.

Times: ``[0:20]``, ``(12:05)``, ``[00:00:20]``, ``[00:20.5]``, also with an end (``[0:20 - 0:45]``,
``[00:20.000 --> 00:45.000]``); bare ones (``1:02:33 and ...``, ``00:20 - ...``, a line with nothing but ``0:20``) where
a file has no bracketed ones. A block runs to the next time; the end of the last one is estimated (``cue_times.py``).
Text before the first time is kept at 0. Markdown headings are not spoken; the first one, when it stands before the
first time, is the title.
"""

from __future__ import annotations

import re
from itertools import islice

from setdown.errors import SetdownError
from setdown.model.transcript import Notice
from setdown.read.base import MAX_CUES, RawCue, Reader, Reading, refuse_excess

_TIME = r"(?:[0-9]{1,3}:[0-5]?[0-9]:[0-5][0-9]|[0-9]{1,3}:[0-5][0-9])(?:[.,][0-9]{1,3})?"
_RANGE = rf"({_TIME})(?:[ \t]*(?:-->|->|[-–—]|to)[ \t]*({_TIME}))?"
# '[0:20]' may also stand within a line; '(12:05)' and bare times only begin one, because speech can hold them.
# Around '[0:20]' Markdown's signs of lists, quotations and strong text are part of the mark.
_SQUARE = re.compile(
    rf"(?:^[ \t]*(?:[-*+>]|[0-9]{{1,4}}[.)])[ \t]+)?(?:\*\*|__)?\[[ \t]*{_RANGE}[ \t]*\](?:\*\*|__)?", re.MULTILINE
)
_ROUND = re.compile(rf"^[ \t]*\([ \t]*{_RANGE}[ \t]*\)", re.MULTILINE)
_BARE_END = r"(?=:?(?:[ \t\n]|\Z))(?![ \t]*(?:--?>|[ap]\.?m\b))"  # not '6:30 pm', nor a timing line of captions
_BARE = re.compile(rf"^[ \t]*({_TIME})(?:[ \t]*(?:[-–—]|to)[ \t]*({_TIME}))?{_BARE_END}", re.MULTILINE)
_RECOGNISE = re.compile(
    rf"^[ \t]*(?:(?:[-*+>]|[0-9]{{1,4}}[.)])[ \t]+)?(?:(?:\*\*|__)?\[[ \t]*{_RANGE}[ \t]*\]|\([ \t]*{_RANGE}[ \t]*\)"
    rf"|{_TIME}{_BARE_END})",
    re.MULTILINE,
)
_LEAD = re.compile(r"[ \t]*(?:[-–—:|→][ \t]+)?")  # the dash after a time
_HEADING = re.compile(r"^[ ]{0,3}#{1,6}[ \t]+(.*)$", re.MULTILINE)
_UNDERLINED = re.compile(
    r"^[ ]{0,3}(\S.*)\n[ ]{0,3}(?:={3,}|-{3,})[ \t]*$", re.MULTILINE
)  # a heading before the blocks
_SPACES = re.compile(r"\s*")
_RULE = re.compile(r"^[ ]{0,3}(?:-{3,}|={3,}|_{3,}|\*{3,})[ \t]*$", re.MULTILINE)  # between them it only separates


def recognise(text: str) -> bool:
    """A line that begins with a time."""
    return bool(_RECOGNISE.search(text, 0, 65_536))


def read(text: str) -> Reading:
    """One cue per block.

    Raises:
        SetdownError: no line begins with a time, or there are more than ``MAX_CUES`` blocks.
    """
    times = _find_times(text)
    if not times:
        raise SetdownError("no line begins with a time", expected="blocks like '[0:20] and we start with squats'")
    refuse_excess(len(times), MAX_CUES, "blocks")
    title, heading = _find_title(text, times[0].start())
    dropped = dropped_line = 0
    cues: list[RawCue] = []
    line, counted = 1, 0
    for start, end, first, last in [(0, None, heading, times[0].start()), *_list_blocks(text, times)]:
        line += text.count("\n", counted, first)
        counted = first
        block = text[first:last]
        if "#" in block:
            if not dropped and (match := _HEADING.search(block)):
                dropped_line = line + block.count("\n", 0, match.start())
            block, count = _HEADING.subn("", block)
            dropped += count
        block = _RULE.sub("", block)
        body = "\n".join(part for raw in block.split("\n") if (part := raw.strip()))
        if body:
            cues.append(RawCue(start, end, body, line))
    notices: list[Notice] = []
    if dropped:
        notices.append(Notice("heading", f"{dropped} heading(s) between the blocks are not spoken", dropped_line))
    return Reading(cues, notices, title=title)


def _find_title(text: str, before: int) -> tuple[str, int]:
    """The first Markdown heading before the first time, and where the text goes on after it ('' and 0 without one)."""
    found = [match for pattern in (_HEADING, _UNDERLINED) if (match := pattern.search(text, 0, before))]
    if not found:
        return "", 0
    match = min(found, key=lambda m: m.start())
    if text[: match.start()].strip():
        return "", 0
    spaces = _SPACES.match(text, match.end())
    return match[1].strip("#*_ \t"), spaces.end() if spaces else match.end()


def _find_times(text: str) -> list[re.Match[str]]:
    """The marks of the style that begins the most lines; bare times only where they do not run backwards."""
    squares = list(islice(_SQUARE.finditer(text), MAX_CUES + 1))
    rounds = list(islice(_ROUND.finditer(text), MAX_CUES + 1))
    if squares or rounds:
        return squares if len(squares) >= len(rounds) else rounds
    kept: list[re.Match[str]] = []
    last = -1
    for match in islice(_BARE.finditer(text), MAX_CUES + 1):
        ms = _read_ms(match[1])
        if ms >= last:
            kept.append(match)
            last = ms
    return kept


def _list_blocks(text: str, times: list[re.Match[str]]) -> list[tuple[int, int | None, int, int]]:
    """(start, end if known, first character after the time, end of the block) for each time."""
    blocks: list[tuple[int, int | None, int, int]] = []
    for i, match in enumerate(times):
        lead = _LEAD.match(text, match.end())
        first = lead.end() if lead else match.end()
        last = times[i + 1].start() if i + 1 < len(times) else len(text)
        start, end = _read_ms(match[1]), _read_ms(match[2]) if match[2] else None
        if end is None and i + 1 < len(times) and (following := _read_ms(times[i + 1][1])) >= start:
            end = following
        blocks.append((start, end, min(first, last), last))
    return blocks


def _read_ms(text: str) -> int:
    whole, _, fraction = text.replace(",", ".").partition(".")
    seconds = 0
    for part in whole.split(":"):
        seconds = seconds * 60 + int(part)
    return seconds * 1000 + int(fraction.ljust(3, "0") if fraction else 0)


READER = Reader("bracketed", "text blocks that begin with a time, like '[0:20] ...'", recognise, read)
