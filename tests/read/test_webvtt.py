"""WebVTT by the rules of the W3C, against the vectors of web-platform-tests.

Source of the vectors: web-platform-tests/wpt, ``webvtt/parsing/file-parsing`` and
``cue-text-parsing/dat/entities.dat``; the rules: "WebVTT: The Web Video Text Tracks Format", W3C, 'WebVTT file parsing'
and 'cue text parsing rules'. The titles of the vectors are in the docstrings of the tests. Two were written after their
description, not copied: arrows and newlines.
"""

from __future__ import annotations

import pytest

from read.check_transcript import check_transcript, list_codes, list_starts, list_words
from setdown.errors import SetdownError
from setdown.model.transcript import Transcript
from setdown.read import parse_transcript
from setdown.read.decode import decode_text
from setdown.read.markup import split_vtt_text
from setdown.read.webvtt import read as read_webvtt

TOO_LONG = (
    "00::00:00.000",
    "00:000:00.000",
    "00:00::00.000",
    "00:00:000.000",
    "00:00:00..000",
    "00:00:00.0000",
    "00:00.0000",
    "000:00.000",
    "00::00.000",
    "00:000.000",
    "00:00..000",
)
TOO_SHORT = (
    "0000:00.000",
    "00:0:00.000",
    "00:00:0.000",
    "00:00:00.00",
    "00:00:00.0",
    "00:00:00.",
    "00:00:00",
    "0:00.000",
    "00:00.00",
)


def read_cues(text: str) -> list[tuple[int, int, str]]:
    """(start, end, text) of what the parser keeps, before anything else is done to it."""
    return [(cue.start, cue.end or 0, cue.text) for cue in read_webvtt(text).cues]


def parse(text: str) -> Transcript:
    transcript = parse_transcript(text.encode(), name="class.vtt")
    check_transcript(transcript)
    return transcript


def wrap(timings: list[str]) -> str:
    return "WEBVTT\n\n" + "\n\n".join(f"{line}\ntext{i}" for i, line in enumerate(timings)) + "\n"


@pytest.mark.parametrize("time", [*TOO_LONG, *TOO_SHORT])
@pytest.mark.parametrize("side", ["start", "end"])
def test_times_with_too_many_or_too_few_digits_are_refused(time: str, side: str) -> None:
    """timings-too-long, timings-too-short: such a cue is left out, the others stay."""
    other = "00:00:01.000"
    bad = f"{time} --> {other}" if side == "start" else f"00:00:00.000 --> {time}"
    assert read_cues(wrap([bad, "00:00:00.000 --> 00:00:01.000"])) == [(0, 1000, "text1")]


@pytest.mark.parametrize("end", ["000:01.000", "0:01.000"])
def test_ends_with_a_wrong_number_of_minute_digits_are_refused(end: str) -> None:
    """timings-too-long and -too-short, the ends that only stand there."""
    assert read_cues(wrap([f"00:00:00.000 --> {end}", "00:00.000 --> 00:01.000"])) == [(0, 1000, "text1")]


@pytest.mark.parametrize(
    "line",
    [
        "000:00:00.000 --> 00:00:01.000",
        "00:00:00.000 --> 000:00:01.000",
        "0:00:00.000 --> 00:00:01.000",
        "00:00:00.000 --> 0:00:01.000",
    ],
)
def test_hours_may_have_any_number_of_digits(line: str) -> None:
    """The two good cues of timings-too-long and of timings-too-short."""
    assert read_cues(wrap([line])) == [(0, 1000, "text0")]


def test_hours_may_be_left_out_on_either_side() -> None:
    """timings-omitted-hours: three cues, all from 0 to 1 s."""
    lines = ["00:00.000 --> 00:00:01.000", "00:00:00.000 --> 00:01.000", "00:00.000 --> 00:01.000"]
    assert [cue[:2] for cue in read_cues(wrap(lines))] == [(0, 1000)] * 3


