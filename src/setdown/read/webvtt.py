"""WebVTT by the W3C parsing rules ("WebVTT: The Web Video Text Tracks Format", section 6.1 'WebVTT file parsing').

One tolerance beyond the rules: a file without the ``WEBVTT`` line is read all the same, with a Notice.
"""

from __future__ import annotations

import re

from setdown.errors import SetdownError
from setdown.model.transcript import Notice
from setdown.read.base import MAX_CUES, MAX_LINES, MAX_MS, RawCue, Reader, Reading, refuse_excess
from setdown.read.markup import TIMESTAMP, count_ms, split_vtt_text

_SIGNATURE = re.compile(r"WEBVTT(?:[ \t\n]|\Z)")
_TIMINGS = re.compile(rf"[ \t\f]*{TIMESTAMP}[ \t\f]*-->[ \t\f]*{TIMESTAMP}")
_ANY_TIMINGS = re.compile(rf"^[ \t\f]*{TIMESTAMP}[ \t\f]*-->[ \t\f]*{TIMESTAMP}", re.MULTILINE)
_BEGINNING = re.compile(r"[ \t]*[0-9][0-9:.]*[ \t]*-?-?")  # of a timing line, or an identifier that counts
_LANGUAGE = re.compile(r"Language[ \t]*:[ \t]*([A-Za-z]{2,3}(?:-[A-Za-z0-9]{1,8})*)[ \t]*\Z", re.IGNORECASE)


def recognise(text: str) -> bool:
    """The ``WEBVTT`` line, or at least a timing line that is one to the letter."""
    return bool(_SIGNATURE.match(text) or _ANY_TIMINGS.search(text, 0, 65_536))


def read(text: str) -> Reading:
    """Cues, with ``<v>`` voices as speakers and inline timestamps as marks.

    Raises:
        SetdownError: no cue could be read, or there are more than ``MAX_CUES``.
    """
    refuse_excess(text.count("-->"), MAX_CUES, "cues")
    refuse_excess(text.count("\n"), MAX_LINES, "lines")
    lines = text.rstrip("\n").split("\n")
    notices: list[Notice] = []
    language = ""
    at = 0
    if _SIGNATURE.match(text):
        at, language = _skip_header(lines)
    else:
        notices.append(Notice("no-header", "no WEBVTT line at the top: read as WebVTT all the same", 1))
    cues, bad, cut = _collect_blocks(lines, at)
    if bad:
        notices.append(Notice("bad-timing", f"{len(bad)} cue(s) without usable times were left out", bad[0]))
    if cut:
        notices.append(Notice("truncated", "the last cue is cut off", cut))
    if not cues:
        raise SetdownError(
            "no cue has usable times" if bad else "the file has no cues",
            line=bad[0] if bad else None,
            expected="timing lines like 00:01:02.000 --> 00:01:05.500" if bad else "WebVTT cues",
            hint="With a comma in the times it is SubRip: see --format." if bad and "," in lines[bad[0] - 1] else "",
        )
    return Reading(cues, notices, language=language, rolls=True)


def _skip_header(lines: list[str]) -> tuple[int, str]:
    """Index of the first line after the header block, and the language it states."""
    language = ""
    at = 1
    while at < len(lines) and lines[at] and "-->" not in lines[at]:
        if match := _LANGUAGE.match(lines[at]):
            language = match.group(1)
        at += 1
    return at, language


def _collect_blocks(lines: list[str], at: int) -> tuple[list[RawCue], list[int], int]:
    """Cues; 1-based lines of bad timings; line of a last cue that is cut off (0 when it is not).

    'Collect a WebVTT block': a line with ``-->`` as the first or second line of a block makes it a cue; any later one
    starts the next block; a block without one (NOTE, STYLE, REGION, stray text) is passed over.
    """
    cues: list[RawCue] = []
    bad: list[int] = []
    cut = 0
    total = len(lines)
    while at < total:
        line = lines[at]
        if not line:
            at += 1
            continue
        identifier = ""
        if "-->" not in line:
            first = at
            at += 1
            if at < total and "-->" in lines[at]:
                identifier = line
            else:
                at = _find_block_end(lines, at)
                if at == total == first + 1 and _BEGINNING.fullmatch(line):
                    cut = total
                continue
        first = at
        at = _find_block_end(lines, at + 1)
        match = _TIMINGS.match(lines[first])
        if match is None:
            if at == total == first + 1:
                cut = total
            else:
                bad.append(first + 1)
            continue
        h1, m1, s1, f1, h2, m2, s2, f2 = match.groups()
        start, end = count_ms(h1, m1, s1, f1), count_ms(h2, m2, s2, f2)
        if start > MAX_MS or end > MAX_MS:
            bad.append(first + 1)
            continue
        payload = lines[first + 1] if at == first + 2 else "\n".join(lines[first + 1 : at])
        plain, marks, voice = split_vtt_text(payload)
        cues.append(RawCue(start, end, plain, first + 1, identifier, voice, marks))
        if at == total == first + 1:
            cut = total
    return cues, bad, cut


def _find_block_end(lines: list[str], at: int) -> int:
    while at < len(lines) and lines[at] and "-->" not in lines[at]:
        at += 1
    return at


READER = Reader("webvtt", "WebVTT captions (.vtt), also the rolling ones of automatic captioning", recognise, read)
