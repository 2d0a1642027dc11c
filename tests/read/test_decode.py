"""Encodings, newlines, and what is not text."""

from __future__ import annotations

import codecs
import io
import zipfile

import pytest

from read.check_transcript import check_transcript, list_codes, list_words
from setdown.errors import SetdownError
from setdown.read import base, parse_transcript
from setdown.read.decode import decode_text

TEXT = "WEBVTT\n\n00:01.000 --> 00:03.000\ntake the café’s naïve dumbbells\n"


@pytest.mark.parametrize(
    "data",
    [
        TEXT.encode(),
        codecs.BOM_UTF8 + TEXT.encode(),
        codecs.BOM_UTF16_LE + TEXT.encode("utf-16-le"),
        codecs.BOM_UTF16_BE + TEXT.encode("utf-16-be"),
        codecs.BOM_UTF32_LE + TEXT.encode("utf-32-le"),
        codecs.BOM_UTF32_BE + TEXT.encode("utf-32-be"),
        TEXT.replace("\n", "\r\n").encode(),
        TEXT.replace("\n", "\r").encode(),
    ],
)
def test_unicode_with_or_without_byte_order_mark(data: bytes) -> None:
    """UTF-8, UTF-16 and UTF-32 are read, newlines made one, without a notice."""
    assert decode_text(data) == (TEXT, [])


@pytest.mark.parametrize("name", ["utf-16-le", "utf-16-be"])
def test_utf16_without_byte_order_mark(name: str) -> None:
    """It is recognised by where the NULs are, with a notice."""
    text, notices = decode_text(TEXT.encode(name))
    assert text == TEXT
    assert [notice.code for notice in notices] == ["encoding"]


def test_windows_1252_is_the_last_resort() -> None:
    """Old one-byte text is read as Windows-1252, with a notice."""
    text, notices = decode_text(TEXT.encode("cp1252"))
    assert text == TEXT
    assert "Windows-1252" in notices[0].message


def test_utf8_with_bad_bytes_stays_utf8() -> None:
    """A few bad bytes among good ones, or a last character cut in half, do not turn the rest into another encoding."""
    text, notices = decode_text(TEXT.encode().replace(b"dumb", b"d\xffumb"))
    assert text == TEXT.replace("dumb", "d\ufffdumb")
    assert notices[0].code == "encoding"
    text, _ = decode_text(b"WEBVTT\n\n00:01.000 --> 00:02.000\nplain words caf\xc3")
    assert text.endswith("plain words caf\ufffd")


@pytest.mark.parametrize("data", [b"", b" \n\t\r\n ", b"\0\0\0", codecs.BOM_UTF8, b"\n" * 1000])
def test_empty_files(data: bytes) -> None:
    """Empty, or nothing but white space."""
    with pytest.raises(SetdownError) as caught:
        parse_transcript(data, name="class.vtt")
    assert caught.value.source == "class.vtt"
    assert caught.value.expected


def make_zip() -> bytes:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        archive.writestr("class.vtt", TEXT)
    return buffer.getvalue()


@pytest.mark.parametrize(
    ("data", "what"),
    [
        (make_zip(), "zip"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "PNG"),
        (b"\0\0\0\x18ftypmp42\0\0\0\0mp42isom", "MP4"),
        (b"ID3\x03\0\0\0\0\x0f\x76TIT2", "MP3"),
        (b"OggS\0\x02\0\0\0\0\0\0", "Ogg"),
        (b"RIFF\x24\x08\0\0WAVEfmt ", "WAV"),
        (b"\x1aE\xdf\xa3\x01\0\0\0", "Matroska"),
        (b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n", "PDF"),
        (b"\x1f\x8b\x08\0\0\0\0\0", "gzip"),
        (b"\xff\xd8\xff\xe0\0\x10JFIF\0", "JPEG"),
        (bytes(range(256)) * 50, "binary"),
        (b"\x01\x02\x03\x04text" * 100, "binary"),
    ],
)
def test_recordings_and_other_binary_files_are_refused(data: bytes, what: str) -> None:
    """The error says what it is, and what to give instead."""
    with pytest.raises(SetdownError, match=what) as caught:
        parse_transcript(data, name="class.vtt", format="webvtt")
    assert "captions" in caught.value.hint


def test_text_that_begins_like_a_recording_is_text() -> None:
    """'ID3' and 'RIFF' alone do not make a file binary."""
    transcript = parse_transcript(b"ID3 tags off\n[0:10] okay here we go\n", name="x.txt")
    assert list_words(transcript)[:3] == ["ID3", "tags", "off"]


def test_nul_in_text_is_put_up_with() -> None:
    """Single NULs are no reason to refuse a file (W3C WebVTT replaces them)."""
    transcript = parse_transcript(TEXT.replace("take", "t\0ke").encode(), name="x.vtt")
    check_transcript(transcript)
    assert list_words(transcript)[0] == "t\ufffdke"
    assert list_codes(transcript) == []


def test_too_large_is_refused_with_the_limit(monkeypatch: pytest.MonkeyPatch) -> None:
    """The message names the size and the limit, 256 MiB."""
    assert base.MAX_BYTES == 256 * 1024 * 1024
    monkeypatch.setattr("setdown.read.decode.MAX_BYTES", 3 * 1024 * 1024)
    with pytest.raises(SetdownError, match="too large") as caught:
        parse_transcript(b"a" * (4 * 1024 * 1024), name="class.vtt")
    assert "4 MiB" in caught.value.problem
    assert "3 MiB" in caught.value.expected