def test_sixty_hours_are_fine_but_not_sixty_minutes_or_seconds() -> None:
    """timings-60: two cues, 0 to 216001 s and 216000 to 216001 s."""
    lines = [
        "00:00:00.000 --> 60:00:01.000",
        "60:00:00.000 --> 60:00:01.000",
        "00:60:00.000 --> 01:00:01.000",
        "00:00:60.000 --> 00:01:01.000",
        "00:00:00.000 --> 00:60:01.000",
        "00:00:00.000 --> 00:00:60.000",
    ]
    assert [cue[:2] for cue in read_cues(wrap(lines))] == [(0, 216_001_000), (216_000_000, 216_001_000)]


def test_cues_that_end_at_or_before_their_start_are_kept() -> None:
    """timings-negative: four cues; in the transcript the end is then the start, with a notice."""
    lines = [
        "00:00:00.000 --> 00:00:00.000",
        "00:00:01.000 --> 00:00:00.999",
        "00:01:00.000 --> 00:00:59.999",
        "01:00:00.000 --> 00:59:59.999",
    ]
    expected = [(0, 0), (1000, 999), (60_000, 59_999), (3_600_000, 3_599_999)]
    assert [cue[:2] for cue in read_cues(wrap(lines))] == expected
    transcript = parse(wrap(lines))
    assert [(cue.start, cue.end) for cue in transcript.cues] == [(start, start) for start, _ in expected]
    notice = transcript.notices[0]
    assert (notice.code, notice.line) == ("end-before-start", 6)


@pytest.mark.parametrize(
    "line",
    ["x00:00:00.000 --> 00:00:01.000", "00:00:00.000x --> 00:00:01.000", "00:00:00.000 --> x00:00:01.000", "-->"],
)
def test_garbage_in_a_timing_line_drops_the_cue(line: str) -> None:
    """timings-garbage: no cue."""
    with pytest.raises(SetdownError) as caught:
        read_cues(wrap([line]))
    assert caught.value.line == 3
    assert "00:01:02.000 --> 00:01:05.500" in caught.value.expected


def test_comma_is_not_a_full_stop() -> None:
    """A comma in the times is refused, and the error says what it may be (W3C WebVTT, timestamps)."""
    with pytest.raises(SetdownError) as caught:
        read_cues(wrap(["00:00:00,000 --> 00:00:01,000"]))
    assert "SubRip" in caught.value.hint


@pytest.mark.parametrize(
    "text", ["WEBVTT\n\n00:00:00.000 -->", "WEBVTT\n\n00:00:00.000 --> 00:00:01", "WEBVTT\n\n00:0"]
)
def test_file_that_ends_in_a_timing_line_has_no_cue(text: str) -> None:
    """timings-eof: no cue."""
    with pytest.raises(SetdownError):
        read_cues(text)


def test_line_with_an_arrow_always_begins_a_block() -> None:
    """arrows: six cues, whatever other arrows stand around them."""
    arrows = ["-->", "foo-->", "-->foo", " -->", "--> ", "00:00:00.000 -->"]
    text = "WEBVTT\n\n" + "\n".join(f"{a}\n00:00:00.000 --> 00:00:01.000\ntext{i}" for i, a in enumerate(arrows))
    assert [cue[2] for cue in read_cues(text)] == [f"text{i}" for i in range(6)]


def test_identifiers_are_kept_to_the_letter() -> None:
    """ids: five, spaces and near-arrows included."""
    ids = [" leading space", "trailing space ", "-- >", "->", " "]
    text = "WEBVTT\n\n" + "\n\n".join(f"{i}\n00:00:00.000 --> 00:00:01.000\ntext" for i in ids)
    assert [cue.identifier for cue in read_webvtt(text).cues] == ids


def test_spaces_tabs_and_form_feeds_may_stand_round_the_times() -> None:
    """whitespace-chars: three cues, leading spaces of the text kept; a vertical tab is no space."""
    lines = [
        "   00:00:00.000   -->   00:00:01.000",
        "\t00:00:00.000\t-->\t00:00:01.000",
        "\f00:00:00.000\f-->\f00:00:01.000",
    ]
    text = wrap([*lines, "00:00:00.000\v-->\v00:00:01.000"]).replace("text1", "   text1")
    assert [cue[2] for cue in read_cues(text)] == ["text0", "   text1", "text2"]


