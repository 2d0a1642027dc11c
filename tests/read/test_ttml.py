"""TTML2 and IMSC.

Times: "Timed Text Markup Language 2 (TTML2)", W3C Recommendation 8 November 2018, section 12.3.1 `<time-expression>`.
The values in ``EXPRESSIONS`` were measured with ttconv 1.2.3 and, without frames, with pycaption 2.3.14 as well.
"""

from __future__ import annotations

import pytest

from read.check_transcript import check_transcript, list_codes, list_starts
from setdown.errors import SetdownError
from setdown.model.transcript import Transcript
from setdown.read import parse_transcript
from setdown.read.ttml_time import parse_time, read_clock

NEW = "http://www.w3.org/ns/ttml"


def wrap(body: str, *, space: str = NEW, attributes: str = "", head: str = "") -> str:
    return (
        f'<?xml version="1.0" encoding="UTF-8"?>\n<tt xmlns="{space}" xmlns:ttp="{space}#parameter" '
        f'xmlns:ttm="{space}#metadata" xmlns:tts="{space}#styling" {attributes}>{head}<body>{body}</body></tt>'
    )


def parse(text: str) -> Transcript:
    transcript = parse_transcript(text.encode(), name="class.ttml")
    check_transcript(transcript)
    return transcript


def list_cues(transcript: Transcript) -> list[tuple[int, int, str]]:
    return [(cue.start, cue.end, cue.text) for cue in transcript.cues]


EXPRESSIONS = [
    ("01:02:03.5", 3_723_500),
    ("01:02:03:15", 3_723_500),
    ("75.5s", 75_500),
    ("1.5h", 5_400_000),
    ("90m", 5_400_000),
    ("500ms", 500),
    ("45f", 1500),
]


@pytest.mark.parametrize(("text", "ms"), EXPRESSIONS)
def test_time_expressions(text: str, ms: int) -> None:
    """Clock times, frames and offsets at the default rate of 30 frames per second."""
    assert parse_time(text, read_clock({})) == ms


@pytest.mark.parametrize("text", ["2", "", "1:2:3", "00:60:00", "00:00:61", "5x", "-1s", "1e3s", "00:00:00:00:00", "s"])
def test_what_is_no_time_expression(text: str) -> None:
    """A number without a metric is an error (TTML2; ttconv agrees), and so is all that the grammar does not have."""
    assert parse_time(text, read_clock({})) is None


def test_rates_of_the_file() -> None:
    """Frame rate, its multiplier, sub-frames and ticks (TTML2 section 7.2; the values are computed)."""
    clock = read_clock({"frameRate": "24", "frameRateMultiplier": "1000 1001", "subFrameRate": "2", "tickRate": "1000"})
    assert parse_time("240f", clock) == 10_010
    assert parse_time("00:00:00:12.1", clock) == 521
    assert parse_time("1500t", clock) == 1500
    assert parse_time("50t", read_clock({"frameRate": "25", "subFrameRate": "2"})) == 1000
    assert parse_time("3t", read_clock({})) == 3000
    assert read_clock({"frameRate": "0", "tickRate": "x", "frameRateMultiplier": "1 0"}) == read_clock({})


@pytest.mark.parametrize(
    "space",
    [NEW, "http://www.w3.org/2006/10/ttaf1", "http://www.w3.org/2006/04/ttaf1", "http://example.org/unknown"],
)
def test_namespaces_old_and_new(space: str) -> None:
    """The namespace's year does not matter."""
    body = '<div><p begin="1s" end="2.5s">hello<br/>everyone</p><p begin="3s" dur="1s">let\'s go</p></div>'
    assert list_cues(parse(wrap(body, space=space))) == [(1000, 2500, "hello everyone"), (3000, 4000, "let's go")]


def test_prefixed_and_bare_elements() -> None:
    """A prefix on the elements, or no namespace at all."""
    expected = [(1000, 2000, "hello everyone")]
    prefixed = f'<tt:tt xmlns:tt="{NEW}"><tt:body><tt:p begin="1s" end="2s">hello everyone</tt:p></tt:body></tt:tt>'
    assert list_cues(parse(prefixed)) == expected
    assert list_cues(parse('<tt><body><p begin="1s" end="2s">hello everyone</p></body></tt>')) == expected


