"""A class in one line of text: words, silences and sets, for tests that would drown in a caption file.

``[`` opens a set and ``]`` closes it; ``_8`` is a silence of eight seconds, which also ends a caption; ``|`` ends a
caption without a silence. All else is words, each of which takes 0.4 s::

    lay_out_class("goblet squats ready _2 [ and down _20 last one ] and rest")
"""

from __future__ import annotations

import hashlib
from typing import Any

from setdown.assemble.context import ClassContext, Draft, lay_out
from setdown.assemble.ranker import Candidate, Ranked
from setdown.assemble.routine import assemble_with_drafts
from setdown.lexicon import load_lexicon
from setdown.model.mention import Mention, TaggedTranscript
from setdown.model.routine import Routine, Set
from setdown.model.segment import Segmentation, WorkSpan
from setdown.model.transcript import Cue, Transcript, Word
from setdown.tag import tag_transcript

WORD_MS = 400
FIRST_MS = 4_000
LIKELY = 0.8  # every set: fairly sure


def make_class(text: str) -> tuple[Transcript, Segmentation]:
    """The transcript of a marked text, with word times, and the sets that are marked in it."""
    now = FIRST_MS
    words: list[Word] = []
    cues: list[Cue] = []
    spans: list[WorkSpan] = []
    opened: int | None = None
    caption: list[tuple[str, int]] = []

    def close_caption() -> None:
        if not caption:
            return
        line = ""
        for token, start in caption:
            line += " " if line else ""
            words.append(Word(token, start, start + WORD_MS, len(cues), len(line), len(line) + len(token)))
            line += token
        cues.append(Cue(len(cues), caption[0][1], caption[-1][1] + WORD_MS, line))
        caption.clear()

    for token in text.split():
        here = len(words) + len(caption)
        if token == "[":
            opened = here
        elif token == "]":
            assert opened is not None, "] without ["
            spans.append(WorkSpan(opened, here, 1.0, 1.0, LIKELY))
            opened = None
        elif token == "|" or token[0] == "_":
            close_caption()
            now += round(float(token[1:] or 0) * 1000)
        else:
            caption.append((token, now))
            now += WORD_MS
    close_caption()
    assert opened is None, "[ without ]"
    digest = hashlib.sha256(text.encode()).hexdigest()
    made = Transcript("class.vtt", "webvtt", digest, len(text), tuple(cues), tuple(words), "word", 200)
    return made, Segmentation(tuple(spans))


def tag_class(text: str) -> TaggedTranscript:
    """The marked text with its mentions, found by the real taggers in the shipped lexicon."""
    return tag_transcript(make_class(text)[0], load_lexicon())


def lay_out_class(text: str) -> ClassContext:
    """The marked text laid out for the deciders, with no decision made."""
    transcript, segmentation = make_class(text)
    lexicon = load_lexicon()
    return lay_out(tag_transcript(transcript, lexicon), segmentation, lexicon)


def assemble_class(text: str) -> tuple[Routine, list[Set], ClassContext]:
    """The routine of the marked sets with the shipped weights, its sets in order, and the decisions."""
    transcript, segmentation = make_class(text)
    lexicon = load_lexicon()
    return assemble_with_drafts(tag_transcript(transcript, lexicon), segmentation, lexicon)


def decide(draft: Draft, confidence: float = 0.95, /, **values: Any) -> None:
    """Settle fields of a draft by hand, with what is left of the confidence on 'none'."""
    for field, value in values.items():
        evidence: list[Mention] = []
        chosen = Candidate(value, str(value or ""), evidence=evidence)
        draft.ranked[field] = Ranked((chosen, Candidate(None, "-")), (confidence, 1 - confidence))


def decide_exercises(context: ClassContext, *movements: str) -> None:
    """Settle the movement of every set of a class, in order."""
    for draft, movement in zip(context.drafts, movements, strict=True):
        decide(draft, exercise=movement)


FIELDS = ("exercise", "side", "reps", "work_s", "load", "basis", "finisher")


def settle_class(text: str, *sets: dict[str, Any]) -> ClassContext:
    """The marked text with every field of every set settled by hand: what a dict leaves out is none."""
    context = lay_out_class(text)
    for draft, values in zip(context.drafts, sets, strict=True):
        decide(draft, **{field: values.get(field) for field in FIELDS})
        draft.group = values.get("group", 1)
        draft.round = values.get("round", 1)
        draft.section = values.get("section", "main")
    return context
