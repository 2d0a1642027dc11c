"""Links that open a recording at a moment, and what is never linked.

``#t=`` is of the W3C recommendation "Media Fragments URI 1.0 (basic)", 25 September 2012, section 4.2.1 (normal play
time in seconds); ``file:`` addresses are of RFC 8089.
"""

from __future__ import annotations

import pytest

from setdown.catalogue.links import link_media


@pytest.mark.parametrize(
    ("media", "start", "link"),
    [
        ("https://studio.example/a.mp4", 754_000, "https://studio.example/a.mp4#t=754"),
        ("https://studio.example/a.mp4", 754_250, "https://studio.example/a.mp4#t=754.25"),
        ("https://studio.example/a.mp4?x=1&y=2", 0, "https://studio.example/a.mp4?x=1&y=2#t=0"),
        ("https://studio.example/a.mp4#t=3", 10_000, "https://studio.example/a.mp4#t=10"),
        ("https://studio.example/a.mp4#track=2", 10_000, "https://studio.example/a.mp4#track=2&t=10"),
        ("monday.mp4", 60_000, "file:///rec/in/monday.mp4#t=60"),
        ("video/mon day.mp4", 60_000, "file:///rec/in/video/mon%20day.mp4#t=60"),
        ("/elsewhere/ü.mp4", 1, "file:///elsewhere/%C3%BC.mp4#t=0.001"),
        ("C:\\rec\\a.mp4", 1000, "file:///C:/rec/a.mp4#t=1"),
        ("file:///rec/a.mp4", 1000, "file:///rec/a.mp4#t=1"),
    ],
)
def test_links(media, start, link):
    """Addresses of the web and files, relative ones from the folder of the class."""
    assert link_media(media, "/rec/in/monday.vtt", start) == link


@pytest.mark.parametrize(
    "media",
    [
        "",
        "   ",
        "javascript:alert(1)",
        "JavaScript://x/%0aalert(1)",
        "data:text/html,x",
        "vbscript:x",
        "java\nscript:alert(1)",
        "https://[bad/a.mp4",
    ],
)
def test_what_is_not_linked(media):
    """No recording, scripts, data, addresses that are none."""
    assert link_media(media, "/rec/in/monday.vtt", 1000) == ""


def test_recordings_of_another_file_system():
    """Beside captions on the web a relative recording is on the web; in a store that browsers do not open it is not."""
    assert link_media("a.mp4", "https://studio.example/in/a.vtt", 1000) == "https://studio.example/in/a.mp4#t=1"
    assert link_media("a.mp4", "s3://bucket/in/a.vtt", 1000) == ""
