"""The format is found from the content; asking for another one is an error."""

from __future__ import annotations

import pytest

from setdown.errors import SetdownError
from setdown.read import FORMATS, parse_transcript
from setdown.read.detect import READERS, find_reader

SAMPLES = {
    "webvtt": "WEBVTT\n\n1\n00:00:01.000 --> 00:00:03.000\nhello everyone\n",
    "subrip": "1\n00:00:01,000 --> 00:00:03,000\nhello everyone\n",
    "ttml": '<?xml version="1.0"?>\n<!-- c -->\n<tt xmlns="http://www.w3.org/ns/ttml"><body>'
    '<p begin="1s" end="3s">hello everyone</p></body></tt>',
    "asr_json": '[{"start": 1, "end": 3, "text": "hello everyone"}]',
    "bracketed": "[0:01] hello everyone\n",
}


def test_formats_are_the_readers() -> None:
    """``FORMATS`` names every reader, with a line about it."""
    assert set(FORMATS) == {reader.name for reader in READERS} == set(SAMPLES)
    assert all(FORMATS.values())


@pytest.mark.parametrize("name", SAMPLES)
@pytest.mark.parametrize("file", ["class.vtt", "class.srt", "class"])
def test_content_decides_not_the_name(name: str, file: str) -> None:
    """Whatever the file is called."""
    assert parse_transcript(SAMPLES[name].encode(), name=file).format == name


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("\n\n" + SAMPLES["subrip"], "subrip"),
        ("1\n00:00:01.000 --> 00:00:03.000\nhello\n", "subrip"),
        ("00:00:01,5 --> 00:00:03,0\nhello\n", "subrip"),
        ("00:00:01.000 --> 00:00:03.000\nhello\n", "webvtt"),
        ("  \n" + SAMPLES["asr_json"], "asr_json"),
        ('[\n\n {"start": 1}]', "asr_json"),
        ("[00:01.000 --> 00:03.000] hello", "bracketed"),
        ("[Music]\n[0:04] hello", "bracketed"),
        ("# Title\n\nsome words\n\n0:04\nhello", "bracketed"),
        ("<tt:tt xmlns:tt='x'/>", "ttml"),
        ("<html><body>12:30</body></html>", None),
        ("hello everyone", None),
        ("the class is at 12:30", None),
    ],
)
def test_what_is_recognised(text: str, name: str | None) -> None:
    """Near neighbours are told apart, and plain text is nothing."""
    reader = find_reader(text)
    assert (reader.name if reader else None) == name


@pytest.mark.parametrize("asked", SAMPLES)
@pytest.mark.parametrize("given", SAMPLES)
def test_asking_for_a_format(asked: str, given: str) -> None:
    """The right one is used; a wrong one is an error that names the file and what it looks like."""
    if asked == given:
        assert parse_transcript(SAMPLES[given].encode(), name="x", format=asked).format == given
        return
    with pytest.raises(SetdownError) as caught:
        parse_transcript(SAMPLES[given].encode(), name="x", format=asked)
    assert caught.value.source == "x"
    assert caught.value.expected


def test_wrong_format_is_named() -> None:
    """The hint says what the file looks like."""
    with pytest.raises(SetdownError) as caught:
        parse_transcript(SAMPLES["asr_json"].encode(), name="x", format="webvtt")
    assert "asr_json" in caught.value.hint


def test_unknown_format() -> None:
    """The known ones are listed."""
    with pytest.raises(SetdownError, match="unknown format 'vtt'") as caught:
        parse_transcript(SAMPLES["webvtt"].encode(), name="x", format="vtt")
    assert all(name in caught.value.expected for name in FORMATS)
