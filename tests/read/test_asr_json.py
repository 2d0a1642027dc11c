"""The JSON of speech recognisers, with the gaps that it has in practice."""

from __future__ import annotations

import json
from typing import Any

import pytest

from read.check_transcript import check_transcript, list_codes, list_starts, list_words
from setdown.errors import SetdownError
from setdown.model.transcript import Transcript
from setdown.read import parse_transcript


def parse(document: Any) -> Transcript:
    transcript = parse_transcript(json.dumps(document).encode(), name="class.words.json")
    check_transcript(transcript)
    return transcript


def make_words(*items: tuple[Any, ...], key: str = "word", space: str = " ") -> list[dict[str, Any]]:
    return [{key: space + text, "start": start, "end": end} for text, start, end in items]


TIMES = (("hello", 1.0, 1.4), ("everyone", 1.5, 2.25), ("let's", 4.0, 4.3), ("go", 4.3, 4.6))
HELLO = make_words(*TIMES)
EXPECTED = [("hello", 1000), ("everyone", 1500), ("let's", 4000), ("go", 4300)]


@pytest.mark.parametrize(
    "document",
    [
        {"segments": [{"start": 1, "end": 5, "text": " hello everyone let's go", "words": HELLO}], "language": "en"},
        [{"start": 1, "end": 5, "text": "hello everyone let's go", "words": HELLO}],
        {"segments": [{"start": "1.0", "end": "5.0", "text": "hello everyone let's go", "words": HELLO}]},
        {"segments": [{"words": HELLO}]},
        {"segments": [{"start": None, "end": None, "text": None, "words": HELLO}]},
        {"words": HELLO},
        HELLO,
        {"text": "hello everyone let's go", "words": HELLO, "segments": []},
        {
            "segments": [{"start": 1, "end": 3, "text": "hello everyone"}, {"start": 4, "end": 5, "text": "let's go"}],
            "words": HELLO,
        },
        {"segments": [{"start": 1, "end": 5, "words": make_words(*TIMES, key="text", space="")}]},
    ],
)
def test_shapes_of_the_same_words(document: Any) -> None:
    """Segments, bare lists, words beside the segments or alone: the words and their times are the same."""
    transcript = parse(document)
    assert list_starts(transcript) == EXPECTED
    assert (transcript.format, transcript.timing, transcript.resolution) == ("asr_json", "word", 100)
    assert not transcript.notices


@pytest.mark.parametrize("key", ["probability", "score", "confidence"])
def test_probabilities(key: str) -> None:
    """Under each of its names; nonsense is none."""
    words = [{"word": "hi", "start": 1, "end": 2, key: 0.25}, {"word": "there", "start": 2, "end": 3, key: 7}]
    assert [word.probability for word in parse([{"start": 1, "end": 3, "text": "hi there", "words": words}]).words] == [
        0.25,
        None,
    ]


def test_segments_without_words_are_spread() -> None:
    """Without word times the words are spread over the segment, and the timing says so."""
    transcript = parse([{"start": 0, "end": 9, "text": "aaaa bbbb"}, {"start": 10, "end": 13, "text": "cc"}])
    assert list_starts(transcript) == [("aaaa", 0), ("bbbb", 5000), ("cc", 10_000)]
    assert (transcript.timing, transcript.resolution) == ("cue", 3000)


def test_words_cut_where_the_speaker_pauses() -> None:
    """Words without segments become cues at pauses of more than a second, and none is longer than six seconds."""
    words = make_words(*((f"w{i}", i * 0.5, i * 0.5 + 0.4) for i in range(20)), ("late", 20, 20.5))
    cues = parse({"words": words}).cues
    assert [cue.text.split()[0] for cue in cues] == ["w0", "w12", "late"]
    assert all(cue.end - cue.start <= 6000 for cue in cues)


def test_missing_and_null_times_are_interpolated() -> None:
    """A word without times lies between its neighbours; a segment without any lies behind the one before."""
    words = [{"word": "a", "start": 1.0, "end": 1.2}, {"word": "b", "start": None, "end": None}, {"word": "c"}]
    words.append({"word": "d", "start": 4.0, "end": 4.4})
    transcript = parse([{"start": 1, "end": 5, "text": "a b c d", "words": words}, {"text": "and rest"}])
    starts = [word.start for word in transcript.words]
    assert starts[0] == 1000
    assert 1200 <= starts[1] < starts[2] < 4000
    assert starts[3] == 4000
    assert transcript.cues[1].start == 5000
    assert list_codes(transcript) == ["no-times"]


def test_words_that_the_list_leaves_out_are_kept() -> None:
    """The segment's text has words that the list has not: they are spoken all the same, between their neighbours."""
    words = make_words(("keep", 1.0, 1.3), ("slow", 3.0, 3.4))
    transcript = parse([{"start": 1, "end": 4, "text": "keep it nice and slow", "words": words}])
    assert list_words(transcript) == ["keep", "it", "nice", "and", "slow"]
    assert dict(list_starts(transcript))["slow"] == 3000
    assert 1300 <= transcript.words[1].start < transcript.words[3].start < 3000


def test_words_that_the_text_leaves_out_are_kept() -> None:
    """The list of words says more than the text: the words are the text."""
    words = make_words(("keep", 1.0, 1.3), ("it", 1.4, 1.5), ("slow", 3.0, 3.4))
    assert parse([{"start": 1, "end": 4, "text": "keep slow", "words": words}]).cues[0].text == "keep it slow"


