"""The JSON of speech recognisers: segments with text and times, and words with times of their own.

Shapes read::

    {"segments": [{"start": 1.2, "end": 3.4, "text": " keep going",
                   "words": [{"word": " keep", "start": 1.2, "end": 1.6, "probability": 0.98}, ...]}, ...],
     "language": "en"}
    [{"start": ..., "end": ..., "text": ...}, ...]            a bare list of segments
    {"words": [...]} and a bare list of words                 words without segments: cut where the speaker pauses

A word may be named ``word`` or ``text``, its probability ``probability``, ``score`` or ``confidence``. Times are
seconds, as numbers or texts. Put up with: segments without words, words or segments without times (interpolated later),
words out of order, segments that overlap.
"""

from __future__ import annotations

import json
import re
from bisect import bisect_right
from collections.abc import Iterable
from itertools import pairwise
from typing import Any

from setdown.errors import SetdownError
from setdown.model.transcript import Notice
from setdown.read.base import MAX_CUES, MAX_MS, MAX_WORDS, RawCue, RawWord, Reader, Reading, refuse_excess
from setdown.read.decode import drop_surrogates

_HEAD = re.compile(r"\s*(?:\{|\[\s*(?:[\[{\]]|\Z))")
_SPACE = re.compile(r"\s*")
_NUMBER = re.compile(r"\s*[0-9]{1,12}(?:\.[0-9]{0,15})?\s*")
_PROBABILITIES = ("probability", "score", "confidence")
_PAUSE_MS = 1000  # a silence that ends a cue when the file has no segments
_LONGEST_MS = 6000  # and the longest such cue: what a caption holds (common practice, no source)

_GAP = 40  # characters of a text that the list of words may leave out before the next word

_Timed = tuple[str, int | None, int | None, float | None]


def recognise(text: str) -> bool:
    """A JSON object, or a list of objects."""
    return _HEAD.match(text) is not None


def read(text: str) -> Reading:
    """Segments as cues, in the order of the file, with the recogniser's words placed in their text.

    Raises:
        SetdownError: not JSON, none of the shapes above, or nothing in it has a time.
    """
    document = _load(text)
    segments, words = _find_parts(document)
    refuse_excess(len(segments), MAX_CUES, "segments")
    notices: list[Notice] = []
    if words and _words_say_more(words, segments):
        segments = _cut_into_segments(words, segments)
    builder = _CueBuilder()
    cues = [cue for segment in segments if (cue := builder.build(segment)) is not None]
    if not builder.timed:
        raise SetdownError(
            "nothing in the file has a time" if cues else "the file has no segments and no words",
            expected="segments with start, end and text (seconds)",
        )
    if builder.untimed:
        notices.append(Notice("no-times", f"{builder.untimed} segment(s) have no start: placed after the one before"))
    if builder.disordered:
        message = f"words out of order or with impossible times in {builder.disordered} segment(s): times interpolated"
        notices.append(Notice("word-times", message))
    language = document.get("language") if isinstance(document, dict) else ""
    return Reading(cues, notices, language=language if isinstance(language, str) else "")


def _load(text: str) -> Any:
    refuse_excess(text.count("{") + text.count("["), MAX_WORDS + 2 * MAX_CUES, "objects and lists")
    try:
        return json.loads(text)
    except json.JSONDecodeError as error:
        raise SetdownError(
            f"not JSON: {error.msg[0].lower()}{error.msg[1:]} at column {error.colno}",
            line=error.lineno,
            expected="one complete JSON document",
            hint="Was the file cut off while it was written?" if error.pos >= len(text.rstrip()) else "",
        ) from error
    except RecursionError:
        raise SetdownError("JSON nested too deeply", expected="segments with start, end and text") from None
    except ValueError as error:  # a number of thousands of digits
        raise SetdownError(f"not usable JSON: {error}", expected="segments with start, end and text") from error


def _find_parts(document: Any) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """(segments, words outside of segments)."""
    if isinstance(document, dict):
        segments, words = _list(document.get("segments")), _list(document.get("words"))
        if segments or words or "segments" in document or "words" in document:
            return segments, words
    elif isinstance(document, list):
        items = _list(document)
        if items and all("word" in item and "words" not in item for item in items):
            return [], items
        return items, []
    raise SetdownError(
        "JSON, but not a transcript",
        expected='an object with "segments" or "words", or a list of segments',
        hint="Each segment needs start, end and text.",
    )


def _list(value: Any) -> list[dict[str, Any]]:
    return [item for item in value if isinstance(item, dict)] if isinstance(value, list) else []


def _words_say_more(words: list[dict[str, Any]], segments: list[dict[str, Any]]) -> bool:
    """Whether the words beside the segments are to be read: the segments have none, and not much more text."""
    if any(_list(segment.get("words")) for segment in segments):
        return False
    texts = (segment.get("text") for segment in segments)
    return sum(len(text.split()) for text in texts if isinstance(text, str)) <= 2 * len(words)


