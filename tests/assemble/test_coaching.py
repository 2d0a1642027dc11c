"""Cues, cautions and options said in or before a set."""

from __future__ import annotations

from itertools import pairwise

import pytest

from make_class import lay_out_class
from setdown.assemble.coaching import MOST_PER_SET, gather_coaching
from setdown.model.routine import Coaching


def gather(text: str, at: int = 0) -> list[Coaching]:
    """The coaching of one set."""
    context = lay_out_class(text)
    return gather_coaching(context, context.drafts[at])


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ("chest up", "form"),
        ("breathe out", "breath"),
        ("you should feel it", "target"),
        ("be careful", "caution"),
        ("if you need to do an easier one", "easier"),
        ("to make it harder", "harder"),
        ("if that is too easy jump it", "harder"),
    ],
)
def test_every_kind_is_found(said, kind):
    """Form, breath, target, caution, and options made easier or harder, as the caption has them."""
    found = gather(f"squats ready _2 [ go _9 {said} _9 last one ] and rest")
    assert [c.kind for c in found][:1] == [kind]
    assert found[0].evidence.quote in said


def test_plain_work_has_none():
    """Counting and structure are no coaching."""
    assert gather("squats ready _2 [ go _9 five _9 last one ] and rest") == []


def test_cues_before_the_work_belong_to_the_set():
    """What is said while getting ready; not what was said in the set before."""
    text = "[ go chest up _9 ] now rows flat back please _2 [ pull _9 ] and rest chest proud"
    assert [c.evidence.quote for c in gather(text, 1)] == ["now rows flat back please"]


def test_a_cue_is_the_clause_around_it():
    """Up to a silence or the edge of the caption."""
    [cue] = gather("ready [ go _9 keep your chest up for me _9 last one ] and rest")
    assert cue.evidence.quote == "keep your chest up for me"


def test_punctuation_ends_a_clause():
    """A full stop is an edge too."""
    [cue] = gather("ready [ go. chest up. five more to come. ] and rest")
    assert cue.evidence.quote == "chest up."


def test_cues_that_run_together_do_not_overlap():
    """No word is in two cues, and they are in order of time."""
    found = gather("ready [ go chest up and breathe out flat back and breathe in chest proud belly in ] and rest")
    places = [(c.evidence.cue, c.evidence.char_start, c.evidence.char_end) for c in found]
    assert places == sorted(places)
    assert all(a[2] <= b[1] for a, b in pairwise(places) if a[0] == b[0])


def test_there_is_a_limit():
    """A set of endless cues keeps the first."""
    found = gather("ready [ " + "_2 chest up " * 40 + "] and rest")
    assert len(found) == MOST_PER_SET
