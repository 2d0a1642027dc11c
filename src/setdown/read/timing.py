"""Times: repair those of cues, and give every word one.

Word times come from the file where it has them: inline timestamps (``RawCue.marks``) or a recogniser's words
(``RawCue.words``); what lies between two known times is spread by characters. Without any, a cue's words are spread
over the cue by characters.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from statistics import median

from setdown.errors import SetdownError
from setdown.model.transcript import Aside, Notice, Word
from setdown.read.base import MAX_WORDS, RawCue, RawWord

WORD_RESOLUTION_MS = 100
"""Uncertainty of a word time that the file states: recognisers and captioning round to this order."""

LONGEST_WORD_MS = 1000
"""A word with a stated start but no end ends with the next word, and after this time at the latest."""

OVERLAP_MS = 50
"""Cues that overlap by less are rounding, not worth a Notice."""

SLACK_MS = 1000
"""How far a recogniser's word may lie outside of its segment before its time is not believed."""

USUAL_RATE = 2.5
"""Words per second of a talking instructor, used when a file tells nothing (common practice, no source)."""

_CROWDED_MS = 15  # per character: cues that leave each other less time than that were shown together, not in turn
_RUN = re.compile(r"\S+")

Points = list[tuple[float, int]]


@dataclass(frozen=True, slots=True)
class Spoken:
    """A cue ready for its words: the raw cue with its text as shown (one line, no outer space), and its asides."""

    raw: RawCue
    end: int
    asides: tuple[Aside, ...]


# --- times of cues ----------------------------------------------------------------------------------------------------


def repair_times(cues: list[RawCue]) -> tuple[list[RawCue], list[Notice]]:
    """The cues in order of start, each with an end that is not before its start.

    A missing end becomes the next start. The last one is estimated: the cue's words at the class's speaking rate
    (``estimate_rate``), at least one second.
    """
    notices: list[Notice] = []
    backward = [cue for cue in cues if cue.end is not None and cue.end < cue.start]
    if backward:
        message = f"{len(backward)} cue(s) end before they start: taken to end where they start"
        notices.append(Notice("end-before-start", message, backward[0].line or None))
        cues = [replace(cue, end=cue.start) if cue.end is not None and cue.end < cue.start else cue for cue in cues]
    late = next((b for a, b in pairwise(cues) if b.start < a.start), None)
    if late is not None:
        notices.append(Notice("out-of-order", "cues are not in order of time: sorted by start", late.line or None))
        cues = sorted(cues, key=lambda cue: cue.start)
    if any(cue.end is None for cue in cues):
        cues = _fill_ends(cues)
    return cues, notices


def _fill_ends(cues: list[RawCue]) -> list[RawCue]:
    out: list[RawCue] = []
    for i, cue in enumerate(cues):
        if cue.end is None and i + 1 < len(cues):
            cue = replace(cue, end=cues[i + 1].start)
        out.append(cue)
    last = out[-1]
    if last.end is None:
        needed = round(len(last.text.split()) / estimate_rate(out[:-1]) * 1000)
        out[-1] = replace(last, end=last.start + max(needed, 1000))
    return out