def _cut_into_segments(words: list[dict[str, Any]], segments: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Segments of the given words: cut at the given segments' starts, else at pauses and at a caption's length."""
    starts = sorted({ms for segment in segments if (ms := _read_ms(segment.get("start"))) is not None})
    out: list[dict[str, Any]] = []
    place = opened = last = -1
    for word in words:
        start, end = _read_ms(word.get("start")), _read_ms(word.get("end"))
        here = bisect_right(starts, start) if start is not None and starts else place
        pause = not starts and start is not None and last >= 0 and start - last > _PAUSE_MS
        long = not starts and end is not None and opened >= 0 and end - opened > _LONGEST_MS
        if not out or here != place or pause or long:
            out.append({"start": word.get("start"), "end": word.get("end"), "words": []})
            place, opened = here, start if start is not None else last
        out[-1]["words"].append(word)
        if end is not None:
            last, out[-1]["end"] = end, word.get("end")
        elif start is not None:
            last = start
    return out


class _CueBuilder:
    """Builds cues one after the other; knows where the last one ended."""

    def __init__(self) -> None:
        self.clock = 0  # end of the last cue, ms
        self.timed = 0  # segments and words that have a time
        self.untimed = 0
        self.disordered = 0

    def build(self, segment: dict[str, Any]) -> RawCue | None:
        timed = [word for item in _list(segment.get("words")) if (word := _read_word(item)) is not None]
        text = segment.get("text")
        text = drop_surrogates(text.strip()) if isinstance(text, str) else ""
        words, text, disordered = _align(text, timed)
        if not text:
            return None
        self.disordered += disordered
        starts = [word.start for word in words if word.start is not None]
        ends = [word.end for word in words if word.end is not None]
        start, end = _read_ms(segment.get("start")), _read_ms(segment.get("end"))
        self.timed += (start is not None) + len(starts)
        if start is None and starts:
            start = min(starts)
        if end is None and ends:
            end = max(ends)
        if start is None:
            self.untimed += 1
            start = self.clock
        self.clock = start if end is None else max(end, start)
        speaker = segment.get("speaker")
        speaker = drop_surrogates(speaker.strip()) if isinstance(speaker, str) else ""
        identifier = str(segment["id"]) if isinstance(segment.get("id"), (int, str)) else ""
        return RawCue(start, end, text, 0, drop_surrogates(identifier), speaker, (), tuple(words))


def _read_word(item: dict[str, Any]) -> _Timed | None:
    text = item.get("word", item.get("text"))
    if not isinstance(text, str) or not text.strip():
        return None
    probability = None
    for key in _PROBABILITIES:
        value = item.get(key)
        if value is not None:
            probability = value if type(value) in (int, float) and 0 <= value <= 1 else None
            break
    return drop_surrogates(text), _read_ms(item.get("start")), _read_ms(item.get("end")), probability


def _read_ms(value: Any) -> int | None:
    """Seconds, as a number or its text, in ms; ``None`` for null and for what is no time."""
    if type(value) is float and 0 <= value <= MAX_MS / 1000:
        return round(value * 1000)
    if isinstance(value, str):
        if not _NUMBER.fullmatch(value):
            return None
        value = float(value)
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not -MAX_MS <= value <= MAX_MS / 1000:
        return None  # NaN fails the comparison too
    return max(round(value * 1000), 0)


def _align(text: str, timed: list[_Timed]) -> tuple[list[RawWord], str, bool]:
    """Words placed in the text: as listed, in order of time, or as many as fit; if they do not fit, they are the text.

    The third value is true when the words' times contradict their order.
    """
    if not timed:
        return [], text, False
    starts = [word[1] for word in timed if word[1] is not None]
    disordered = any(a > b for a, b in pairwise(starts))
    placed = _place(text, timed) if text else None
    if placed is None and disordered:
        timed = _sort_by_start(timed)
        placed = _place(text, timed) if text else None
    if placed is None and text:
        placed = _place_some(text, timed)
    if placed is None:
        text = _join(timed)
        placed = _place(text, timed) or []
    return placed, text, disordered


def _sort_by_start(timed: list[_Timed]) -> list[_Timed]:
    """A word without a time stays behind the one that it was listed after."""
    last = 0
    keyed: list[tuple[int, _Timed]] = []
    for word in timed:
        last = word[1] if word[1] is not None else last
        keyed.append((last, word))
    return [word for _, word in sorted(keyed, key=lambda pair: pair[0])]


def _join(timed: Iterable[_Timed]) -> str:
    """Recognisers that write spaces before words glue what has none; others leave spaces out altogether."""
    texts = [word[0] for word in timed]
    spaced = any(text[0].isspace() or text[-1].isspace() for text in texts)
    return ("".join(texts) if spaced else " ".join(texts)).strip()


def _place(text: str, timed: list[_Timed]) -> list[RawWord] | None:
    """Each word's characters, in order; ``None`` unless the words are the whole text but for spaces."""
    placed: list[RawWord] = []
    at = 0
    for spoken, start, end, probability in timed:
        spoken = spoken.strip()
        if text.startswith(" ", at):
            at += 1
        if not text.startswith(spoken, at):
            at = _skip_space(text, at)
            if not text.startswith(spoken, at):
                return None
        first, at = at, at + len(spoken)
        placed.append(RawWord(first, at, start, end, probability))
    return placed if _skip_space(text, at) == len(text) else None


def _place_some(text: str, timed: list[_Timed]) -> list[RawWord] | None:
    """The words that are found in the text when the list has gaps; ``None`` when the list says more than the text."""
    if len(text.split()) < len(timed):
        return None
    placed: list[RawWord] = []
    at = 0
    for spoken, start, end, probability in timed:
        spoken = spoken.strip()
        found = text.find(spoken, at, at + len(spoken) + _GAP)
        if found >= 0 and (found == at or text[found - 1].isspace()):
            at = found + len(spoken)
            placed.append(RawWord(found, at, start, end, probability))
    return placed if 2 * len(placed) >= len(timed) else None


def _skip_space(text: str, at: int) -> int:
    match = _SPACE.match(text, at)
    return match.end() if match else at


READER = Reader("asr_json", "JSON of a speech recogniser: segments, words, times in seconds", recognise, read)
