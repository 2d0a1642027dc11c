"""The recording is sent in parts, so that a player can jump (RFC 9110, section 14)."""

from __future__ import annotations

import math
import struct
import wave
from pathlib import Path

import httpx
import pytest

from setdown.errors import SetdownError
from setdown.page.media import find_recording

DATA = bytes(range(256)) * 40


@pytest.fixture
def recording(serve, sample, tmp_path):
    """The address of a recording of 10,240 known bytes."""
    file = tmp_path / "a class & more.mp4"
    file.write_bytes(DATA)
    return serve(sample("quayside-strength"), "--media", str(file)).url + "media"


@pytest.mark.parametrize(
    ("asked", "first", "last"),
    [
        ("bytes=0-99", 0, 99),
        ("bytes=5000-", 5000, 10239),
        ("bytes=-10", 10230, 10239),
        ("bytes=10000-99999", 10000, 10239),
    ],
)
def test_a_part_is_sent(recording, asked, first, last):
    """206 Partial Content with the bytes that were asked for, and where they belong (RFC 9110, 14.4 and 15.3.7)."""
    answer = httpx.get(recording, headers={"range": asked})
    assert answer.status_code == 206
    assert answer.headers["content-range"] == f"bytes {first}-{last}/{len(DATA)}"
    assert answer.content == DATA[first : last + 1]


def test_the_whole_is_sent_too(recording):
    """Without a range everything, and that ranges are understood (RFC 9110, 14.3)."""
    answer = httpx.get(recording)
    assert (answer.status_code, answer.content) == (200, DATA)
    assert answer.headers["accept-ranges"] == "bytes"
    assert answer.headers["content-type"] == "video/mp4"
    head = httpx.head(recording)
    assert (head.status_code, head.headers["content-length"], head.content) == (200, str(len(DATA)), b"")


def test_a_part_beyond_the_end_is_refused(recording):
    """416 with the length there is (RFC 9110, 15.5.17)."""
    answer = httpx.get(recording, headers={"range": "bytes=99999-"})
    assert answer.status_code == 416
    assert answer.headers["content-range"] == f"bytes */{len(DATA)}"


def test_without_a_recording_there_is_none(serve, sample):
    """No address that could be used to read other files."""
    run = serve(sample("quayside-strength"))
    assert httpx.get(run.url + "media").status_code == 404


@pytest.mark.parametrize(
    ("name", "element"), [("a.mp4", "video"), ("A.WEBM", "video"), ("a.m4a", "audio"), ("a.opus", "audio")]
)
def test_the_kind_is_known_by_the_name(tmp_path, name, element):
    """Whatever table of types the system has."""
    (tmp_path / name).write_bytes(b"x")
    assert find_recording(str(tmp_path / name)).element == element


@pytest.mark.parametrize("name", ["a.txt", "a", "a.html", "missing.mp4"])
def test_what_is_no_recording_is_refused(tmp_path, name):
    """Before the page is served, with the name."""
    if not name.startswith("missing"):
        (tmp_path / name).write_bytes(b"x")
    with pytest.raises(SetdownError) as refusal:
        find_recording(str(tmp_path / name))
    assert refusal.value.source == str(tmp_path / name)


@pytest.mark.slow
def test_it_plays_from_two_seconds_before(serve, sample, open_page, tmp_path):
    """Play on a set, or a click on a caption, jumps the recording to two seconds before it."""
    tone = tmp_path / "tone.wav"
    write_tone(tone, 450)
    page = open_page(serve(sample("quayside-strength"), "--media", str(tone)).url)
    page.wait_for_function("() => document.getElementById('media').readyState >= 1")
    page.locator(".bar-set").nth(2).click()  # the row at 2:50.7
    page.locator('[data-act="play"]').click()
    page.wait_for_function(
        "() => { const t = document.getElementById('media').currentTime; return t >= 168.6 && t < 172; }"
    )
    assert page.locator("#line-now").count() == 1
    page.locator(".cue button", has_text="1:10").click()
    page.wait_for_function(
        "() => { const t = document.getElementById('media').currentTime; return t >= 68.5 && t < 72; }"
    )


def write_tone(path: Path, seconds: int) -> None:
    """A quiet tone, eight thousand samples a second."""
    with wave.open(str(path), "wb") as sound:
        sound.setnchannels(1)
        sound.setsampwidth(2)
        sound.setframerate(8000)
        one = b"".join(struct.pack("<h", int(900 * math.sin(n / 8000 * 2 * math.pi * 220))) for n in range(8000))
        sound.writeframes(one * seconds)
