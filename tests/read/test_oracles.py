"""Agreement with other readers on clean files.

webvtt-py, pysubs2, srt and ttconv each read a clean file right; at the edges they differ from each other and from the
standards, so there the vectors of web-platform-tests decide (``test_webvtt.py``).
"""

from __future__ import annotations

import io
import xml.etree.ElementTree as ElementTree
from html import escape

import pysubs2
import srt
import ttconv.imsc.reader
import ttconv.srt.writer
import webvtt
from hypothesis import given, settings
from hypothesis import strategies as st

from read.check_transcript import check_transcript
from setdown.model.transcript import Transcript
from setdown.read import parse_transcript

Cues = list[tuple[int, int, list[str]]]

WORDS = st.sampled_from(
    ["squat", "press", "row", "and", "down", "up", "it's", "okay", "twelve", "12", "8-10", "café", "go!", "reps,"]
)
# No line is a number alone: pysubs2 1.8 takes one at the end of a caption for the counter of the next.
LINES = st.lists(
    st.lists(WORDS, min_size=1, max_size=6).map(lambda words: " ".join(["so", *words])), min_size=1, max_size=2
)


@st.composite
def draw_cues(draw: st.DrawFn) -> Cues:
    """Captions in order of time without overlap, each different from the one before."""
    cues: Cues = []
    at = 0
    for number, lines in enumerate(draw(st.lists(LINES, min_size=1, max_size=8))):
        start = at + draw(st.integers(0, 5_000_000))
        at = start + draw(st.integers(1, 60_000))
        cues.append((start, at, [f"cue{number} {lines[0]}", *lines[1:]]))
    return cues


def list_cues(transcript: Transcript) -> Cues:
    check_transcript(transcript)
    return [(cue.start, cue.end, [cue.text]) for cue in transcript.cues]


def join_lines(cues: Cues) -> Cues:
    return [(start, end, [" ".join(lines)]) for start, end, lines in cues]


def format_time(ms: int, point: str) -> str:
    return f"{ms // 3_600_000:02}:{ms // 60_000 % 60:02}:{ms // 1000 % 60:02}{point}{ms % 1000:03}"


def write_vtt(cues: Cues) -> str:
    return "WEBVTT\n\n" + "\n".join(
        f"{format_time(a, '.')} --> {format_time(b, '.')}\n" + "\n".join(lines) + "\n" for a, b, lines in cues
    )


def write_srt(cues: Cues) -> str:
    return "\n".join(
        f"{n}\n{format_time(a, ',')} --> {format_time(b, ',')}\n" + "\n".join(lines) + "\n"
        for n, (a, b, lines) in enumerate(cues, 1)
    )


def write_ttml(cues: Cues) -> str:
    captions = "\n".join(
        f'<p begin="{format_time(a, ".")}" end="{format_time(b, ".")}">{"<br/>".join(map(escape, lines))}</p>'
        for a, b, lines in cues
    )
    return f'<tt xmlns="http://www.w3.org/ns/ttml" xml:lang="en"><body><div>{captions}</div></body></tt>'


@settings(deadline=None, max_examples=50)
@given(draw_cues())
def test_webvtt_like_webvtt_py(cues: Cues) -> None:
    """Times and text of a clean WebVTT, as webvtt-py reads them and as they were written."""
    text = write_vtt(cues)
    ours = list_cues(parse_transcript(text.encode(), name="x"))
    theirs = [
        (
            round(c.start_in_seconds * 1000) + int(c.start[-3:]),
            round(c.end_in_seconds * 1000) + int(c.end[-3:]),
            c.lines,
        )
        for c in webvtt.from_string(text)
    ]
    assert ours == join_lines(theirs) == join_lines(cues)


@settings(deadline=None, max_examples=50)
@given(draw_cues())
def test_subrip_like_srt_and_pysubs2(cues: Cues) -> None:
    """Times and text of a clean SubRip file, as srt and pysubs2 read them."""
    text = write_srt(cues)
    ours = list_cues(parse_transcript(text.encode(), name="x"))
    by_srt = [
        (round(c.start.total_seconds() * 1000), round(c.end.total_seconds() * 1000), c.content.split("\n"))
        for c in srt.parse(text)
    ]
    by_pysubs2 = [(c.start, c.end, c.plaintext.split("\n")) for c in pysubs2.SSAFile.from_string(text, format_="srt")]
    assert ours == join_lines(by_srt) == join_lines(by_pysubs2) == join_lines(cues)


def read_with_ttconv(text: str) -> Cues:
    """What ttconv shows and when: its own conversion to SubRip, read by srt."""
    document = ttconv.imsc.reader.to_model(ElementTree.parse(io.StringIO(text)))
    assert document is not None
    converted = ttconv.srt.writer.from_model(document)
    return [
        (round(c.start.total_seconds() * 1000), round(c.end.total_seconds() * 1000), c.content.split("\n"))
        for c in srt.parse(converted)
    ]


@settings(deadline=None, max_examples=30)
@given(draw_cues())
def test_ttml_like_ttconv(cues: Cues) -> None:
    """Times and text of a clean TTML file, as ttconv reads them."""
    text = write_ttml(cues)
    assert (
        list_cues(parse_transcript(text.encode(), name="x")) == join_lines(read_with_ttconv(text)) == join_lines(cues)
    )


def test_nested_ttml_like_ttconv() -> None:
    """Offsets through body, div, p and sequences; frames and ticks.

    The containers have ends because ttconv 1.2.3 takes the end of one that has none from its children without adding
    the container's own begin; what then holds by TTML2 is in ``test_ttml.py``.
    """
    text = """<tt xmlns="http://www.w3.org/ns/ttml" xmlns:ttp="http://www.w3.org/ns/ttml#parameter" xml:lang="en"
        ttp:frameRate="25" ttp:tickRate="1000"><body begin="00:01:00" end="1h"><div begin="10s" end="1h">
        <p begin="50f" end="4500t">one two</p><p begin="5s" dur="2s">three <span>four</span> five</p></div>
        <div begin="30s" end="1h" timeContainer="seq"><p dur="00:00:02:05">six seven</p>
        <p dur="1.5s">eight nine</p></div></body></tt>"""
    ours = list_cues(parse_transcript(text.encode(), name="x"))
    assert ours == join_lines(read_with_ttconv(text))
    assert [cue[:2] for cue in ours] == [(72_000, 74_500), (75_000, 77_000), (90_000, 92_200), (92_200, 93_700)]


@settings(deadline=None, max_examples=50)
@given(draw_cues())
def test_formats_agree_with_each_other(cues: Cues) -> None:
    """The same captions in WebVTT, SubRip, TTML and as text with times give the same words at the same times."""
    blocks = "\n".join(f"[{format_time(a, '.')} - {format_time(b, '.')}] {' '.join(lines)}" for a, b, lines in cues)
    texts = [write_vtt(cues), write_srt(cues), write_ttml(cues), blocks]
    words = [parse_transcript(text.encode(), name="x").words for text in texts]
    assert words[0] == words[1] == words[2] == words[3]
