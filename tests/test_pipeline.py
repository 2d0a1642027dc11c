"""From a file to a routine: the Python API, the command, and what holds for any transcript."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import setdown
from caption_files import WRITERS
from make_routine import VTT
from setdown.check import check_routine
from setdown.document import format_routine
from setdown.errors import SetdownError
from setdown.lexicon import load_lexicon
from setdown.model.routine import Routine
from setdown.model.transcript import ClassInfo
from setdown.pipeline import NOT_A_CLASS, extract_transcript, is_english
from setdown.read import parse_transcript, read_transcript

SPANISH = (
    "buenos días a todos hoy vamos a entrenar las piernas y los brazos con una pareja de mancuernas en casa diez "
    "repeticiones de sentadillas profundas y luego cambiamos de lado respira hondo y baja despacio otra vez arriba "
    "muy bien descansa un momento y bebe agua ahora la otra pierna vamos ocho más sin parar y terminamos gracias"
)
TALK = """
    goblet squats bent over rows push-ups plank reverse lunges biceps curls deadlift bridge child's pose march
    ten twelve 15 eight to ten reps three rounds two sets thirty seconds forty on twenty off pounds kilos in each hand
    each side left leg right arm other side same again back to the first one and go ready and down and up and rest
    halfway five six seven eight last one two more to failure hold it there pulse pulse drop set half reps
    breathe out chest up if it hurts stop easier option grab your dumbbells mat band today everything is ten
    not a squat like a push-up yesterday next week warm up cool down superset circuit three two one thank you bye 1:30
"""


@pytest.fixture(scope="module")
def sample() -> Path:
    """A short class."""
    return Path(__file__).parent.parent / "samples" / "quayside-strength.vtt"


@pytest.fixture(scope="module")
def routine(sample) -> Routine:
    """Its routine."""
    return setdown.extract(sample)


def test_the_package_offers_two_names():
    """``setdown.extract`` and ``setdown.Routine``, loaded at the first use; no other name."""
    assert setdown.Routine is Routine
    assert callable(setdown.extract)
    with pytest.raises(AttributeError, match="nothing"):
        _ = setdown.nothing


def test_a_path_may_be_text(sample, routine):
    """A string or a Path."""
    assert setdown.extract(str(sample)) == routine


def test_a_class_has_sets(routine):
    """With a title from the file beside it, and the digest of the file."""
    assert len(routine.iter_sets()) > 4
    assert routine.title == "Quayside Strength, Short One"
    assert routine.status == "draft"
    assert len(routine.source.sha256) == 64


def test_what_the_caller_tells_goes_first(sample):
    """Each field of ``info`` that is not empty; the rest comes from the file beside."""
    made = setdown.extract(sample, info=ClassInfo(title="Another title"))
    assert made.title == "Another title"
    assert made.source.instructor == "Oda Fenwright"


def test_a_format_can_be_forced(tmp_path):
    """Found from the content else; a wrong one is an error."""
    file = tmp_path / "class.captions"
    file.write_text(VTT, encoding="utf-8")
    assert setdown.extract(file, format="webvtt").source.format == "webvtt"
    assert setdown.extract(file).source.format == "webvtt"
    with pytest.raises(SetdownError):
        setdown.extract(file, format="asr_json")


def test_words_of_a_coach_are_understood(tmp_path, sample):
    """A move that only this coach has is found with their own lexicon file, and the fingerprint differs."""
    text = sample.read_text(encoding="utf-8").replace("gobble it squats", "harbour heaves")
    assert "harbour heaves" in text
    file, own = tmp_path / "class.vtt", tmp_path / "own.toml"
    file.write_text(text, encoding="utf-8")
    own.write_text('[[movement]]\nname = "harbour heave"\nlike = "goblet squat"\n', encoding="utf-8")
    plain, with_own = setdown.extract(file), setdown.extract(file, lexicon_files=[own])
    assert "harbour-heave" not in {x.exercise.id for _, _, x in plain.iter_sets()}
    assert "harbour-heave" in {x.exercise.id for _, _, x in with_own.iter_sets()}
    assert plain.made_by.lexicon != with_own.made_by.lexicon


@pytest.mark.parametrize("text", ["", "hello", "WEBVTT\n\n"], ids=["empty", "no captions", "header only"])
def test_what_is_no_transcript_is_an_error(tmp_path, text):
    """With the file's name in it."""
    file = tmp_path / "class.vtt"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(SetdownError) as caught:
        setdown.extract(file)
    assert caught.value.source == str(file)
    assert caught.value.expected


def test_a_file_that_is_not_there(tmp_path):
    """The same error, caused by that of the system."""
    with pytest.raises(SetdownError, match="cannot be read") as caught:
        setdown.extract(tmp_path / "class.vtt")
    assert isinstance(caught.value.__cause__, FileNotFoundError)


def test_another_language_gives_no_sets():
    """And a notice that says so; nothing is guessed from words that happen to look English."""
    captions = [(4_000 * i, 4_000 * i + 3_900, line) for i, line in enumerate(SPANISH.split(" y "))]
    transcript = parse_transcript(WRITERS["webvtt"](captions).encode(), name="clase.vtt")
    assert not is_english(transcript)
    made = extract_transcript(transcript, load_lexicon())
    assert made.iter_sets() == []
    assert made.language != "en"
    assert any("English" in notice for notice in made.notices)


def test_talk_about_something_else_gives_no_sets():
    """And a notice that starts with its code."""
    words = (
        "and so the council decided last winter to rebuild the old bridge over the river because the lorries had "
        "become too heavy for it the engineers measured every beam and found that two of the seven piers were cracked "
    )
    captions = [(4_000 * i, 4_000 * i + 3_900, words) for i in range(20)]
    transcript = parse_transcript(WRITERS["webvtt"](captions).encode(), name="bridge.vtt")
    made = extract_transcript(transcript, load_lexicon())
    assert made.iter_sets() == []
    assert NOT_A_CLASS in made.notices
    assert NOT_A_CLASS.startswith("not-a-class: ")


