"""The contract of a format, and the shapes that a format module hands on.

How to add a format:

1. Write ``read/NAME.py`` with three things: ``recognise(text) -> bool`` (cheap: look at the beginning only),
   ``read(text) -> Reading``, and ``READER = Reader(NAME, description, recognise, read)``.
2. ``read`` gets the whole file as text: newlines are ``\\n``, NUL is U+FFFD, a byte order mark is gone. It returns the
   cues in the order of the file, with markup taken out but nothing else: repeated rolling lines, speaker marks, sounds,
   overlaps and word times are dealt with afterwards, once for all formats (``compose.py`` lists those steps).
3. Lines of a caption are joined by ``\\n`` in ``RawCue.text``; every offset counts characters of that text.
4. Give each time in integer milliseconds; leave ``end`` as ``None`` where the file has none (it becomes the next
   start). Word times of the file go into ``marks`` (only starts, as in WebVTT) or ``words`` (a recogniser's).
5. What can be put up with becomes a ``Notice`` (codes below); what cannot becomes a ``SetdownError`` with ``line``,
   ``expected`` and ``hint``; the caller adds ``source``. No other exception may leave ``read``, whatever the text is.
6. Every regular expression must be linear on any line: no nested repeats, no two repeats that can share characters.
7. Add the module to ``READERS`` in ``detect.py``, in the place where its ``recognise`` may be asked, and tests
   ``tests/read/test_NAME.py`` with published vectors where there are any. ``FORMATS`` and the fuzz tests follow.

Notice codes: ``no-header``, ``bad-timing``, ``truncated``, ``end-before-start``, ``out-of-order``, ``overlap``,
``encoding``, ``heading``, ``word-times``, ``no-times``, ``not-english``, ``artefacts``.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

from setdown.errors import SetdownError
from setdown.model.transcript import Notice

MAX_BYTES = 256 * 1024 * 1024
"""Hard limit on the size of a file. Larger ones are not transcripts of a class."""

MAX_CUES = 500_000
"""A day of captions has about 40,000."""

MAX_WORDS = 2_000_000
"""At 2.5 words per second about nine days of talking without a pause."""

MAX_CHARACTERS = 20_000_000
"""Of speech: ten for each of ``MAX_WORDS``."""

MAX_LINES = 5_000_000
"""In formats that are read line by line: ten for each of ``MAX_CUES``."""

MAX_MS = 1_000_000 * 3_600_000
"""Times of a million hours and more are not times: a reader drops them as it drops a malformed one."""


class RawWord(NamedTuple):
    """Characters ``[char_start, char_end)`` of ``RawCue.text`` with the times a recogniser gave, ``None`` where not.

    A tuple, because a file has thousands and a tuple is made four times as fast as a frozen dataclass.
    """

    char_start: int
    char_end: int
    start: int | None
    end: int | None
    probability: float | None = None


class RawCue(NamedTuple):
    """One caption as the file has it. ``marks`` are (offset, ms): from that character on, the text is said at ms."""

    start: int
    end: int | None
    text: str
    line: int = 0
    identifier: str = ""
    speaker: str = ""
    marks: tuple[tuple[int, int], ...] = ()
    words: tuple[RawWord, ...] = ()


def refuse_excess(count: int, limit: int, what: str) -> None:
    """Raise a ``SetdownError`` when there are more than ``limit`` of ``what``: better at once than after minutes."""
    if count > limit:
        raise SetdownError(f"more than {limit:,} {what}", expected="the transcript of one class")


@dataclass(frozen=True, slots=True)
class Reading:
    """What a format module makes of a file. ``language`` and ``title`` only when the file itself states them.

    ``rolls`` is true when captions of this format can repeat the line before (those shown on a screen can).
    """

    cues: list[RawCue]
    notices: list[Notice]
    language: str = ""
    title: str = ""
    rolls: bool = False


@dataclass(frozen=True, slots=True)
class Reader:
    """One format: its name, one line about it, a cheap test of a text, and the function that reads it."""

    name: str
    description: str
    recognise: Callable[[str], bool]
    read: Callable[[str], Reading]
