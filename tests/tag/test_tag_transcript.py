"""All mentions of a transcript: in order, inside the words, of documented kinds."""

from __future__ import annotations

import re
import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import setdown.tag
from make_class import make_class
from setdown.lexicon import find_lexicon_folder, load_lexicon
from setdown.model.mention import TaggedTranscript
from setdown.read import read_transcript
from setdown.tag import measure_gaps, tag_transcript

VOCABULARY = """
    goblet squats rows push-ups plank lunges ten twelve 15 reps rounds sets seconds pounds kilos each side left right
    and go rest halfway last one two three more same again other leg breathe chest up hold pulse dumbbells mat warm
    cool down today everything is not like yesterday … — 1:30 70% forty on twenty off minute
"""


def read_phrase_kinds() -> set[str]:
    """The tables of the phrase files."""
    return {
        kind
        for path in (find_lexicon_folder() / "phrases").glob("*.toml")
        for kind in tomllib.loads(path.read_text(encoding="utf-8"))
    }


def read_documented() -> set[str]:
    """The kinds that the package's docstring lists, with the phrase tables that it refers to."""
    text = setdown.tag.__doc__.split("Kinds of mentions:")[1]
    text = re.sub(r"\([^)]*\)", "", text)
    words = set(re.findall(r"[a-z_]+", text)) - {"every", "table", "of"}
    return words - {"lexicon", "phrases"} | read_phrase_kinds()


def check_mentions(tagged: TaggedTranscript) -> None:
    """One normalised word per word; mentions in order, inside the words, not empty."""
    n = len(tagged.transcript.words)
    assert len(tagged.words) == n
    assert all(tagged.words)
    keys = [(m.start, m.end, m.kind, m.rule) for m in tagged.mentions]
    assert keys == sorted(keys)
    for m in tagged.mentions:
        assert 0 <= m.start < m.end <= n, m
        assert m.rule, m
        assert 0 <= m.score <= 1, m


@settings(deadline=None, max_examples=60)
@given(st.lists(st.sampled_from(VOCABULARY.split()), max_size=60))
def test_mentions_of_any_words_are_sound(words):
    """Random talk of a class."""
    check_mentions(tag_transcript(make_class(" ".join(words))[0], load_lexicon()))


def test_a_transcript_without_words():
    """Nothing to tag."""
    tagged = tag_transcript(make_class("")[0], load_lexicon())
    assert (tagged.words, tagged.mentions) == ((), ())


def test_gaps_are_silences_in_ms():
    """Before each word, 0 before the first."""
    assert measure_gaps(make_class("and go _8 stop _0.5 there")[0]) == [0, 0, 8_000, 500]


@pytest.mark.slow
def test_kinds_are_those_documented(gold_folder):
    """Over the annotated classes: every kind of the docstring is found somewhere, and no other."""
    seen: set[str] = set()
    for path in sorted(gold_folder.glob("*.words.json")):
        tagged = tag_transcript(read_transcript(path), load_lexicon())
        check_mentions(tagged)
        seen |= {m.kind for m in tagged.mentions}
    assert sorted(seen - read_documented()) == []
    assert sorted(read_documented() - seen) == []
