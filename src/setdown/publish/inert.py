"""Text of a transcript made harmless where it is put: HTML, Markdown, WebVTT, SubRip, JSON in a script, file names.

What an instructor said, or what somebody wrote into a caption file, may hold markup, control characters, characters
that turn the reading direction, or a path. Everywhere it must be shown as text and do nothing.
"""

from __future__ import annotations

import json
import re
import unicodedata
from typing import Any

# Controls, and the characters that override or isolate the reading direction (Unicode TR 36, section 3.2.1; UAX 9):
# with them one text can be made to look like another. Unpaired surrogates cannot be written as UTF-8 at all.
_UNSAFE = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u061c\u202a-\u202e\u2066-\u2069\ufeff\ud800-\udfff]")
_BLANKS = re.compile(r"[^\S\u00a0]+")  # a no-break space keeps number and unit together
_MARKDOWN = re.compile(r"([\\`*_\[\]<>|~&$#])")  # what CommonMark and GitHub's tables, strikes and maths read in a line
_LEADING = re.compile(r"^(\d*)([-+=:.)])")  # and what they read at its beginning
_SCHEME = re.compile(r"(?i)\b(https?|ftp|mailto|www)(?=[.:])")
# Names that Windows keeps for devices (Microsoft, "Naming Files, Paths, and Namespaces").
_DEVICES = frozenset(["con", "prn", "aux", "nul", *(f"{d}{n}" for d in ("com", "lpt") for n in range(10))])
_LONGEST_NAME = 80


def clean_line(text: str) -> str:
    """One line of plain text: controls and direction marks out, runs of blanks to one."""
    return _BLANKS.sub(" ", _UNSAFE.sub("", text.replace("\n", " ").replace("\r", " "))).strip()


def escape_markdown(text: str) -> str:
    """The text as CommonMark shows it letter by letter: no link, no HTML, no emphasis, no table cell, no list."""
    text = _MARKDOWN.sub(r"\\\1", clean_line(text))
    # Bare addresses become links where GitHub's extension is on; it knows no escape, so the scheme is taken apart.
    text = _SCHEME.sub(lambda m: m.group()[0] + "\u2060" + m.group()[1:], text).replace("@", "\\@")
    return _LEADING.sub(r"\1\\\2", text)


def escape_vtt(text: str) -> str:
    """A WebVTT cue text span: ``&`` and ``<`` escaped as the standard wants, ``>`` too so that no ``-->`` appears.

    Line ends stay, empty lines go (W3C, "WebVTT", sections 'cue text span' and 'cue payload').
    """
    lines = (_UNSAFE.sub("", line).rstrip() for line in text.replace("\r\n", "\n").replace("\r", "\n").split("\n"))
    kept = "\n".join(line for line in lines if line.strip())
    return kept.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def escape_srt(text: str) -> str:
    """A SubRip caption: no empty line, no arrow; angle brackets become look-alikes because SubRip has no escape."""
    lines = (_UNSAFE.sub("", line).rstrip() for line in text.replace("\r\n", "\n").replace("\r", "\n").split("\n"))
    kept = "\n".join(line for line in lines if line.strip())
    return kept.replace("-->", "→").replace("<", "‹").replace(">", "›").replace("{\\", "{ \\")


def dump_json_line(value: Any) -> str:
    """JSON on one line that is inert in HTML and WebVTT: ``<``, ``>``, ``&`` and line separators are escaped."""
    text = json.dumps(value, ensure_ascii=False)
    return _escape_json(text)


def dump_json_script(value: Any) -> str:
    """JSON, indented, that may stand in a ``<script>`` element: it cannot end the element."""
    return _escape_json(json.dumps(value, ensure_ascii=False, indent=1))


def _escape_json(text: str) -> str:
    for character in "<>&\u2028\u2029":
        text = text.replace(character, f"\\u{ord(character):04x}")
    # A lone surrogate, which JSON may hold, cannot be written as UTF-8.
    return re.sub("[\ud800-\udfff]", lambda m: f"\\u{ord(m.group()):04x}", text)


def make_file_stem(text: str, fallback: str = "class") -> str:
    """A name that is safe on every system: letters, digits and hyphens, no path, no device, at most 80 characters."""
    plain = unicodedata.normalize("NFKD", text)
    plain = "".join(c for c in plain if not unicodedata.combining(c)).lower()
    stem = re.sub(r"[^a-z0-9]+", "-", plain)[:_LONGEST_NAME].strip("-")
    return f"{stem}-class" if stem in _DEVICES else stem or fallback
