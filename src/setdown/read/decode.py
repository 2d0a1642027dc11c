"""Bytes to text: size, binary files, encodings, newlines."""

from __future__ import annotations

import codecs
import re
from itertools import islice

from setdown.errors import SetdownError
from setdown.model.transcript import Notice
from setdown.read.base import MAX_BYTES

# First bytes of common files that are given by mistake (values: the formats' own specifications).
_MAGIC: tuple[tuple[bytes, str], ...] = (
    (b"PK\x03\x04", "a zip archive or office document"),
    (b"PK\x05\x06", "an empty zip archive"),
    (b"\x89PNG\r\n\x1a\n", "a PNG picture"),
    (b"\xff\xd8\xff", "a JPEG picture"),
    (b"GIF87a", "a GIF picture"),
    (b"GIF89a", "a GIF picture"),
    (b"%PDF-", "a PDF document"),
    (b"ID3", "an MP3 recording"),
    (b"OggS", "an Ogg recording"),
    (b"fLaC", "a FLAC recording"),
    (b"RIFF", "a WAV or AVI recording"),
    (b"\x1aE\xdf\xa3", "a Matroska or WebM recording"),
    (b"\x1f\x8b", "a gzip archive"),
    (b"BZh", "a bzip2 archive"),
    (b"7z\xbc\xaf\x27\x1c", "a 7z archive"),
    (b"\xfd7zXZ\x00", "an xz archive"),
    (b"Rar!\x1a\x07", "a RAR archive"),
    (b"\x7fELF", "a program"),
    (b"SQLite format 3\x00", "an SQLite database"),
    (b"\xd0\xcf\x11\xe0", "an old office document"),
    (b"{\\rtf", "an RTF document"),
)
_TEXT_LIKE_MAGIC = (b"ID3", b"BZh", b"RIFF", b"OggS")  # could start a text; binary only with a control character near

_BOMS: tuple[tuple[bytes, str], ...] = (
    (codecs.BOM_UTF32_LE, "utf-32-le"),  # before UTF-16, whose mark is its prefix
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
_SAMPLE = 65_536
_CONTROLS = bytes(b for b in range(32) if b not in b"\t\n\r\f\x1b")
_NON_ASCII = re.compile("[^\x00-\x7f]")
_SURROGATE = re.compile("[\ud800-\udfff]")


def decode_text(data: bytes) -> tuple[str, list[Notice]]:
    """The file as text with ``\\n`` newlines, without byte order mark, NUL as U+FFFD.

    Tried in order: a byte order mark (UTF-8, UTF-16, UTF-32), UTF-16 without one, UTF-8, UTF-8 with few bad bytes
    (a Notice), and Windows-1252 (a Notice).

    Raises:
        SetdownError: the data are empty, too large, or not text.
    """
    if len(data) > MAX_BYTES:
        raise too_large(len(data))
    if not data.strip(b" \t\r\n\f\x00"):
        raise SetdownError("the file is empty", expected="a timed transcript")
    _refuse_binary(data)
    text, notices = _decode(data)
    if "\r" in text:
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    if "\0" in text:
        text = text.replace("\0", "\ufffd")
    return text, notices


def too_large(size: int) -> SetdownError:
    """The error for a file over ``MAX_BYTES``."""
    return SetdownError(
        f"the file is too large ({size / 1024 / 1024:,.0f} MiB)",
        expected=f"at most {MAX_BYTES // 1024 // 1024} MiB",
        hint="A class of an hour has less than 1 MiB of captions: is this the recording itself?",
    )


def drop_surrogates(text: str) -> str:
    """Halves of surrogate pairs, which JSON can smuggle in, become U+FFFD: they cannot be written out again."""
    return _SURROGATE.sub("\ufffd", text)


def _refuse_binary(data: bytes) -> None:
    head = data[:_SAMPLE]
    for magic, what in _MAGIC:
        if head.startswith(magic) and (magic not in _TEXT_LIKE_MAGIC or _count_controls(head[:64])):
            raise _binary(what)
    if head[4:8] == b"ftyp":
        raise _binary("an MP4 recording")


def _binary(what: str) -> SetdownError:
    return SetdownError(
        f"this is {what}, not text",
        expected="a timed transcript as text",
        hint="Export the captions or run a speech recogniser first, then give its output.",
    )


def _count_controls(data: bytes) -> int:
    return len(data) - len(data.translate(None, _CONTROLS))


def _decode(data: bytes) -> tuple[str, list[Notice]]:
    for bom, name in _BOMS:
        if data.startswith(bom) and not (name == "utf-32-le" and len(data) % 4):
            text = data[len(bom) :].decode(name, "replace")
            if "\ufffd" in text:
                return text, [_bad_bytes(text.count("\ufffd"), name.upper())]
            return text, []
    if name := _guess_utf16(data[:_SAMPLE]):
        return data.decode(name, "replace"), [Notice("encoding", f"no byte order mark: read as {name.upper()}")]
    head = data[:_SAMPLE]
    if _count_controls(head) * 10 > len(head):
        raise _binary("binary data")
    try:
        return data.decode("utf-8"), []
    except UnicodeDecodeError as error:
        return _decode_broken(data, cut_off=error.reason == "unexpected end of data")


def _guess_utf16(head: bytes) -> str:
    """UTF-16 of a mostly Latin text has a NUL in nearly every second place, and hardly any in the others."""
    even, odd = head[0::2].count(0), head[1::2].count(0)
    half = len(head) // 2
    if half >= 4 and odd * 10 >= half * 7 and even * 20 <= half:
        return "utf-16-le"
    if half >= 4 and even * 10 >= half * 7 and odd * 20 <= half:
        return "utf-16-be"
    return ""


def _decode_broken(data: bytes, *, cut_off: bool) -> tuple[str, list[Notice]]:
    """Not valid UTF-8: either UTF-8 with a few bad bytes (cut off, pasted together) or an old one-byte encoding."""
    text = data.decode("utf-8", "replace")
    sample = [match.group() for match in islice(_NON_ASCII.finditer(text), 1000)]
    bad = sample.count("\ufffd")
    if cut_off or bad * 2 <= len(sample):
        return text, [_bad_bytes(text.count("\ufffd"), "UTF-8")]
    head = data[:_SAMPLE]
    if _count_controls(head) * 50 > len(head):
        raise _binary("binary data")
    old = data.decode("cp1252", "replace")
    return old, [Notice("encoding", "the file is not UTF-8: read as Windows-1252; check names with accents")]


def _bad_bytes(count: int, name: str) -> Notice:
    return Notice("encoding", f"{count} place(s) are not valid {name} and were read as U+FFFD")
