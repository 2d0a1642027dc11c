"""Whatever is given: a sound Transcript or a SetdownError, in time that grows with the size alone."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from read.check_transcript import check_transcript
from setdown.errors import SetdownError
from setdown.model.transcript import Transcript
from setdown.read import FORMATS, base, parse_transcript

FORMAT = st.sampled_from([None, *FORMATS])

# Pieces that captions are made of, good and bad, to be put together at random.
PIECES = [
    *("WEBVTT", "NOTE ", "STYLE\n", "\n", "\n\n", "\r", "\0", " ", "-->", "1\n", "12", ",5", "é", "\ud800", "\ufeff"),
    *("00:01.000 --> 00:02.000\n", "00:00:01,000 --> 00:00:02,000\n", "00:03.000 --> 00:01.000\n"),
    *("hello", "one more", "one more\n", "<c>", "</c>", "<00:00:01.500>", "<v Deb>", "<", ">", "&", "&amp;", "&#x41;"),
    *("&#99999999999;", ">> ", "DEB: ", "Deb: ", "[Music]", "[", "]", "(laughs)", "(", ")", "♪", "- "),
    *("[0:20] ", "[0:10]", "(1:00) ", "0:30 ", "[0:20 - 0:10] ", "# ", "#", "===", "---"),
    *(
        "{",
        "}",
        '"segments": ',
        '"words": ',
        '"word": "hi"',
        '"start": 1',
        '"end": null',
        '"text": "hi there"',
        ",",
        "null",
    ),
    *("<tt>", "</tt>", "<body>", '<div begin="1s">', '<p begin="1s" end="2s">', "<p>", "</p>", '<span begin="1s">'),
    *("</span>", "<br/>", "<!--", "-->", "<![CDATA[", "]]>", "<!DOCTYPE tt>"),
]


def check(data: bytes, format: str | None) -> Transcript | None:
    try:
        transcript = parse_transcript(data, name="x.vtt", format=format)
    except SetdownError as error:
        assert error.source == "x.vtt"
        assert error.problem
        assert error.line is None or 1 <= error.line <= data.count(b"\n") + data.count(b"\r") + 1
        return None
    check_transcript(transcript)
    return transcript


@settings(deadline=None, max_examples=300)
@given(st.binary(max_size=300), FORMAT)
@example(b"\xff\xfe\0", None)
@example(b"\xff\xfe\0\0a", None)
def test_any_bytes(data: bytes, format: str | None) -> None:
    """Random bytes."""
    check(data, format)


@settings(deadline=None, max_examples=500)
@given(st.lists(st.sampled_from(PIECES), max_size=40).map("".join), FORMAT)
def test_any_pieces(text: str, format: str | None) -> None:
    """Pieces of every format put together at random."""
    check(text.encode("utf-8", "replace"), format)


HEADS = {
    "webvtt": "WEBVTT\n\n00:01.000 --> 00:09.000\n",
    "subrip": "1\n00:00:01,000 --> 00:00:09,000\n",
    "ttml": '<tt><body><p begin="1s" end="9s">',
    "bracketed": "[0:01] ",
}


@settings(deadline=None, max_examples=300)
@given(
    st.text(max_size=80),
    st.lists(st.sampled_from(PIECES), max_size=20).map("".join),
    st.sampled_from([*HEADS]),
)
def test_any_text_in_a_caption(text: str, pieces: str, format: str) -> None:
    """A caption with any text and any markup in it."""
    tail = "</p></body></tt>" if format == "ttml" else ""
    check(f"{HEADS[format]}{pieces}{text}{tail}".encode("utf-8", "replace"), format)


TIMES = st.one_of(st.none(), st.floats(), st.integers(), st.booleans(), st.text(max_size=4), st.floats(0, 60))
TEXTS = st.one_of(st.none(), st.text(max_size=20), st.sampled_from([" one more", "go", " and rest"]), st.integers())
WORD = st.fixed_dictionaries({}, optional={"word": TEXTS, "text": TEXTS, "start": TIMES, "end": TIMES, "score": TIMES})
WORD_LIST = st.one_of(st.none(), st.lists(st.one_of(WORD, st.integers()), max_size=6))
SEGMENT = st.fixed_dictionaries(
    {}, optional={"id": TIMES, "start": TIMES, "end": TIMES, "text": TEXTS, "speaker": TEXTS, "words": WORD_LIST}
)
DOCUMENT = st.one_of(
    st.lists(SEGMENT, max_size=5),
    st.lists(WORD, max_size=8),
    st.fixed_dictionaries(
        {}, optional={"segments": st.lists(SEGMENT, max_size=5), "words": WORD_LIST, "language": TEXTS}
    ),
)


@settings(deadline=None, max_examples=500)
@given(DOCUMENT)
def test_any_recogniser_output(document: Any) -> None:
    """JSON of the right shape with any values."""
    check(json.dumps(document).encode(), "asr_json")


@settings(deadline=None, max_examples=200)
@given(
    st.lists(
        st.tuples(
            st.integers(0, 20_000),
            st.integers(-3000, 8000),
            st.lists(st.sampled_from(["one more", "and rest", "halfway", "go", " "]), min_size=1, max_size=3),
        ),
        min_size=1,
        max_size=12,
    )
)
def test_any_times(cues: list[tuple[int, int, list[str]]]) -> None:
    """Cues in any order, overlapping, repeated, running backwards: sorted, and one-line captions lose no word.

    What is said twice at the same time is set aside, not lost.
    """
    blocks = [
        f"{a // 60_000:02}:{a // 1000 % 60:02}.{a % 1000:03} --> "
        f"{max(a + d, 0) // 60_000:02}:{max(a + d, 0) // 1000 % 60:02}.{max(a + d, 0) % 1000:03}\n" + "\n".join(lines)
        for a, d, lines in cues
    ]
    transcript = check(("WEBVTT\n\n" + "\n\n".join(blocks)).encode(), None)
    if transcript is not None and all(len(lines) == 1 for _, _, lines in cues):
        said = sorted(word for _, _, lines in cues for word in lines[0].split())
        aside = [word for cue in transcript.cues for aside in cue.asides for word in aside.text.split()]
        assert sorted([*(word.text for word in transcript.words), *aside]) == said


LONG = 30_000
ADVERSARIAL = {
    "opened tags": "<" * LONG,
    "opened classes": "<c" * LONG,
    "ampersands": "&a" * LONG,
    "digits of a reference": "&#" + "9" * LONG,
    "brackets": "[a" * LONG,
    "parentheses": "(a" * LONG,
    "notes": "♪a" * LONG,
    "speaker marks": ">> a " * LONG,
    "names": "A: " * LONG,
    "colons": "a:" * LONG,
    "spaces": "a" + " " * LONG + "b:",
    "lines": "a\n" * LONG,
    "dashes": "- a\n" * LONG,
    "timestamps": "<00:00:01.000>" * LONG + " " * LONG + "x",
    "braces": "{\\" * LONG,
    "digits": "1" * LONG + ":",
    "times": "[0:20] " * LONG + "a",
    "half times": "[0:" * LONG,
    "headings": "# \n" * LONG + "a",
    "rules": "-" * LONG + "a",
    "arrows": "-->\n" * LONG,
    "stars": "**" * LONG + "a",
}


@pytest.mark.parametrize("name", ADVERSARIAL)
@pytest.mark.parametrize("format", HEADS)
def test_adversarial_lines(name: str, format: str) -> None:
    """Lines made to be slow are read or refused like others: with quadratic work each would take minutes."""
    check((HEADS[format] + ADVERSARIAL[name]).encode(), format)


@pytest.mark.slow
@pytest.mark.parametrize("format", ["webvtt", "bracketed", "asr_json"])
def test_line_of_a_million_words(format: str) -> None:
    """One caption of a million words is read."""
    speech = "keep going " * 500_000
    text = json.dumps([{"start": 1, "end": 9, "text": speech}]) if format == "asr_json" else HEADS[format] + speech
    transcript = parse_transcript(text.encode(), name="x")
    assert len(transcript.words) == 1_000_000
    assert transcript.words[-1].end <= transcript.cues[0].end


@pytest.mark.parametrize(
    ("text", "limit", "value", "problem"),
    [
        ("WEBVTT\n\n" + "00:01.000 --> 00:02.000\nhi\n\n" * 12, "webvtt.MAX_CUES", 10, "more than 10 cues"),
        ("1\n00:00:01,000 --> 00:00:02,000\nhi\n\n" * 12, "subrip.MAX_CUES", 10, "more than 10 cues"),
        ("WEBVTT\n\nNOTE\n" + "hi\n" * 12, "webvtt.MAX_LINES", 10, "more than 10 lines"),
        ("<tt><body>" + '<p begin="1s">hi</p>' * 12 + "</body></tt>", "ttml.MAX_CUES", 10, "more than 10 captions"),
        ("[0:20] hi\n" * 12, "bracketed.MAX_CUES", 10, "more than 10 blocks"),
        (json.dumps([{"start": 1, "text": "hi"}] * 12), "asr_json.MAX_CUES", 10, "more than 10 segments"),
        ("[0:20] " + "hi " * 12, "compose.MAX_WORDS", 10, "more than 10 words"),
        ("[0:20] " + "hi " * 12, "compose.MAX_CHARACTERS", 10, "more than 10 characters"),
    ],
)
def test_more_than_any_class_holds(
    text: str, limit: str, value: int, problem: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Files within the size limit that hold more than days of speech are refused at once, with the limit."""
    monkeypatch.setattr(f"setdown.read.{limit}", value)
    with pytest.raises(SetdownError, match=problem):
        parse_transcript(text.encode(), name="x")


@pytest.mark.slow
def test_file_of_two_hundred_megabytes() -> None:
    """It is refused with the reason, whatever the format: what is within the limits does not need that much."""
    block = "00:00:01.000 --> 00:00:02.000\nkeep going and one more for me\n\n"
    data = ("WEBVTT\n\n" + block * (200_000_000 // len(block))).encode()
    with pytest.raises(SetdownError, match=f"more than {base.MAX_CUES:,} cues"):
        parse_transcript(data, name="x")


@pytest.mark.parametrize(
    "text", ["WEBVTT", "WEBVTT\n", "WEBVTT\n\nNOTE nothing\n", "1\n", "<tt></tt>", "{}", "# Title\n"]
)
@pytest.mark.parametrize("format", [None, *FORMATS])
def test_header_only(text: str, format: str | None) -> None:
    """Nothing but a header is an error that says what was expected."""
    with pytest.raises(SetdownError) as caught:
        parse_transcript(text.encode(), name="x", format=format)
    assert caught.value.expected
