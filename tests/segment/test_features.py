"""Features of a boundary: names that read like what they see, over the windows that they name."""

from __future__ import annotations

import re

import numpy as np
import pytest

from make_class import make_class
from setdown.model.mention import Mention, TaggedTranscript
from setdown.segment.features import WINDOWS, iter_features, lexical_names, score_lexical
from setdown.segment.signals import Signals, gather_signals
from setdown.segment.weights import index_lexical

NAME = re.compile(
    r"\w+@-?\d+:\d+|gap>[\d.]+|pause (before|after)[123]|silence@-?\d+:\d+>[\d.]+|pace@-?\d+:\d+>[\d.]+"
    r"|after (sentence|comma)|tenth=\d"
)


def look_at(text: str, *mentions: Mention) -> Signals:
    """The signals of a marked text with these mentions only."""
    transcript, _ = make_class(text)
    return gather_signals(TaggedTranscript(transcript, tuple(w.text for w in transcript.words), mentions))


def read_features(signals: Signals) -> dict[str, list[float]]:
    """Every feature as a list over the boundaries."""
    return {name: values.tolist() for name, values in iter_features(signals)}


def test_every_feature_has_a_value_for_every_boundary():
    """Arrays of n + 1 zeros and ones, under names of the documented forms, each once."""
    signals = look_at("and go _8 stop there, now. rest", Mention("go", 1, 2, "go", "go"))
    made = list(iter_features(signals))
    assert len({name for name, _ in made}) == len(made)
    for name, values in made:
        assert NAME.fullmatch(name), name
        assert values.shape == (signals.n + 1,)
        assert set(values.tolist()) <= {0.0, 1.0}, name


def test_a_window_sees_the_words_that_it_names():
    """``go@-3:0`` is set at the three boundaries after the go-word, ``go@0:3`` at the three before it."""
    found = read_features(look_at("a b c go d e f g", Mention("go", 3, 4, "go", "go")))
    assert [i for i, x in enumerate(found["go@-1:0"]) if x] == [4]
    assert [i for i, x in enumerate(found["go@-3:0"]) if x] == [4, 5, 6]
    assert [i for i, x in enumerate(found["go@0:1"]) if x] == [3]
    assert [i for i, x in enumerate(found["go@0:3"]) if x] == [1, 2, 3]
    assert {name for name in found if name.startswith("go@")} == {f"go@{a}:{b}" for a, b in WINDOWS}


@pytest.mark.parametrize(("limit", "here"), [(6.0, True), (8.0, False)])
def test_a_gap_is_at_its_own_boundary(limit, here):
    """``gap>6`` is set where more than six seconds pass without a word."""
    values = read_features(look_at("and go _7 stop there"))[f"gap>{limit}"]
    assert values == [0, 0, float(here), 0, 1]  # after the last word there is nothing but silence


def test_pauses_of_the_neighbours():
    """``pause before1`` is a pause one boundary to the left, ``pause after1`` one to the right."""
    found = read_features(look_at("and go _7 stop there"))
    assert found["pause before1"][3] == 1
    assert found["pause before2"][4] == 1
    assert found["pause after1"][1] == 1
    assert found["pause after2"][0] == 1
    assert sum(found["pause before1"]) == 1


def test_silence_adds_up_around_a_boundary():
    """Two short pauses in the words ahead come to a long silence."""
    found = read_features(look_at("and go _3 five _3 ten and rest there now please"))
    assert found["silence@1:5>4.0"][1] == 1
    assert found["silence@1:5>8.0"][1] == 0
    assert found["silence@-10:0>4.0"][5] == 1


def test_slow_speech_is_relative_to_the_quickest_stretch():
    """Words far apart make a slow pace where they stand, not elsewhere."""
    found = read_features(look_at(" ".join(["word"] * 60 + ["_2 word"] * 30 + ["word"] * 60)))
    assert found["pace@0:20>2.6"][62] == 1
    assert found["pace@0:20>2.6"][5] == 0
    assert found["pace@-20:0>2.6"][85] == 1


def test_a_boundary_lies_in_one_tenth_of_the_class():
    """Tenths cover every boundary but the last once."""
    found = read_features(look_at(" ".join(["word"] * 50)))
    tenths = np.array([found[f"tenth={k}"] for k in range(10)])
    assert tenths[:, :-1].sum(axis=0).tolist() == [1] * 50
    assert tenths[0, 0] == tenths[9, 49] == 1


def test_only_what_is_wanted_is_made():
    """The filter decides before anything is computed."""
    signals = look_at("and go _8 stop", Mention("go", 1, 2, "go", "go"))
    assert [name for name, _ in iter_features(signals, {"gap>6.0", "go@0:3"}.__contains__)] == ["go@0:3", "gap>6.0"]


def test_lexical_names_are_the_words_around():
    """Three words to the left and right, and pairs; ``-`` beyond the ends of the class."""
    assert lexical_names(("ready", "and", "go"), 2) == [
        *("w-3=-", "w-2=ready", "w-1=and", "w0=go", "w1=-", "w2=-"),
        *("ww-2=ready and", "ww-1=and go", "ww0=go -"),
    ]


@pytest.mark.parametrize("text", ["", "go", "ready and go and go again", "a a a a a a"])
def test_scoring_by_tables_equals_scoring_by_names(text):
    """The quick sum over tables is the sum of the weights of the names at each boundary."""
    words = tuple(text.split())
    names = {name for b in range(len(words) + 1) for name in lexical_names(words, b)}
    rng = np.random.default_rng(5)
    weights = {name: rng.normal(size=3) for name in sorted(names)[::2]} | {"ww0=never said": np.ones(3)}
    scores = score_lexical(words, index_lexical(weights), 3)
    assert scores.shape == (len(words) + 1, 3)
    for boundary in range(len(words) + 1):
        wanted = sum((weights[n] for n in lexical_names(words, boundary) if n in weights), np.zeros(3))
        assert scores[boundary] == pytest.approx(wanted)
