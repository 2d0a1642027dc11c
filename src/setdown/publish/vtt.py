"""Writing WebVTT and SubRip files.

WebVTT as the standard has it for authors (W3C, "WebVTT: The Web Video Text Tracks Format", 'file structure'): cues in
order of their starts, each ending after it starts, text escaped. SubRip has no standard; it is written as players read
it: a counter from 1, commas before the milliseconds.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from setdown.publish.inert import clean_line, escape_srt, escape_vtt


@dataclass(frozen=True, slots=True)
class TextCue:
    """One cue: times in ms, plain text, who speaks. ``raw`` text is in its final form already."""

    start: int
    end: int
    text: str
    speaker: str = ""
    identifier: str = ""
    raw: bool = False


def format_vtt(cues: Iterable[TextCue], *, kind: str = "", language: str = "", notes: Sequence[str] = ()) -> str:
    """A WebVTT file. A cue of no length is made one millisecond long: the standard allows none."""
    head = "; ".join(f"{key}: {clean_line(value)}" for key, value in (("Kind", kind), ("Language", language)) if value)
    blocks = [f"WEBVTT {head}".rstrip()]  # all of it on one line: the standard has no header lines
    blocks += ["NOTE " + clean_line(note).replace("-->", "->") for note in notes]
    taken: set[str] = set()
    for cue in sort_cues(cues):
        text = cue.text if cue.raw else escape_vtt(cue.text)
        if cue.speaker and not cue.raw:
            text = f"<v {escape_vtt(clean_line(cue.speaker))}>{text}"
        if not text.strip():
            continue
        lines = [f"{format_stamp(cue.start)} --> {format_stamp(max(cue.end, cue.start + 1))}", text]
        name = clean_line(cue.identifier).replace("-->", "->")
        if name and name not in taken:
            taken.add(name)
            lines.insert(0, name)
        blocks.append("\n".join(lines))
    return "\n\n".join(blocks) + "\n"


def format_srt(cues: Iterable[TextCue]) -> str:
    """A SubRip file."""
    blocks: list[str] = []
    for cue in sort_cues(cues):
        text = escape_srt(cue.text)
        if text.strip():
            start, end = format_stamp(cue.start, ","), format_stamp(max(cue.end, cue.start + 1), ",")
            blocks.append(f"{len(blocks) + 1}\n{start} --> {end}\n{text}\n")
    return "\n".join(blocks)


def sort_cues(cues: Iterable[TextCue]) -> list[TextCue]:
    """In order of their starts; of those that start together, the longest first, so that outer chapters come first."""
    return sorted(cues, key=lambda cue: (cue.start, -cue.end))


def format_stamp(ms: int, point: str = ".") -> str:
    """``3723004`` -> ``01:02:03.004``."""
    hours, rest = divmod(max(0, ms), 3_600_000)
    minutes, rest = divmod(rest, 60_000)
    seconds, ms = divmod(rest, 1000)
    return f"{hours:02d}:{minutes:02d}:{seconds:02d}{point}{ms:03d}"