def test_times_add_up_through_the_elements() -> None:
    """In the default ``par`` container begin, end and dur count from the parent's begin, and its end limits them."""
    body = (
        '<div begin="10s"><p begin="1s" end="2s">one two</p><p begin="3s" dur="60s">three four</p></div>'
        '<div begin="100s" end="103s"><div begin="1s"><p>five six</p><p begin="1s" end="9s">seven eight</p></div></div>'
    )
    assert list_cues(parse(wrap(body))) == [
        (11_000, 12_000, "one two"),
        (13_000, 73_000, "three four"),
        (101_000, 103_000, "five six"),
        (102_000, 103_000, "seven eight"),
    ]


def test_children_of_a_sequence_follow_each_other() -> None:
    """``timeContainer="seq"``: each child begins where the one before has ended."""
    body = (
        '<div timeContainer="seq" begin="10s"><p dur="2s">one two</p><p dur="3s">three four</p>'
        '<p begin="1s" dur="1s">five six</p></div>'
    )
    assert [cue[:2] for cue in list_cues(parse(wrap(body)))] == [(10_000, 12_000), (12_000, 15_000), (16_000, 17_000)]


def test_sequence_of_groups() -> None:
    """A group in a sequence lasts as long as its children when it has no end of its own."""
    body = '<div><p begin="1s" end="4s">one two</p></div><div><p begin="1s" end="2s">three four</p></div>'
    text = wrap(body).replace("<body>", '<body timeContainer="seq">')
    assert [cue[:2] for cue in list_cues(parse(text))] == [(1000, 4000), (5000, 6000)]


def test_timed_spans_in_a_timed_caption_are_word_times() -> None:
    """Spans that come up one after the other inside a caption time its words."""
    spans = '<span>hello</span> <span begin="1s">there</span> <span begin="2.5s">everyone</span>'
    body = f'<p begin="10s" end="14s">{spans}</p>'
    transcript = parse(wrap(body))
    assert [cue[2] for cue in list_cues(transcript)] == ["hello there everyone"]
    assert list_starts(transcript) == [("hello", 10_000), ("there", 11_000), ("everyone", 12_500)]
    assert transcript.timing == "word"


def test_timed_spans_of_an_untimed_paragraph_are_captions() -> None:
    """A paragraph that only holds timed spans of several words is several captions."""
    body = '<p><span begin="1s" end="2s">hello everyone</span> <span begin="3s" end="4s">let us go</span></p>'
    assert list_cues(parse(wrap(body))) == [(1000, 2000, "hello everyone"), (3000, 4000, "let us go")]


def test_nested_spans_without_times_are_only_style() -> None:
    """Styling spans leave one caption with its text in order."""
    body = '<p begin="1s" end="2s">a <span tts:color="red">b <span>c</span></span> d</p>'
    assert list_cues(parse(wrap(body))) == [(1000, 2000, "a b c d")]


def test_spaces_and_comments() -> None:
    """Runs of white space are one space unless the file preserves them; comments give nothing."""
    body = '<p begin="1s" end="2s">\n   hello <!-- quietly -->\n   everyone\n  <br/>\n  let\'s go </p>'
    assert parse(wrap(body)).cues[0].text.split() == ["hello", "everyone", "let's", "go"]
    assert "  " not in parse(wrap(body.replace("<br/>", ""))).cues[0].text
    kept = parse(wrap('<p xml:space="preserve" begin="1s" end="2s">a  b</p>')).cues[0].text
    assert kept == "a  b"


def test_metadata_and_ruby_are_not_speech() -> None:
    """Titles and descriptions inside captions give no words; the head's title names the class."""
    head = "<head><metadata><ttm:title>Evening pairs</ttm:title><ttm:desc>captions</ttm:desc></metadata></head>"
    body = (
        '<p begin="1s" end="2s"><metadata><ttm:desc>no</ttm:desc></metadata>hi there<span tts:ruby="text">x</span></p>'
    )
    transcript = parse(wrap(body, head=head))
    assert list_cues(transcript) == [(1000, 2000, "hi there")]
    assert transcript.info.title == "Evening pairs"


