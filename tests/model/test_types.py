"""The types that the stages hand on."""

from __future__ import annotations

from dataclasses import FrozenInstanceError

import pytest

from make_class import make_class, tag_class
from setdown.model.mention import Mention, TaggedTranscript
from setdown.model.segment import Segmentation
from setdown.model.transcript import Transcript


def test_a_transcript_lasts_until_its_last_caption():
    """Zero without captions."""
    transcript, _ = make_class("and go _8 and rest")
    assert transcript.duration == transcript.words[-1].end
    assert Transcript("x", "webvtt", "", 0, (), (), "cue", 0).duration == 0


def test_mentions_are_asked_by_kind():
    """Of one kind or several, in order."""
    mentions = tuple(Mention(kind, i, i + 1, None, kind) for i, kind in enumerate(("go", "rest", "go", "stop")))
    tagged = TaggedTranscript(make_class("a b c d")[0], ("a", "b", "c", "d"), mentions)
    assert [m.start for m in tagged.of_kind("go")] == [0, 2]
    assert [m.start for m in tagged.of_kind("stop", "go")] == [0, 2, 3]
    assert tagged.of_kind("load") == []


@pytest.mark.parametrize(("thing", "field"), [(tag_class("go"), "words"), (Segmentation(()), "spans")])
def test_what_stages_hand_on_does_not_change(thing, field):
    """Frozen, so that no stage can bend what another rests on."""
    with pytest.raises(FrozenInstanceError):
        setattr(thing, field, ())