def test_no_space_is_needed_round_the_arrow() -> None:
    """W3C WebVTT, 'collect WebVTT cue timings and settings': white space is skipped, not required."""
    assert read_cues(wrap(["00:00:00.000-->00:00:01.000"])) == [(0, 1000, "text0")]


def test_settings_and_garbage_after_the_times_are_passed_over() -> None:
    """settings-*: unknown settings are ignored, with or without a space before them."""
    lines = ["00:00:00.000 --> 00:00:01.000 align:start position:0% foo", "00:00:00.000 --> 00:00:01.000foo:bar"]
    assert len(read_cues(wrap(lines))) == 2


def test_every_kind_of_newline_ends_a_line() -> None:
    """newlines: CR, LF, CRLF and a mixture; four cues with the ids cr, lf, crlf, lfcr."""
    data = b"WEBVTT\r\r\n"
    for name, newline in (("cr", "\r"), ("lf", "\n"), ("crlf", "\r\n")):
        data += newline.join((name, "00:00:00.000 --> 00:00:01.000", "text", "", "")).encode()
    data += b"lfcr\n00:00:00.000 --> 00:00:01.000\rtext\n\r"
    text, notices = decode_text(data)
    assert [cue.identifier for cue in read_webvtt(text).cues] == ["cr", "lf", "crlf", "lfcr"]
    assert not notices


def test_nul_becomes_the_replacement_character() -> None:
    """nulls: in an id and in text."""
    text, _ = decode_text(b"WEBVTT\n\ni\0d\n00:00:00.000 --> 00:00:01.000\nte\0xt and more of it\n")
    cue = read_webvtt(text).cues[0]
    assert (cue.identifier, cue.text) == ("i\ufffdd", "te\ufffdxt and more of it")


@pytest.mark.parametrize(
    ("source", "plain"),
    [
        ("&", "&"),
        ("&amp;", "&"),
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&lrm;", "\u200e"),
        ("&rlm;", "\u200f"),
        ("&nbsp;", "\u00a0"),
        ("&<c", "&"),
        # entities.dat in its older form keeps these as they are; the Editor's Draft of the W3C reads every HTML
        # character reference, and that is what is done here (HTML rules as in Python's html.unescape).
        ("&amp", "&"),
        ("&AMP;", "&"),
        ("&quot;", '"'),
        ("&copy;", "©"),
        ("&#32;", " "),
        ("&#x20;", " "),
        ("&nosuch;", "&nosuch;"),
    ],
)
def test_character_references(source: str, plain: str) -> None:
    """entities.dat, and the Editor's Draft where the two differ."""
    assert split_vtt_text(source)[0] == plain


@pytest.mark.parametrize(
    ("source", "plain"),
    [
        ("<b>strong</b> and <i>slanted</i>", "strong and slanted"),
        ("<c.yellow.bg_blue>squats</c>", "squats"),
        ("<unknown>squats</unknown>", "squats"),
        ("<ruby>a<rt>b</rt></ruby>", "ab"),
        ("squats <never closed", "squats "),
        ("a > b", "a > b"),
    ],
)
def test_tags_give_no_text(source: str, plain: str) -> None:
    """W3C WebVTT cue text tokenizer: any tag is a token, an unclosed one runs to the end."""
    assert split_vtt_text(source) == (plain, (), "")


@pytest.mark.parametrize(
    ("source", "voice"),
    [
        ("<v Deb>hi", "Deb"),
        ("<v.loud Deb &amp; Gord>hi</v>", "Deb & Gord"),
        ("<v\tDeb>hi", "Deb"),
        ("<v>hi", ""),
        ("<video>hi", ""),
    ],
)
def test_voice_gives_the_speaker(source: str, voice: str) -> None:
    """W3C WebVTT voice spans; ``<v>`` without annotation gives an empty name."""
    assert split_vtt_text(source) == ("hi", (), voice)