def estimate_rate(cues: Sequence[RawCue]) -> float:
    """Words per second while the instructor talks: the 90th percentile over the cues of five words and more.

    A block holds pauses as well as speech, so its own rate is too low; the densest tenth of the blocks is nearly all
    speech. Kept between 1 and 5; ``USUAL_RATE`` when there is nothing to measure.
    """
    rates: list[float] = []
    for cue in cues:
        words = len(cue.text.split())
        if words >= 5 and cue.end is not None and cue.end - cue.start >= 1000:
            rates.append(words * 1000 / (cue.end - cue.start))
    if not rates:
        return USUAL_RATE
    rates.sort()
    return min(max(rates[len(rates) * 9 // 10 if len(rates) > 1 else 0], 1.0), 5.0)


def note_overlaps(cues: Sequence[RawCue]) -> list[Notice]:
    """A Notice when cues (in order of start) overlap by more than ``OVERLAP_MS``."""
    first = None
    count = 0
    for before, cue in pairwise(cues):
        if before.end is not None and before.end - cue.start > OVERLAP_MS:
            count += 1
            first = first or cue
    if first is None:
        return []
    return [Notice("overlap", f"{count} cue(s) begin before the one before has ended", first.line or None)]


# --- times of words ---------------------------------------------------------------------------------------------------


def place_words(cues: Sequence[Spoken]) -> tuple[tuple[Word, ...], str, int]:
    """(words in order of time, timing, resolution in ms) of cues in order of start.

    Timing is ``word`` when the file states times for at least half of the words. Words keep the order of the captions;
    where cues overlap, their words are spread so that they follow each other.

    Raises:
        SetdownError: more than ``MAX_WORDS`` words.
    """
    words: list[Word] = []
    stated = 0
    marked = any(cue.raw.marks for cue in cues)
    spans = _share_time(cues)
    for index, (cue, (start, end)) in enumerate(zip(cues, spans, strict=True)):
        raw = cue.raw
        before = len(words)
        if raw.words:
            if _add_recognised(words, index, cue):
                stated += len(words) - before
        elif raw.marks:
            if _add_marked(words, index, cue):
                stated += len(words) - before
        else:
            _add_spread(words, index, cue, start, end)
            if marked and len(words) - before == 1:  # a one-word line has no inline time but the cue's start
                stated += 1
                words[-1] = replace(words[-1], end=min(words[-1].end, words[-1].start + LONGEST_WORD_MS))
        if len(words) > MAX_WORDS:
            raise SetdownError(f"more than {MAX_WORDS:,} words", expected="the transcript of one class")
    if stated:
        words = _order_words(words)
    if stated * 2 >= len(words) > 0:
        return tuple(words), "word", WORD_RESOLUTION_MS
    lengths = [cue.end - cue.raw.start for cue in cues]
    return tuple(words), "cue", round(median(lengths) / 2) if lengths else 0


def _share_time(cues: Sequence[Spoken]) -> list[tuple[int, int]]:
    """For each cue the time in which its words are spoken: its own, up to the next cue's start when they overlap.

    Cues that begin together, or leave each other no time to speak, share their time by length.
    """
    spans: list[tuple[int, int]] = []
    i, total = 0, len(cues)
    while i < total:
        first = cues[i]
        start, end, length = first.raw.start, first.end, len(first.raw.text)
        j = i + 1
        while j < total and cues[j].raw.start < end and cues[j].raw.start - start < length * _CROWDED_MS:
            end = max(end, cues[j].end)
            length += len(cues[j].raw.text)
            j += 1
        if j < total and cues[j].raw.start < end:
            end = cues[j].raw.start
        if j == i + 1:
            spans.append((start, end))
        else:
            done = 0
            for cue in cues[i:j]:
                begin = start + (end - start) * done // max(length, 1)
                done += len(cue.raw.text)
                spans.append((begin, start + (end - start) * done // max(length, 1)))
        i = j
    return spans


def _blank_out(text: str, asides: tuple[Aside, ...]) -> str:
    """The text with its asides as spaces, so that what is left are the spoken words at their places."""
    for aside in asides:
        text = text[: aside.char_start] + " " * (aside.char_end - aside.char_start) + text[aside.char_end :]
    return text


def _add_spread(words: list[Word], index: int, cue: Spoken, start: int, end: int) -> None:
    text = cue.raw.text
    if cue.asides:
        points = _skip_marks(cue, start, end)
        _add_runs(words, index, _blank_out(text, cue.asides), points)
        return
    scale = (end - start) / max(len(text), 1)
    for match in _RUN.finditer(text):
        a, b = match.span()
        words.append(Word(match.group(), start + int(a * scale), start + int(b * scale), index, a, b))


def _skip_marks(cue: Spoken, start: int, end: int) -> Points:
    """Points for a cue without stated times: sounds take time like words of their length, speaker marks take none."""
    text = cue.raw.text
    marks = [(aside.char_start, aside.char_end) for aside in cue.asides if aside.kind == "speaker"]
    spoken = len(text) - sum(b - a for a, b in marks)
    points: Points = [(0, start)]
    removed = 0
    for a, b in marks:
        at = start + (end - start) * (a - removed) // max(spoken, 1)
        removed += b - a
        points += [(a, at), (b, at)]
    points.append((len(text), end))
    return points


def _add_runs(words: list[Word], index: int, text: str, points: Points, longest: int | None = None) -> None:
    """Words for the runs of ``text``, their times linear between the points (offsets and times do not fall)."""
    low = high = 0
    last = len(points) - 1
    for match in _RUN.finditer(text):
        a, b = match.span()
        while low < last - 1 and points[low + 1][0] <= a:
            low += 1
        while high < last - 1 and points[high + 1][0] < b:
            high += 1
        start, end = _between(points, low, a), _between(points, high, b)
        if longest is not None and end - start > longest:
            end = start + longest
        words.append(Word(match.group(), start, max(start, end), index, a, b))


def _between(points: Points, i: int, at: int) -> int:
    (x0, t0), (x1, t1) = points[i], points[i + 1]
    return t0 + int((t1 - t0) * (at - x0) / (x1 - x0)) if x1 > x0 else t1


def _add_marked(words: list[Word], index: int, cue: Spoken) -> bool:
    """Words between inline timestamps. False when none of the marks can be used."""
    text, start, end = cue.raw.text, cue.raw.start, cue.end
    points: Points = [(0, start)]
    for offset, ms in cue.raw.marks:
        while offset < len(text) and text[offset] == " ":
            offset += 1
        if points[-1][1] <= ms <= end and offset < len(text):
            if points[-1][0] == offset:
                points.pop()
            points.append((offset, ms))
    used = len(points) > 1 or points[0] != (0, start)
    if points[0][0] > 0:
        points.insert(0, (0, start))
    points.append((len(text), end))
    _add_runs(words, index, _blank_out(text, cue.asides), points, LONGEST_WORD_MS)
    return used


def _add_recognised(words: list[Word], index: int, cue: Spoken) -> bool:
    """Words with a recogniser's times. False when less than half of the starts can be used."""
    text, raw = cue.raw.text, cue.raw.words
    low, high = cue.raw.start - SLACK_MS, cue.end + SLACK_MS
    if not cue.asides and _are_plain(text, raw, low, high):
        for w in raw:
            assert w.start is not None and w.end is not None
            words.append(
                Word(text[w.char_start : w.char_end], w.start, w.end, index, w.char_start, w.char_end, w.probability)
            )
        return True
    points: Points = []
    last, used = low, 0
    for w in raw:
        if w.start is not None and last <= w.start <= high:
            points.append((w.char_start, w.start))
            last = w.start
            used += 1
            if w.end is not None and last <= w.end <= high:
                points.append((w.char_end, w.end))
                last = w.end
    if not points or points[0][0] > 0:
        points.insert(0, (0, min(cue.raw.start, points[0][1]) if points else cue.raw.start))
    if points[-1][0] < len(text) or len(points) == 1:
        points.append((len(text), max(cue.end, last)))
    first = len(words)
    _add_runs(words, index, _blank_out(text, cue.asides), points)
    _add_probabilities(words, first, raw)
    return used * 2 >= len(raw)


def _are_plain(text: str, raw: tuple[RawWord, ...], low: int, high: int) -> bool:
    """Whether the recogniser's words are the words of the text one by one, with times that do not fall."""
    last = low
    at = 0
    for w in raw:
        if w.start is None or w.end is None or not last <= w.start <= w.end <= high or text[at : w.char_start].strip():
            return False
        if w.char_start and not text[w.char_start - 1].isspace():
            return False
        last, at = w.start, w.char_end
    return (
        not text[at:].strip()
        and all(text[w.char_start : w.char_end].isprintable() for w in raw)
        and len(text.split()) == len(raw)
    )


def _add_probabilities(words: list[Word], first: int, raw: tuple[RawWord, ...]) -> None:
    """A word gets the lowest probability among the recogniser's words that it holds."""
    i = 0
    for at in range(first, len(words)):
        word = words[at]
        while i < len(raw) and raw[i].char_end <= word.char_start:
            i += 1
        found: list[float] = []
        j = i
        while j < len(raw) and raw[j].char_start < word.char_end:
            value = raw[j].probability
            if value is not None:
                found.append(value)
            j += 1
        if found:
            words[at] = replace(word, probability=min(found))


def _order_words(words: list[Word]) -> list[Word]:
    """Starts that do not fall: a word that begins a little before the one before it begins with it; words that lie
    further back (segments of two people talking at once) are sorted by start."""
    last = 0
    falls = False
    for i, word in enumerate(words):
        if word.start < last:
            if last - word.start > SLACK_MS:
                falls = True
                last = word.start
                continue
            words[i] = replace(word, start=last, end=max(word.end, last))
        else:
            last = word.start
    return sorted(words, key=lambda word: word.start) if falls else words
