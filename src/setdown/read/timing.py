"""Times of words.

They come from the file where it has them: inline timestamps (``RawCue.marks``) or a recogniser's words
(``RawCue.words``); what lies between two known times is spread by characters. Without any, a cue's words are spread
over the cue by characters.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from setdown.model.transcript import Aside, Word
from setdown.read.base import RawCue, RawWord

WORD_RESOLUTION_MS = 100
"""Uncertainty of a word time that the file states: recognisers and captioning round to this order."""

LONGEST_WORD_MS = 1000
"""A word with a stated start but no end ends with the next word, and after this time at the latest."""

STRETCHED_MS = 2000
"""A recogniser's word that lasts longer was stretched over the silence beside it: it then lasts ``LONGEST_WORD_MS``."""

SLACK_MS = 1000
"""How far a recogniser's word may lie outside of its segment before its time is not believed."""

_CROWDED_MS = 15  # per character: cues that leave each other less time than that were shown together, not in turn
_RUN = re.compile(r"\S+")

Points = list[tuple[int, int]]


class Spoken(NamedTuple):
    """A cue ready for its words: the raw cue with its text as shown (one line, no outer space), and its asides."""

    raw: RawCue
    end: int
    asides: tuple[Aside, ...]


def place_words(cues: Sequence[Spoken]) -> tuple[tuple[Word, ...], str, int]:
    """(words in order of time, timing, resolution in ms) of cues in order of start.

    Timing is ``word`` when the file states times for at least half of the words. Words keep the order of the captions;
    where cues overlap, their words are spread so that they follow each other.
    """
    words: list[Word] = []
    stated = 0
    timed = any(cue.raw.words for cue in cues)
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
                words[-1] = words[-1]._replace(end=min(words[-1].end, words[-1].start + LONGEST_WORD_MS))
    if timed or marked:
        words = _order_words(words)
    if stated * 2 >= len(words) > 0:
        return tuple(words), "word", WORD_RESOLUTION_MS
    lengths = sorted(cue.end - cue.raw.start for cue in cues)
    # The median is the mean of the two in the middle, which of an odd number are the same one.
    middle = lengths[len(lengths) // 2] + lengths[(len(lengths) - 1) // 2] if lengths else 0
    return tuple(words), "cue", round(middle / 4)


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
    if not asides:
        return text
    parts: list[str] = []
    at = 0
    for aside in asides:
        parts += [text[at : aside.char_start], " " * (aside.char_end - aside.char_start)]
        at = aside.char_end
    return "".join([*parts, text[at:]])


def _add_spread(words: list[Word], index: int, cue: Spoken, start: int, end: int) -> None:
    text = cue.raw.text
    if cue.asides:
        points = _skip_marks(cue, start, end)
        _add_runs(words, index, _blank_out(text, cue.asides), points)
        return
    scale = (end - start) / max(len(text), 1)
    tokens = text.split(" ")
    if tokens == text.split():  # single spaces, as nearly always: no need to search
        a = 0
        for token in tokens:
            b = a + len(token)
            words.append(Word(token, start + int(a * scale), start + int(b * scale), index, a, b))
            a = b + 1
        return
    for match in _RUN.finditer(text):
        a, b = match.span()
        words.append(Word(match.group(), start + int(a * scale), start + int(b * scale), index, a, b))


def _skip_marks(cue: Spoken, start: int, end: int) -> Points:
    """Points for a cue without stated times: sounds take time like words of their length, speaker marks take none."""
    text = cue.raw.text
    marks: list[tuple[int, int]] = []
    for aside in cue.asides:
        if aside.kind == "speaker":
            rest = text[aside.char_end : aside.char_end + 20]
            marks.append((aside.char_start, aside.char_end + len(rest) - len(rest.lstrip())))
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
    last = len(points) - 2
    for match in _RUN.finditer(text):
        a, b = match.span()
        while low < last and points[low + 1][0] <= a:
            low += 1
        while high < last and points[high + 1][0] < b:
            high += 1
        x0, start = points[low]
        if a > x0:
            x1, t1 = points[low + 1]
            start = start + int((t1 - start) * (a - x0) / (x1 - x0)) if x1 > x0 else t1
        x0, t0 = points[high]
        x1, end = points[high + 1]
        if b < x1:
            end = t0 + int((end - t0) * (b - x0) / (x1 - x0))
        if longest is not None and end - start > longest:
            end = start + longest
        words.append(Word(match.group(), start, max(start, end), index, a, b))


def _add_marked(words: list[Word], index: int, cue: Spoken) -> bool:
    """Words between inline timestamps. False when none of the marks can be used."""
    text, end = cue.raw.text, cue.end
    points: Points = [(0, cue.raw.start)]
    at, last, length = 0, cue.raw.start, len(text)
    for offset, ms in cue.raw.marks:
        at = max(at, offset)
        while at < length and text[at] == " ":  # the space before a word does not belong to its time
            at += 1
        if last <= ms <= end and at < length:
            if points[-1][0] == at:
                points.pop()
            points.append((at, ms))
            last = ms
    used = len(points) > 1 or points[0][1] != cue.raw.start
    points.append((length, end))
    _add_runs(words, index, _blank_out(text, cue.asides), points, LONGEST_WORD_MS)
    return used


def _add_recognised(words: list[Word], index: int, cue: Spoken) -> bool:
    """Words with a recogniser's times. False when less than half of the starts can be used."""
    text, raw = cue.raw.text, _shorten_stretched(cue.raw.words)
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


def _shorten_stretched(raw: tuple[RawWord, ...]) -> tuple[RawWord, ...]:
    """The first word of a segment begins too early (its segment was opened in silence), any other ends too late."""
    if all(w.start is None or w.end is None or w.end - w.start <= STRETCHED_MS for w in raw):
        return raw
    out = []
    for i, w in enumerate(raw):
        if w.start is not None and w.end is not None and w.end - w.start > STRETCHED_MS:
            w = w._replace(end=w.start + LONGEST_WORD_MS) if i else w._replace(start=w.end - LONGEST_WORD_MS)
        out.append(w)
    return tuple(out)


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
            words[at] = word._replace(probability=min(found))


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
            words[i] = word._replace(start=last, end=max(word.end, last))
        else:
            last = word.start
    return sorted(words, key=lambda word: word.start) if falls else words