def test_header_notes_styles_and_regions_are_not_speech() -> None:
    """Header lines, NOTE, STYLE and REGION blocks give no words; the header's language is read."""
    transcript = parse(
        "WEBVTT - a class\nKind: captions\nLanguage: en-GB\n\nSTYLE\n::cue { color: red }\n\nREGION\nid:fred\n\n"
        "NOTE\nsquats are not said here\n\nNOTE one line\n\n1\n00:01.000 --> 00:03.000\nhello everyone\n\nNOTE end\n"
    )
    assert list_words(transcript) == ["hello", "everyone"]
    assert transcript.language == "en"
    assert transcript.cues[0].identifier == "1"
    assert transcript.cues[0].line == 17
    assert not transcript.notices


def test_voice_becomes_the_speaker_of_the_cue() -> None:
    """``<v Deb>`` sets the speaker without leaving a mark in the text."""
    cue = parse("WEBVTT\n\n00:01.000 --> 00:03.000\n<v Deb>hello everyone\n").cues[0]
    assert (cue.speaker, cue.text, cue.asides) == ("Deb", "hello everyone", ())


def test_inline_timestamps_time_the_words() -> None:
    """Words take the times in front of them, the first one the start of the cue; timing is 'word'."""
    transcript = parse(
        "WEBVTT\n\n00:01.000 --> 00:05.000\nhello<00:02.000> there<00:00:03.500><c> and welcome back</c>\n"
    )
    assert list_starts(transcript)[:3] == [("hello", 1000), ("there", 2000), ("and", 3500)]
    assert (transcript.timing, transcript.resolution) == ("word", 100)
    assert transcript.cues[0].text == "hello there and welcome back"


def test_inline_timestamps_that_run_backwards_or_outside_are_not_believed() -> None:
    """W3C WebVTT: inline timestamps rise within the cue; others count as absent."""
    transcript = parse("WEBVTT\n\n00:01.000 --> 00:05.000\na<00:04.000> b<00:02.000> c<00:09.000> d\n")
    assert list_starts(transcript)[1] == ("b", 4000)
    assert all(4000 <= word.start <= 5000 for word in transcript.words[1:])


def test_missing_header_is_put_up_with() -> None:
    """A file without the WEBVTT line is read, and the user is told."""
    transcript = parse("00:00:01.000 --> 00:00:03.000\nhello everyone\n\n00:00:03.000 --> 00:00:05.000\nlet's go\n")
    assert (transcript.format, list_codes(transcript)) == ("webvtt", ["no-header"])
    assert list_words(transcript) == ["hello", "everyone", "let's", "go"]


@pytest.mark.parametrize("signature", ["WEBVTT", "WEBVTT ", "WEBVTT\tx", "WEBVTT - title", "\ufeffWEBVTT"])
def test_signatures(signature: str) -> None:
    """signature-*, header-*: a space, a tab or the end of the line may follow; a byte order mark may precede."""
    assert not parse(f"{signature}\n\n00:01.000 --> 00:02.000\nhi there\n").notices


@pytest.mark.parametrize("signature", ["WEBVTTx", "webvtt", " WEBVTT", "WEBVT"])
def test_wrong_signatures_are_noticed(signature: str) -> None:
    """By the rules such a file has no cues; they are read here, with a notice."""
    assert list_codes(parse(f"{signature}\n\n00:01.000 --> 00:02.000\nhi there\n")) == ["no-header"]


@pytest.mark.parametrize(
    ("tail", "line"),
    [("00:02.000 --> 00:03.000", 6), ("00:02.000 --> 00:0", 6), ("00:02.000 --", 6), ("00:02.000 -->\n", 6)],
)
def test_cut_off_last_cue_is_noticed(tail: str, line: int) -> None:
    """A file that ends inside a cue keeps the others and says where it was cut."""
    transcript = parse(f"WEBVTT\n\n00:01.000 --> 00:02.000\nhi there\n\n{tail}")
    assert list_words(transcript) == ["hi", "there"]
    assert [(notice.code, notice.line) for notice in transcript.notices] == [("truncated", line)]


def test_bad_times_are_counted_with_the_first_line() -> None:
    """Cues with unusable times are left out, and the notice says how many and where."""
    transcript = parse(wrap(["00:01 --> 00:02", "00:01.000 --> 00:02.000", "00:03 --> 00:04"]))
    notice = transcript.notices[0]
    assert (notice.code, notice.line) == ("bad-timing", 3)
    assert notice.message.startswith("2 cue(s)")
