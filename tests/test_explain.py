"""Why the routine says what it says at a moment."""

from __future__ import annotations

from itertools import pairwise

import pytest

from setdown.assemble import assemble_with_drafts
from setdown.explain import MOST_ALTERNATIVES, explain_moment
from setdown.lexicon import load_lexicon
from setdown.pipeline import extract_transcript
from setdown.read import read_transcript
from setdown.segment import segment_mentions
from setdown.tag import tag_transcript


@pytest.fixture(scope="module")
def transcript(repository):
    """A sample."""
    return read_transcript(repository / "samples" / "quayside-strength.vtt")


@pytest.fixture(scope="module")
def sets(transcript):
    """Its sets in order."""
    return [x for _, _, x in extract_transcript(transcript, load_lexicon()).iter_sets()]


def test_a_moment_in_a_set(transcript, sets):
    """The set as the routine has it, its span of work, the words and what was recognised in them."""
    for wanted in sets:
        found = explain_moment(transcript, round((wanted.start + wanted.end) * 500), load_lexicon())
        assert found.set == wanted
        assert found.spans
        assert any(span.start < span.end for span in found.spans)
        texts = [w.text for w in found.words]
        assert " ".join(wanted.evidence["span"][0].quote.split()) in " ".join(texts)
        first, last = transcript.words.index(found.words[0]), transcript.words.index(found.words[-1])
        assert all(first <= m.start <= last for m in found.mentions)


def test_the_alternatives_are_those_that_were_ranked(transcript, sets):
    """What was chosen comes first in each field, with its probability; then what lost to it."""
    lexicon = load_lexicon()
    tagged = tag_transcript(transcript, lexicon)
    _, _, context = assemble_with_drafts(tagged, segment_mentions(tagged), lexicon)
    found = explain_moment(transcript, round((sets[1].start + sets[1].end) * 500), lexicon)
    lines = list(found.alternatives)
    for field, ranked in context.drafts[1].ranked.items():
        own = [line for line in lines if line.split()[0] == field]
        assert 1 <= len(own) <= MOST_ALTERNATIVES
        assert f"{ranked.best.key or 'none'}  {ranked.confidence:.2f}" in own[0]


def test_a_moment_between_sets(transcript, sets):
    """No set and no alternatives, but what was said."""
    pairs = [(a, b) for a, b in pairwise(sets) if b.start - a.end > 8]
    before, after = pairs[0]
    found = explain_moment(transcript, round((before.end + after.start) * 500), load_lexicon())
    assert found.set is None
    assert found.alternatives == ()
    assert found.words


def test_a_moment_outside_the_recording(transcript):
    """Nothing was said there, and nothing is made up."""
    found = explain_moment(transcript, transcript.duration + 3_600_000, load_lexicon())
    assert (found.words, found.mentions, found.set, found.alternatives) == ((), (), None, ())


def test_the_same_moment_is_explained_the_same(transcript, sets):
    """Deterministic, like the routine itself."""
    at = round(sets[0].start * 1000)
    assert explain_moment(transcript, at, load_lexicon()) == explain_moment(transcript, at, load_lexicon())
