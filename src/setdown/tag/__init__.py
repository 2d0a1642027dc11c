"""From words to mentions: numbers and quantities by role, movements, phrases of structure and coaching.

Kinds of mentions: ``movement``, ``movement_weak``, ``movement_guess``, ``described`` (``tag.movements``); ``kit``
(``tag.kit``); every table of ``lexicon/phrases`` (``tag.phrases``); reps, scheme, sets, round, work_s, rest_s,
time_left, interval, emom, load, bar, unit, count, remaining, countdown, tempo, effort, breaths, moves, ordinal, other,
withdrawn (``tag.quantities``).
"""

from __future__ import annotations

from operator import attrgetter

from setdown.lexicon import Lexicon
from setdown.model.mention import Mention, TaggedTranscript
from setdown.model.transcript import Transcript
from setdown.tag.kit import tag_kit
from setdown.tag.movements import tag_movements
from setdown.tag.normal import normalise_words
from setdown.tag.numbers import find_numbers
from setdown.tag.phrases import tag_phrases
from setdown.tag.quantities import tag_quantities

__all__ = ["tag_transcript"]


def tag_transcript(transcript: Transcript, lexicon: Lexicon) -> TaggedTranscript:
    """Every mention in the transcript, in order."""
    texts = [w.text for w in transcript.words]
    words = normalise_words(texts)
    gaps = measure_gaps(transcript)
    mentions: list[Mention] = []
    mentions += tag_movements(words, lexicon)
    mentions += tag_phrases(words, lexicon)
    mentions += tag_kit(words, lexicon)
    mentions += tag_quantities(texts, gaps, find_numbers(texts))
    mentions.sort(key=attrgetter("start", "end", "kind", "rule"))
    return TaggedTranscript(transcript, words, tuple(mentions))


def measure_gaps(transcript: Transcript) -> list[int]:
    """Silence before each word in ms; 0 before the first."""
    starts = [word.start for word in transcript.words]
    ends = [word.end for word in transcript.words]
    return [0][: len(starts)] + [
        start - end if start > end else 0 for start, end in zip(starts[1:], ends, strict=False)
    ]
