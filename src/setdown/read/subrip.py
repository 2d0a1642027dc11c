"""SubRip (.srt), read tolerantly: there is no standard, and files are often written by hand or converted.

Put up with: counters missing or wrong, ``.`` for ``,``, fractions of one to three digits (``,5`` is half a second),
hours missing, no space round the arrow, blank lines missing between cues or standing inside them, coordinates after the
times, HTML-like tags and ``{\\an8}``.
"""

from __future__ import annotations

import re
from itertools import pairwise

from setdown.errors import SetdownError
from setdown.model.transcript import Notice
from setdown.read.base import MAX_CUES, MAX_LINES, MAX_MS, RawCue, Reader, Reading, refuse_excess
from setdown.read.markup import split_srt_text

_TIME = r"(?:([0-9]{1,9}):)?([0-9]{1,2}):([0-9]{1,2})(?:[.,]([0-9]{1,9}))?"
_TIMINGS = re.compile(rf"[ \t]*{_TIME}[ \t]*-->[ \t]*{_TIME}(?![0-9:])")
_COUNTER = re.compile(r"[ \t]*([0-9]{1,9})[ \t]*")
_RECOGNISE = re.compile(
    rf"^(?:[ \t]*[0-9]{{1,9}}[ \t]*\n[ \t]*{_TIME}[ \t]*-->"
    r"|[ \t]*(?:[0-9]{1,9}:)?[0-9]{1,2}:[0-9]{1,2},[0-9]{1,3}[ \t]*-->)",
    re.MULTILINE,
)
_BEGINNING = re.compile(r"[ \t]*+[0-9][0-9:.,]*+[ \t]*+(?:-{1,2}>?[ \t]*+[0-9:.,]*+)?")


def recognise(text: str) -> bool:
    """Timing lines with a comma or below a counter, in a file that does not say it is WebVTT."""
    return not text.startswith("WEBVTT") and bool(_RECOGNISE.search(text, 0, 65_536))


def read(text: str) -> Reading:
    """Cues; inline timestamps that a conversion from WebVTT left in are kept as marks.

    Raises:
        SetdownError: no cue could be read, or there are more than ``MAX_CUES``.
    """
    refuse_excess(text.count("-->"), MAX_CUES, "cues")
    refuse_excess(text.count("\n"), MAX_LINES, "lines")
    if text.startswith("WEBVTT"):
        raise SetdownError("the first line says that this is WebVTT", line=1, expected="SubRip cues")
    lines = text.split("\n")
    arrows = [i for i, line in enumerate(lines) if "-->" in line]
    cues: list[RawCue] = []
    bad: list[int] = []
    counted = bool(arrows) and arrows[0] > 0 and _COUNTER.fullmatch(lines[arrows[0] - 1]) is not None
    last_counter = 0
    starts: list[tuple[int, str, int]] = []  # (first line of the block, its counter, line of its times)
    for at in arrows:
        counter = _COUNTER.fullmatch(lines[at - 1]) if counted and at else None
        if counter and (at < 2 or not lines[at - 2].strip() or int(counter[1]) == last_counter + 1):
            last_counter = int(counter[1])
            starts.append((at - 1, counter[1], at))
        else:
            last_counter += 1
            starts.append((at, "", at))
    starts.append((len(lines), "", len(lines)))
    cut = 0
    for (_, counter_text, at), (following, _, _) in pairwise(starts):
        payload = "\n".join(lines[at + 1 : following])
        match = _TIMINGS.match(lines[at])
        times = _read_times(match) if match else None
        last = following == len(lines)
        if times is None:
            if last and not payload.strip():
                cut = at + 1
            else:
                bad.append(at + 1)
            continue
        payload, rest = _split_beginning(payload, last_counter + 1) if last else (payload, "")
        plain, marks, voice = split_srt_text(payload.rstrip())
        cues.append(RawCue(*times, plain, at + 1, counter_text, voice, marks))
        if last and (rest or not payload.strip()):
            cut = len(lines) if rest else at + 1
    notices: list[Notice] = []
    if bad:
        notices.append(Notice("bad-timing", f"{len(bad)} cue(s) without usable times were left out", bad[0]))
    if cut:
        notices.append(Notice("truncated", "the last cue is cut off", cut))
    if not cues:
        raise SetdownError(
            "no cue has usable times" if bad or cut else "the file has no cues",
            line=bad[0] if bad else None,
            expected="timing lines like 00:01:02,000 --> 00:01:05,500",
        )
    return Reading(cues, notices, rolls=True)


def _read_times(match: re.Match[str]) -> tuple[int, int] | None:
    h1, m1, s1, f1, h2, m2, s2, f2 = match.groups()
    if int(m1) > 59 or int(s1) > 59 or int(m2) > 59 or int(s2) > 59:
        return None
    start, end = _count_ms(h1, m1, s1, f1), _count_ms(h2, m2, s2, f2)
    return (start, end) if start <= MAX_MS and end <= MAX_MS else None


def _count_ms(hours: str | None, minutes: str, seconds: str, fraction: str | None) -> int:
    ms = int((fraction or "0").ljust(3, "0")[:3])  # a decimal fraction: ',5' is 500 ms
    return (int(hours or 0) * 3600 + int(minutes) * 60 + int(seconds)) * 1000 + ms


def _split_beginning(payload: str, next_counter: int) -> tuple[str, str]:
    """Take the beginning of a cut-off next cue (a counter or half a timing line after a blank line) off the text."""
    body, gap, tail = payload.rstrip().rpartition("\n\n")
    is_counter = tail.strip() == str(next_counter)
    if gap and body.strip() and (is_counter or ":" in tail) and all(map(_BEGINNING.fullmatch, tail.split("\n"))):
        return body, tail
    return payload, ""


READER = Reader("subrip", "SubRip captions (.srt)", recognise, read)