def test_words_out_of_order() -> None:
    """A list in the wrong order is put in order of time; a time that contradicts the text's order is not believed."""
    shuffled = [HELLO[2], HELLO[0], HELLO[3], HELLO[1]]
    transcript = parse([{"start": 1, "end": 5, "text": "hello everyone let's go", "words": shuffled}])
    assert list_starts(transcript) == EXPECTED
    wrong = make_words(("hello", 1.0, 1.4), ("everyone", 4.5, 4.9), ("let's", 2.0, 2.3), ("go", 4.95, 5.0))
    transcript = parse([{"start": 1, "end": 5, "text": "hello everyone let's go", "words": wrong}])
    assert list_words(transcript) == ["hello", "everyone", "let's", "go"]
    assert list_codes(transcript) == ["word-times"]


def test_times_far_outside_of_the_segment_are_not_believed() -> None:
    """A stray time of hours later moves neither its word nor those behind it."""
    words = make_words(("keep", 1.0, 1.3), ("it", 9999, 9999.5), ("slow", 3.0, 3.4))
    starts = [word.start for word in parse([{"start": 1, "end": 4, "text": "keep it slow", "words": words}]).words]
    assert (starts[0], starts[2]) == (1000, 3000)
    assert 1300 <= starts[1] < 3000


def test_pieces_of_words_are_one_word() -> None:
    """Recognisers that split words write the pieces without a space: one word, with the lowest probability."""
    pieces = [
        {"word": " kettle", "start": 1.0, "end": 1.2, "probability": 0.9},
        {"word": "bell", "start": 1.2, "end": 1.5, "probability": 0.4},
        {"word": " twenty four", "start": 1.6, "end": 2.6, "probability": 0.8},
    ]
    words = parse([{"start": 1, "end": 3, "text": " kettlebell twenty four", "words": pieces}]).words
    assert [(w.text, w.start, w.probability) for w in words[:2]] == [("kettlebell", 1000, 0.4), ("twenty", 1600, 0.8)]
    assert words[0].end == 1500
    assert 1600 < words[2].start < 2600 == words[2].end


def test_overlapping_segments() -> None:
    """Segments that overlap keep every word, in order of time, with a notice."""
    first = make_words(("one", 1.0, 1.4), ("two", 3.0, 3.4), ("three", 5.0, 5.4))
    second = make_words(("over", 2.0, 2.4), ("here", 2.5, 2.9))
    transcript = parse(
        [
            {"start": 1, "end": 6, "text": "one two three", "words": first},
            {"start": 2, "end": 3, "text": "over here", "words": second},
        ]
    )
    assert list_words(transcript) == ["one", "over", "here", "two", "three"]
    assert list_codes(transcript) == ["overlap"]


def test_small_overlap_does_not_shuffle_words() -> None:
    """Segments that overlap by less than a second are jitter: the words stay in the order of the text."""
    transcript = parse(
        [
            {"start": 1, "end": 3, "words": make_words(("and", 1.0, 1.4), ("down", 2.8, 3.0))},
            {"start": 2.5, "end": 4, "words": make_words(("and", 2.5, 2.9), ("up", 3.0, 3.4))},
        ]
    )
    assert list_words(transcript) == ["and", "down", "and", "up"]


def test_speakers_identifiers_language() -> None:
    """Segment's speaker and id are kept; the language may be written out."""
    transcript = parse(
        {"language": "Spanish", "segments": [{"id": 3, "start": 1, "end": 2, "text": "hola", "speaker": "Deb"}]}
    )
    assert (transcript.cues[0].speaker, transcript.cues[0].identifier, transcript.language) == ("Deb", "3", "es")


def test_lone_surrogates_are_replaced() -> None:
    """Half of a surrogate pair cannot be written out again: it becomes U+FFFD."""
    data = rb'[{"start": 1, "end": 2, "text": "hi \ud800 there", "speaker": "\udc00"}]'
    transcript = parse_transcript(data, name="x.json")
    assert transcript.cues[0].text == "hi \ufffd there"
    assert transcript.cues[0].speaker == "\ufffd"


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ('{"segments": [{"start": 1, "end": 2, "text": "hi"', "not JSON"),
        ('{"title": "x"}', "not a transcript"),
        ("[]", "no segments and no words"),
        ('{"segments": []}', "no segments and no words"),
        ('[{"text": "hi there"}]', "has a time"),
        ('[{"start": 1, "end": 2, "text": " "}]', "no segments and no words"),
        ("[" * 100_000, "nested"),
        ('[{"start": ' + "9" * 5000 + ', "text": "hi"}]', "not usable JSON"),
        ('[{"start": NaN, "end": Infinity, "text": "hi"}]', "has a time"),
        ('[{"start": true, "end": 1e400, "text": "hi"}]', "has a time"),
        ('[{"start": ' + "9" * 400 + ', "text": "hi"}]', "has a time"),
        ("[1, 2]", "no segments and no words"),
    ],
)
def test_unusable_json(text: str, problem: str) -> None:
    """Each says what is wrong and what was expected."""
    with pytest.raises(SetdownError, match=problem) as caught:
        parse_transcript(text.encode(), name="x.json", format="asr_json")
    assert caught.value.source == "x.json"
    assert caught.value.expected


def test_line_of_a_mistake() -> None:
    """JSON that breaks off names its line, and the hint asks whether it was cut off."""
    with pytest.raises(SetdownError) as caught:
        parse_transcript(b'[\n {"start": 1,\n  "text": "hi"', name="x.json")
    assert caught.value.line == 3
    assert "cut off" in caught.value.hint
