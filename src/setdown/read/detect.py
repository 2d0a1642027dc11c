"""Which format is this? Decided by the content; the file's name plays no part."""

from __future__ import annotations

from setdown.errors import SetdownError
from setdown.read import asr_json, bracketed, subrip, ttml, webvtt
from setdown.read.base import Reader

# In the order in which they are asked: SubRip before WebVTT, whose cues without a header can look like SubRip's;
# text blocks last, because a time at the beginning of a line is the weakest sign.
READERS: tuple[Reader, ...] = (ttml.READER, asr_json.READER, subrip.READER, webvtt.READER, bracketed.READER)

_BY_NAME = {reader.name: reader for reader in READERS}

FORMATS: dict[str, str] = {name: _BY_NAME[name].description for name in sorted(_BY_NAME)}
"""Names of the formats, with a line about each."""


def find_reader(text: str) -> Reader | None:
    """The first reader that recognises the text."""
    return next((reader for reader in READERS if reader.recognise(text)), None)


def choose_reader(text: str, format: str | None) -> Reader:
    """The reader for a text: the one asked for, else the one whose format it looks like.

    Raises:
        SetdownError: the format is unknown, the text looks like none, or plainly like another one than asked for.
    """
    if format is not None and format not in _BY_NAME:
        raise SetdownError(f"unknown format {format!r}", expected=f"one of {', '.join(FORMATS)}")
    found = find_reader(text)
    if format is None:
        if found is None:
            raise SetdownError(
                "no format of timed transcript was recognised",
                expected=f"one of {', '.join(FORMATS)}",
                hint="A plain text needs a time at the beginning of each block, like [0:20].",
            )
        return found
    asked = _BY_NAME[format]
    if (
        found is not None
        and found is not asked
        and not asked.recognise(text)
        and {found.name, format} != {"webvtt", "subrip"}
    ):
        raise SetdownError(
            f"the file is not {format}",
            expected=asked.description,
            hint=f"It looks like {found.name}: leave the format out, or ask for that.",
        )
    return asked
