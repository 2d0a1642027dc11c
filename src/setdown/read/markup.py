"""Tags, character references and inline timestamps inside captions: WebVTT's, and what SubRip files take over."""

from __future__ import annotations

import html
import re

from setdown.read.base import MAX_MS

# WebVTT 'collect a WebVTT timestamp': hours optional and of any length, the other fields of exactly two, the fraction
# of exactly three digits (W3C WebVTT, 'WebVTT timestamp parsing'). More digits of hours than nine are refused.
TIMESTAMP = r"(?:([0-9]{1,9}):)?([0-5][0-9]):([0-5][0-9])\.([0-9]{3})(?![0-9])"

_TIMESTAMP = re.compile(TIMESTAMP)
_VTT_TAG = re.compile(r"<([^>]*)(?:>|\Z)")
_SRT_TAG = re.compile(r"<(/?[A-Za-z][^<>]*|[0-9][0-9:.,]*)>|\{\\[^{}]*\}")
_VOICE = re.compile(r"v(?:\.[^ \t\n\f]*)?(?:[ \t\n\f]+(.*))?", re.DOTALL)

Marks = tuple[tuple[int, int], ...]


def count_ms(hours: str | None, minutes: str, seconds: str, milliseconds: str) -> int:
    """The four groups of ``TIMESTAMP`` as milliseconds."""
    return (int(hours or 0) * 3600 + int(minutes) * 60 + int(seconds)) * 1000 + int(milliseconds)


def parse_timestamp(text: str) -> int | None:
    """``00:01:02.345`` -> 62345; ``None`` when it is not a WebVTT timestamp."""
    match = _TIMESTAMP.fullmatch(text)
    if match is None:
        return None
    hours, minutes, seconds, milliseconds = match.groups()
    ms = count_ms(hours, minutes, seconds, milliseconds)
    return ms if ms <= MAX_MS else None


def decode_references(text: str) -> str:
    """HTML character references, as the WebVTT tokenizer reads them: all of HTML's, a lone ``&`` stays."""
    if "&" not in text:
        return text
    try:
        return html.unescape(text)
    except ValueError:  # a number of thousands of digits
        return text


def split_vtt_text(text: str) -> tuple[str, Marks, str]:
    """Cue text as (plain text, (offset, ms) of its inline timestamps, name of the first voice)."""
    if "<" not in text:
        return decode_references(text), (), ""
    return _split(_VTT_TAG.split(text))


def split_srt_text(text: str) -> tuple[str, Marks, str]:
    """The same for SubRip: only what looks like a tag is one (``<3`` is text), and ``{\\an8}`` is one too."""
    if "<" not in text and "{" not in text:
        return decode_references(text), (), ""
    return _split([part or "" for part in _SRT_TAG.split(text)])


def _split(parts: list[str]) -> tuple[str, Marks, str]:
    """``parts`` alternate: text, inside of a tag, text, ..."""
    out: list[str] = []
    marks: list[tuple[int, int]] = []
    length = 0
    voice = ""
    in_tag = True
    for part in parts:
        in_tag = not in_tag
        if not in_tag:
            if part:
                plain = decode_references(part) if "&" in part else part
                out.append(plain)
                length += len(plain)
        elif "0" <= part[:1] <= "9":
            ms = parse_timestamp(part.replace(",", "."))
            if ms is not None:
                marks.append((length, ms))
        elif part[:1] == "v" and not voice and (match := _VOICE.fullmatch(part)):
            voice = " ".join(decode_references(match.group(1) or "").split())
    return "".join(out), tuple(marks), voice
