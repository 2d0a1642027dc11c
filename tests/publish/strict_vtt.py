"""A strict reader of WebVTT for tests: what an author may write, not what a player puts up with.

Source: W3C, "WebVTT: The Web Video Text Tracks Format", 'WebVTT file structure', 'cue text', 'chapter title text' and
'file using only nested cues' (https://www.w3.org/TR/webvtt1/).
"""

from __future__ import annotations

import re
from dataclasses import dataclass

STAMP = r"(?:(\d{2,}):)?([0-5]\d):([0-5]\d)\.(\d{3})"
TIMINGS = re.compile(rf"{STAMP}[ \t]+-->[ \t]+{STAMP}((?:[ \t]+\S+)*)")
SPAN = re.compile(r"(?:[^&<\n]|&(?:amp|lt|gt|lrm|rlm|nbsp);)*")
VOICE = re.compile(r"<v [^\n\r&>]*(?:&(?:amp|lt|gt);[^\n\r&>]*)*>")


@dataclass(frozen=True)
class StrictCue:
    start: int
    end: int
    identifier: str
    text: str


def read_strictly(data: bytes, kind: str = "captions") -> list[StrictCue]:
    """The cues; an AssertionError says which rule is broken. ``kind``: captions, chapters or metadata."""
    text = data.decode("utf-8")
    assert "\x00" not in text, "NUL"
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    head, _, body = text.partition("\n")
    assert re.fullmatch(r"WEBVTT(?:[ \t][^\n]*)?", head), f"signature: {head!r}"
    assert "-->" not in head
    assert body.startswith("\n") or not body.strip(), "one line terminator only after the signature"
    cues: list[StrictCue] = []
    identifiers: set[str] = set()
    for block in re.split(r"\n{2,}", body.strip("\n")):
        if not block:
            continue
        lines = block.split("\n")
        if lines[0] == "NOTE" or lines[0].startswith(("NOTE ", "NOTE\t")):
            assert "-->" not in block, "arrow in a comment"
            continue
        identifier = ""
        if "-->" not in lines[0]:
            identifier = lines.pop(0)
            assert identifier not in identifiers, f"identifier twice: {identifier!r}"
            identifiers.add(identifier)
        match = TIMINGS.fullmatch(lines[0]) if lines else None
        assert match, f"timings: {lines[:1]!r}"
        start, end = count_ms(match.groups()[:4]), count_ms(match.groups()[4:8])
        assert end > start, "a cue ends after it starts"
        assert not cues or start >= cues[-1].start, "starts do not go back"
        payload = "\n".join(lines[1:])
        assert payload, "no payload"
        assert "-->" not in payload, "arrow in the payload"
        check_payload(payload, kind)
        cues.append(StrictCue(start, end, identifier, payload))
    if kind == "chapters":
        check_nested(cues)
    return cues


def count_ms(parts: tuple[str, ...]) -> int:
    hours, minutes, seconds, ms = (int(part or 0) for part in parts)
    return ((hours * 60 + minutes) * 60 + seconds) * 1000 + ms


def check_payload(payload: str, kind: str) -> None:
    if kind == "metadata":
        return
    if kind == "captions":
        payload = VOICE.sub("", payload, count=1) if payload.startswith("<v ") else payload
    for line in payload.split("\n"):
        assert SPAN.fullmatch(line), f"{kind} text: {line!r}"


def check_nested(cues: list[StrictCue]) -> None:
    """No two cues overlap in part (the specification's own example has disjoint sisters, so those are allowed)."""
    for n, one in enumerate(cues):
        for other in cues[n + 1 :]:
            apart = other.start >= one.end or one.start >= other.end
            inside = one.start <= other.start and other.end <= one.end
            around = other.start <= one.start and one.end <= other.end
            assert apart or inside or around, f"{one} and {other} overlap in part"