def test_agents_are_speakers() -> None:
    """``ttm:agent`` points at a person in the head."""
    head = '<head><metadata><ttm:agent xml:id="a1" type="person"><ttm:name>Deb</ttm:name></ttm:agent></metadata></head>'
    transcript = parse(wrap('<p ttm:agent="a1" begin="1s" end="2s" xml:id="c7">hi there</p>', head=head))
    assert (transcript.cues[0].speaker, transcript.cues[0].identifier) == ("Deb", "c7")


def test_language_of_the_file() -> None:
    """``xml:lang`` is the declared language."""
    body = '<p begin="1s" end="2s">hola a todos</p>'
    transcript = parse(wrap(body, attributes='xml:lang="es-MX"'))
    assert transcript.language == "es"
    assert list_codes(transcript) == ["not-english"]


def test_captions_with_bad_times_are_left_out() -> None:
    """A time that cannot be read costs its caption, and the notice says where; with none left it is an error."""
    body = (
        '<p begin="2" end="3s">no</p>\n<p begin="4s" end="5s">yes please</p>\n<div begin="x"><p begin="1s">no</p></div>'
    )
    transcript = parse(wrap(body))
    assert list_cues(transcript) == [(4000, 5000, "yes please")]
    assert [(n.code, n.line) for n in transcript.notices] == [("bad-timing", 2)]
    with pytest.raises(SetdownError) as caught:
        parse(wrap('<p begin="2">no</p>'))
    assert caught.value.line == 2


def test_missing_end_is_the_next_start() -> None:
    """A caption without end and dur stays until the next one."""
    body = '<p begin="1s">hello everyone</p><p begin="4s">let us go</p>'
    assert [cue[:2] for cue in list_cues(parse(wrap(body)))] == [(1000, 4000), (4000, 5200)]


@pytest.mark.parametrize(
    "declaration",
    [
        '<!DOCTYPE tt [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]>',
        '<!DOCTYPE tt [<!ENTITY x SYSTEM "file:///etc/passwd">]>',
        '<!DOCTYPE tt [<!ENTITY % x SYSTEM "http://192.0.2.1/x">%x;]>',
    ],
)
def test_entities_are_refused(declaration: str) -> None:
    """Entity bombs and external entities end in an error, whether used or not."""
    with pytest.raises(SetdownError, match="entities"):
        parse(f'{declaration}<tt><body><p begin="1s" end="2s">hi there</p></body></tt>')


def test_plain_doctype_is_no_harm() -> None:
    """A document type without entities is passed over."""
    assert parse('<!DOCTYPE tt><tt><body><p begin="1s" end="2s">hi there</p></body></tt>').words


@pytest.mark.parametrize("element", ["div", "span", "metadata"])
def test_deep_nesting_is_refused(element: str) -> None:
    """A hundred thousand nested elements are an error with a line, not a crash."""
    with pytest.raises(SetdownError, match="nested") as caught:
        parse("<tt><body>\n" + f"<{element}>" * 100_000)
    assert caught.value.line == 2


@pytest.mark.parametrize(
    "text",
    [
        '<tt><body><p begin="1s" end="2s">hi there</p>',
        '<tt><body><p begin="1s" end="2s">hi &nbsp; there</p></body></tt>',
        "<tt><body></body></tt>",
        "<tt/>",
        '<tt><body><p begin="1s" end="2s"> </p></body></tt>',
        '<?xml version="1.0" encoding="nonsense"?><tt><body></tt>',
    ],
)
def test_unusable_files(text: str) -> None:
    """Not well-formed, or without text: an error that says what was expected."""
    with pytest.raises(SetdownError) as caught:
        parse(text)
    assert caught.value.expected


def test_other_xml_is_not_ttml() -> None:
    """The root must be ``tt``."""
    with pytest.raises(SetdownError, match="root element is 'html'"):
        parse_transcript(b"<html><p>1:20 hi</p></html>", name="x.ttml", format="ttml")
