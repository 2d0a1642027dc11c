"""Features of spans: each says what its name says, on a class in which that can be seen."""

from __future__ import annotations

import numpy as np
import pytest

from make_class import tag_class
from setdown.segment.lattice import END, FIRST, LAST, RELAY, SILENT, START
from setdown.segment.signals import gather_signals
from setdown.segment.span_features import LENGTHS_S, gather_evidence, iter_talk_features, iter_work_features

TEXT = (
    "goblet squats ten reps ready and go one two three four _2 five six seven eight nine ten and rest now _12 again go"
)


def see(text: str):
    """The evidence of a class whose boundaries are all alike, and its words."""
    tagged = tag_class(text)
    signals = gather_signals(tagged)
    scores = np.tile(np.array([0.5, -0.5, 0.25]), (signals.n + 1, 1))
    return gather_evidence(tagged, signals, scores), list(tagged.words)


def work(text: str, first: str, last: str) -> dict[str, float]:
    """The features of the span from one word to another (both in it)."""
    seen, words = see(text)
    a, b = np.array([words.index(first)]), np.array([words.index(last) + 1])
    return {name: float(values[0]) for name, values in iter_work_features(seen, a, b)}


def talk(text: str, a: int, b: int, source: int = END, target: int = START) -> dict[str, float]:
    """The features of the talk between two boundaries."""
    seen, _ = see(text)
    edges = [np.array([x]) for x in (a, b, source, target)]
    return {name: float(values[0]) for name, values in iter_talk_features(seen, *edges)}


def test_a_counted_set():
    """From one to ten as announced: counted from 1 to the end, the target reached, no counting cut."""
    found = work(TEXT.replace("ten reps", "10 reps"), "one", "ten")
    assert found["count from 1"] == found["count to the end"] == found["target reached"] == 1
    assert found["count goes on"] == found["count begun before"] == found["count anew"] == 0


def test_a_set_that_is_cut():
    """A span that ends at four cuts a counting, and so does one that begins at five."""
    text = TEXT.replace("ten reps", "10 reps")
    assert work(text, "one", "four")["count cut at the end"] == 1
    assert work(text, "five", "ten")["count cut at the start"] == 1
    assert work(text, "one", "ten")["count cut at the end"] == work(text, "one", "ten")["count cut at the start"] == 0


def test_a_counting_with_talk_between_its_numbers():
    """Numbers that go on a few words later are the same counting, cut or not."""
    text = "go one two three lovely work keep the chest up four five six chest stays open seven eight nine ten and rest"
    assert work(text, "one", "work")["count goes on"] == 1
    assert work(text, "four", "ten")["count begun before"] == 1
    assert work(text, "four", "ten")["count from the middle"] == 1
    assert work(text, "one", "ten")["count goes on"] == 0


def test_two_sets_in_one():
    """Counting that begins anew within a span shows that there are two."""
    text = "go one two three four five six and switch one two three four five six and rest"
    seen, words = see(text)
    spans = np.array([1, 1]), np.array([len(words), 7])
    found = {name: values.tolist() for name, values in iter_work_features(seen, *spans)}
    assert found["count anew"] == [1, 0]


def test_work_as_long_as_was_said():
    """Thirty seconds were announced: a span of thirty is exact, one of nine far too short."""
    text = "plank for thirty seconds ready go _28 and rest now please everybody " + "good " * 30
    seen, words = see(text)
    go = words.index("go")
    found = {n: v.tolist() for n, v in iter_work_features(seen, np.array([go, go + 1]), np.array([go + 3, go + 3]))}
    assert found["said exact"] == [1, 0]
    assert found["said far short"] == [0, 1]


def test_a_length_lies_between_two_knots():
    """The shares of one length sum to 1 and are all at the knots beside it."""
    found = work(TEXT, "one", "rest")
    shares = {s: found[f"lasts {s} s"] for s in LENGTHS_S}
    assert sum(shares.values()) == pytest.approx(1)
    assert [s for s, share in shares.items() if share] == [4, 7]


def test_mentions_count_in_the_middle_and_the_tail():
    """'And rest' in the last words is a tail, well inside it is work that was cut too late."""
    text = (
        "go squeeze and hold it there and then we keep on and rest now everybody take it easy shake it out lovely work"
    )
    seen, words = see(text)
    rest = words.index("rest")
    found = {n: v.tolist() for n, v in iter_work_features(seen, np.array([0, 0]), np.array([rest + 1, len(words)]))}
    assert found["tail rest"] == [1, 0]
    assert found["in rest"] == [0, 1]


def test_talk_knows_its_neighbours():
    """Talk at the ends of a class and beyond a relay says nothing about its length."""
    assert talk(TEXT, 0, 5, FIRST)["talk first"] == 1
    assert talk(TEXT, 0, 5, FIRST)["talk setup"] == talk(TEXT, 5, 18, RELAY)["talk rest"] == 0
    assert talk(TEXT, 16, 20, END, LAST)["talk last"] == 1
    assert talk(TEXT, 6, 6)["touch"] == 1


def test_a_silence_is_judged_as_a_set():
    """The boundary scores of a silent set come with the talk that leads to it, and its length too."""
    seen, words = see(TEXT)
    at = words.index("again")
    found = talk(TEXT, at - 3, at, END, SILENT)
    assert found["silent"] == 1
    assert found["silent, starts"] == 0.5
    assert found["silent, ends"] == -0.5
    assert found["silent 11 s"] > 0.5
    assert "silent" not in talk(TEXT, at - 3, at)
    assert seen.gaps[at] == pytest.approx(12)
