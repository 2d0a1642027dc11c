"""What is known about a recording besides its captions: from the caller, from a file beside it, from its name.

Beside ``NAME.vtt`` (or ``NAME.rolling.vtt``, ``NAME.words.json`` ...) a file ``NAME.meta.toml`` may hold::

    title = "Evening pairs"
    instructor = "Lorna"
    date = 2024-03-05            # a TOML date or the same as text (ISO 8601, YYYY-MM-DD)
    media = "evening-pairs.mp4"  # path or address of the recording
    tags = ["strength", "dumbbells"]
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import fields, replace
from datetime import date, datetime
from pathlib import Path
from typing import Any

from setdown.errors import SetdownError
from setdown.model.transcript import ClassInfo

KEYS = tuple(field.name for field in fields(ClassInfo))
MAX_SIDECAR_BYTES = 1024 * 1024

_EXTENSIONS = frozenset(("vtt", "srt", "ttml", "dfxp", "xml", "json", "txt", "md", "itt", "text", "markdown"))
# Endings in front of the extension that say how a file was made, not what the class is called.
_MADE = frozenset(
    ("words", "word", "rolling", "auto", "asr", "captions", "caption", "subtitles", "subs", "transcript", "clean")
)
_LANGUAGE = re.compile(r"[a-z]{2}(?:[-_][A-Za-z0-9]{2,8})?")
_AT_LINE = re.compile(r"at line (\d+)")


def strip_endings(name: str) -> str:
    """``evening-pairs.rolling.vtt``, ``evening-pairs.en-GB.srt`` -> ``evening-pairs``."""
    parts = name.split(".")
    if len(parts) > 1 and parts[-1].lower() in _EXTENSIONS and any(parts[:-1]):
        parts.pop()
        while len(parts) > 1 and any(parts[:-1]) and (parts[-1].lower() in _MADE or _LANGUAGE.fullmatch(parts[-1])):
            parts.pop()
    return ".".join(parts)


def make_title(name: str) -> str:
    """A title from a file's name: ``evening-pairs.words.json`` -> ``Evening pairs``; '' for standard input."""
    if name.startswith("<"):
        return ""
    words = re.sub(r"[-_\s]+", " ", strip_endings(Path(name).name)).strip()
    return words[:1].upper() + words[1:]


def read_sidecar(path: Path) -> ClassInfo:
    """What the ``.meta.toml`` file beside a transcript says; an empty ``ClassInfo`` when there is none.

    Raises:
        SetdownError: not TOML, an unknown key, a value of the wrong type; with the line where it is known.
    """
    for stem in dict.fromkeys((path.name.rpartition(".")[0] or path.name, strip_endings(path.name))):
        sidecar = path.with_name(stem + ".meta.toml")
        if sidecar.is_file():
            return _read_sidecar_file(sidecar)
    return ClassInfo()


def merge_info(first: ClassInfo | None, second: ClassInfo) -> ClassInfo:
    """Field by field: the first one's value unless it is empty."""
    if first is None:
        return second
    return replace(second, **{key: value for key in KEYS if (value := getattr(first, key))})


def _read_sidecar_file(path: Path) -> ClassInfo:
    try:
        with path.open("rb") as stream:
            data = stream.read(MAX_SIDECAR_BYTES + 1)
    except OSError as error:
        raise SetdownError(f"cannot be read ({error.strerror})", source=str(path)) from error
    return parse_sidecar(data, str(path))


def parse_sidecar(data: bytes, source: str) -> ClassInfo:
    """What the bytes of a ``.meta.toml`` file say; ``source`` stands in its errors.

    Raises:
        SetdownError: as ``read_sidecar``.
    """
    try:
        if len(data) > MAX_SIDECAR_BYTES:
            raise SetdownError("the file is too large", source=source, expected="a few lines of TOML")
        text = data.decode("utf-8-sig")
        table = tomllib.loads(text)
    except UnicodeDecodeError as error:
        raise SetdownError("the file is not UTF-8", source=source, expected="TOML in UTF-8") from error
    except RecursionError:
        raise SetdownError("nested too deeply", source=source, expected="a few lines of TOML") from None
    except ValueError as error:
        where = _AT_LINE.search(str(error))
        line = int(where[1]) if where else None
        raise SetdownError(
            f"not valid TOML: {error}", source=source, line=line, expected="lines like key = value"
        ) from error
    values: dict[str, Any] = {}
    for key, value in table.items():
        if key not in KEYS:
            raise SetdownError(
                f"unknown key {key!r}",
                source=source,
                line=_find_line(text, key),
                expected=f"one of {', '.join(KEYS)}",
            )
        values[key] = _check_value(key, value, source, text)
    return ClassInfo(**values)


def _check_value(key: str, value: Any, source: str, text: str) -> Any:
    expected = "a text in quotes"
    if key == "tags":
        if isinstance(value, list) and all(isinstance(tag, str) for tag in value):
            return tuple(tag.strip() for tag in value if tag.strip())
        expected = 'a list of texts, like ["strength", "dumbbells"]'
    elif key == "date":
        if isinstance(value, datetime):
            return value.date().isoformat()
        if isinstance(value, date):
            return value.isoformat()
        if isinstance(value, str):
            try:
                return date.fromisoformat(value.strip()).isoformat() if value.strip() else ""
            except ValueError:
                pass
        expected = "a date, like 2024-03-05"
    elif isinstance(value, str):
        return value.strip()
    problem = f"{key!r} has a value that cannot be used"
    raise SetdownError(problem, source=source, line=_find_line(text, key), expected=expected)


def _find_line(text: str, key: str) -> int | None:
    match = re.search(rf"""^[ \t]*\[{{0,2}}[ \t]*["']?{re.escape(key)}\b""", text, re.MULTILINE)
    return text.count("\n", 0, match.start()) + 1 if match else None