def test_a_class_has_no_such_notice(routine):
    """Only what is no class is said to be none."""
    assert not [n for n in routine.notices if n.startswith("not-a-class")]


def test_the_same_input_gives_the_same_bytes(sample, routine):
    """Twice in one process."""
    assert format_routine(setdown.extract(sample)) == format_routine(routine)


@pytest.mark.parametrize("seed", ["0", "1", "4711"])
def test_other_processes_give_the_same_bytes(sample, routine, seed):
    """Through ``python -m setdown``, whatever the order of Python's sets is in that process."""
    done = subprocess.run(
        [sys.executable, "-m", "setdown", "extract", str(sample)],
        capture_output=True,
        check=True,
        env=os.environ | {"PYTHONHASHSEED": seed},
        encoding="utf-8",
    )
    assert done.stdout == format_routine(routine)


def test_no_socket_is_opened(sample, routine, monkeypatch):
    """Recordings are private: extraction works where opening a connection is impossible."""

    def refuse(*arguments: object, **options: object) -> None:
        raise AssertionError("a socket was opened")

    for name in ("socket", "create_connection", "getaddrinfo", "socketpair"):
        monkeypatch.setattr(socket, name, refuse)
    monkeypatch.setattr("_socket.socket", refuse)
    with pytest.raises(AssertionError):
        socket.create_connection(("localhost", 80))
    assert setdown.extract(sample) == routine


LISTENER = """
import sys
events = []
sys.addaudithook(lambda event, _: events.append(event) if event.startswith(("socket.", "urllib.")) else None)
import setdown
found = len(setdown.extract(sys.argv[1]).iter_sets())
print(found, sorted(set(events) - {"socket.__new__", "socket.bind"}))
import socket
socket.gethostbyname("localhost")
print(events[-1])
"""


def test_nothing_is_fetched_by_a_fresh_process(sample):
    """Neither at import nor at the first use: Python's own audit sees no connection and no name looked up.

    A socket that is made and bound but never connected is the import of a library that asks whether IPv6 is there.
    """
    done = subprocess.run(
        [sys.executable, "-c", LISTENER, str(sample)], capture_output=True, check=True, encoding="utf-8"
    )
    first, last = done.stdout.splitlines()
    found, events = first.split(" ", 1)
    assert int(found) > 4
    assert events == "[]"
    assert last == "socket.gethostbyname"  # the audit would have seen it


PHRASE = st.lists(st.sampled_from(TALK.split()), min_size=1, max_size=12).map(" ".join)
CAPTION = st.tuples(st.integers(0, 40_000), st.integers(0, 45_000), PHRASE)


def place_captions(drawn: list[tuple[int, int, str]]) -> list[tuple[int, int, str]]:
    """Captions after one another, from (pause before, length, text)."""
    now, placed = 0, []
    for pause, length, text in drawn:
        placed.append((now + pause, now + pause + length, text))
        now += pause + length
    return placed


def check_any(text: str, format: str, is_class: bool) -> Routine:
    """Extract what was read, and demand that it is sound; ``is_class`` takes it for a class without asking."""
    transcript = parse_transcript(text.encode(), name="any", format=format)
    with pytest.MonkeyPatch.context() as patch:
        if is_class:
            patch.setattr("setdown.segment.decode.score_gate", lambda *_: 1.0)
        made = extract_transcript(transcript, load_lexicon())
    assert [f for f in check_routine(made, transcript) if f.severity != "note"] == []
    assert Routine.model_validate_json(format_routine(made)) == made
    return made


@pytest.mark.slow
@settings(deadline=None, max_examples=120)
@given(st.lists(CAPTION, min_size=1, max_size=30), st.sampled_from([*WRITERS]))
def test_any_transcript_gives_a_sound_routine(drawn, format):
    """Random talk at random times in every format: the routine fits its schema, its times and its evidence."""
    check_any(WRITERS[format](place_captions(drawn)), format, is_class=True)


@settings(deadline=None, max_examples=25)
@given(st.lists(CAPTION, min_size=1, max_size=30), st.sampled_from([*WRITERS]))
def test_any_transcript_passes_the_gate_or_not(drawn, format):
    """The same with the gate in its place."""
    check_any(WRITERS[format](place_captions(drawn)), format, is_class=False)


@settings(deadline=None, max_examples=60)
@given(st.lists(CAPTION, min_size=2, max_size=12), st.randoms(use_true_random=False))
def test_captions_out_of_order_and_over_each_other(drawn, random):
    """Times that run backwards or overlap, as broken files have them."""
    captions = [(a, a + b, text) for a, b, text in drawn]
    random.shuffle(captions)
    check_any(WRITERS["webvtt"](captions), "webvtt", is_class=True)


@pytest.mark.parametrize("format", [*WRITERS])
def test_random_talk_holds_sets(format):
    """The checks above have something to check: plain talk in any format gives sets."""
    line = "goblet squats ten reps ready and go | five six seven eight last one and rest have a drink of water"
    captions = []
    for n in range(8):
        first, second = line.split(" | ")
        captions += [
            (60_000 * n + 5_000, 60_000 * n + 9_000, first),
            (60_000 * n + 30_000, 60_000 * n + 36_000, second),
        ]
    assert check_any(WRITERS[format](captions), format, is_class=True).iter_sets()


def test_reading_and_extracting_apart_is_the_same(sample, routine):
    """The API is its two halves."""
    assert extract_transcript(read_transcript(sample), load_lexicon()) == routine
