"""The transcript's captions with mis-heard words of the trade put right, and a list of every change.

A change is made only where it is sure enough, or where the reviewer accepted it; what the reviewer dismissed is left.
Times of captions are never touched.
"""

from __future__ import annotations

import csv
import io
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, replace

from setdown.lexicon import Lexicon
from setdown.model.routine import Routine
from setdown.model.timecode import format_clock
from setdown.model.transcript import Cue, Transcript, Word
from setdown.publish.fixed_text import load_strings
from setdown.publish.mishearing import Repair
from setdown.publish.repair import find_repairs
from setdown.publish.vtt import TextCue, format_srt, format_vtt
from setdown.sheet import escape_cell
from setdown.tag.normal import normalise_word, normalise_words

SURE_ENOUGH = 0.7
REVIEWED = "accepted by the reviewer"


@dataclass(frozen=True, slots=True)
class CaptionChange:
    """Characters ``[char_start, char_end)`` of a caption were ``was`` and are now ``now``; ``at`` in ms."""

    cue: int
    char_start: int
    char_end: int
    at: int
    was: str
    now: str
    why: str
    sureness: float


def repair_captions(
    transcript: Transcript, lexicon: Lexicon, routine: Routine | None = None
) -> tuple[tuple[Cue, ...], list[CaptionChange]]:
    """The captions as they should read, and what was changed. A name that runs over two captions stays in both."""
    words = normalise_words([word.text for word in transcript.words])
    accepted, dismissed = _read_decisions(routine, transcript) if routine else ({}, set())
    known = frozenset(one.exercise.id for _, _, one in routine.iter_sets()) if routine else frozenset()
    changes: list[CaptionChange] = []
    busy: set[int] = set()
    for repair in (*accepted.values(), *find_repairs(words, lexicon, known)):
        span = range(repair.start, repair.end)
        if not busy.isdisjoint(span) or (repair.why != REVIEWED and not dismissed.isdisjoint(span)):
            continue
        if repair.sureness < SURE_ENOUGH or repair.was == repair.now:
            continue
        made = _place(transcript, repair)
        if made:
            busy.update(span)
            changes += made
    changes.sort(key=lambda change: (change.cue, change.char_start))
    return _apply(transcript.cues, changes), changes


def format_captions_vtt(cues: Sequence[Cue], routine: Routine) -> str:
    """The captions as WebVTT."""
    strings = load_strings(routine.language)
    notes = [strings.say("captions.draft_note")] if routine.status == "draft" else []
    made = (TextCue(cue.start, cue.end, cue.text, cue.speaker, cue.identifier) for cue in cues)
    return format_vtt(made, kind="captions", language=routine.language, notes=notes)


def format_captions_srt(cues: Sequence[Cue]) -> str:
    """The captions as SubRip, which has no room for notes."""
    return format_srt(TextCue(cue.start, cue.end, cue.text) for cue in cues)


def format_changes(changes: Sequence[CaptionChange], routine: Routine) -> str:
    """The change list as CSV, safe to open in a spreadsheet."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(load_strings(routine.language).say("captions.changes_heading").split(","))
    for change in changes:
        row = (format_clock(change.at), str(change.cue + 1), change.was, change.now, change.why)
        writer.writerow([*(escape_cell(cell) for cell in row), f"{change.sureness:.2f}"])
    return text.getvalue()


def _read_decisions(routine: Routine, transcript: Transcript) -> tuple[dict[str, Repair], set[int]]:
    """What the reviewer accepted of the repaired names, as repairs, and the words whose repair was dismissed."""
    accepted: dict[str, Repair] = {}
    dismissed: set[int] = set()
    words = transcript.words
    for query in routine.queries:
        if query.code != "name-repaired" or query.state == "open" or not query.evidence:
            continue
        quote = query.evidence[0]
        start = bisect_left(words, (quote.cue, quote.char_start), key=lambda word: (word.cue, word.char_end - 1))
        end = bisect_left(words, (quote.cue, quote.char_end), key=lambda word: (word.cue, word.char_start))
        if end <= start:
            continue
        if query.state == "dismissed":
            dismissed.update(range(start, end))
        elif query.suggestions:
            was = " ".join(normalise_word(word.text) for word in words[start:end])
            accepted[query.id] = Repair(start, end, was, query.suggestions[0], REVIEWED, 1.0)
    return accepted, dismissed


def _place(transcript: Transcript, repair: Repair) -> list[CaptionChange]:
    """Where the repair stands in the captions: one change, or word by word when it runs over the edge of one."""
    words = transcript.words[repair.start : repair.end]
    said = repair.now.split()
    if words[0].cue == words[-1].cue:
        return [_change(transcript, words[0], words[-1], repair.now, repair)]
    if len(said) != len(words):
        return []
    pairs = [(word, new) for word, new in zip(words, said, strict=True) if normalise_word(word.text) != new]
    return [_change(transcript, word, word, new, repair) for word, new in pairs]


def _change(transcript: Transcript, first: Word, last: Word, now: str, repair: Repair) -> CaptionChange:
    """The change without the punctuation around it, with a capital where there was one."""
    text = transcript.cues[first.cue].text
    start, end = first.char_start, last.char_end
    while start < end - 1 and not text[start].isalnum():
        start += 1
    while end > start + 1 and not text[end - 1].isalnum():
        end -= 1
    was = text[start:end]
    if was.isupper() and len(was) > 1:
        now = now.upper()
    elif was[:1].isupper():
        now = now[:1].upper() + now[1:]
    return CaptionChange(first.cue, start, end, first.start, was, now, repair.why, repair.sureness)


def _apply(cues: Sequence[Cue], changes: Sequence[CaptionChange]) -> tuple[Cue, ...]:
    by_cue: dict[int, list[CaptionChange]] = {}
    for change in changes:
        by_cue.setdefault(change.cue, []).append(change)
    done = []
    for n, cue in enumerate(cues):
        text = cue.text
        for change in reversed(by_cue.get(n, [])):
            text = text[: change.char_start] + change.now + text[change.char_end :]
        done.append(replace(cue, text=text, asides=()) if n in by_cue else cue)
    return tuple(done)
