"""An explanation in lines: the words, what was recognised in them, and the values of the set with their words."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Sequence
from typing import Any, Protocol

from setdown.model.mention import Mention
from setdown.model.routine import Set
from setdown.model.segment import WorkSpan
from setdown.model.timecode import format_clock
from setdown.model.transcript import Transcript, Word

LINE = 100  # characters of spoken words on a line


class Explanation(Protocol):
    """What ``pipeline.explain_moment`` tells about a moment."""

    @property
    def words(self) -> Sequence[Word]: ...
    @property
    def mentions(self) -> Sequence[Mention]: ...
    @property
    def spans(self) -> Sequence[WorkSpan]: ...
    @property
    def alternatives(self) -> Sequence[Any]: ...
    @property
    def set(self) -> Set | None: ...


def render_explanation(explanation: Explanation, transcript: Transcript, moment: int) -> Iterable[str]:
    """The lines to show, headings among them."""
    yield f"{transcript.name} at {format_clock(moment)}"
    yield from _head("said", _quote_words(explanation.words))
    yield from _head("recognised", (_describe_mention(m, transcript) for m in explanation.mentions))
    yield from _head("work", (_describe_span(s, transcript) for s in explanation.spans))
    yield from _head("also possible", (_describe_value(a) for a in explanation.alternatives))
    yield from _head("set", _describe_set(explanation.set) if explanation.set else ())


def _head(heading: str, lines: Iterable[str]) -> Iterable[str]:
    yield ""
    yield heading
    nothing = True
    for line in lines:
        nothing = False
        yield "  " + line
    if nothing:
        yield "  nothing"


def _quote_words(words: Sequence[Word]) -> Iterable[str]:
    line: list[str] = []
    start = 0
    for word in words:
        start = start if line else word.start
        line.append(word.text)
        if sum(len(text) + 1 for text in line) > LINE:
            yield f"{format_clock(start):>7}  {' '.join(line)}"
            line = []
    if line:
        yield f"{format_clock(start):>7}  {' '.join(line)}"


def _describe_mention(mention: Mention, transcript: Transcript) -> str:
    words = transcript.words[mention.start : mention.end]
    at = format_clock(words[0].start) if words else ""
    quote = " ".join(word.text for word in words)
    value = _describe_value(mention.value)
    return f"{at:>7}  {mention.kind:<14} “{quote}”" + (f" = {value}" if value else "") + _say_rule(mention)


def _say_rule(mention: Mention) -> str:
    return f"  (rule {mention.rule}, {mention.score:.2f})"


def _describe_span(span: WorkSpan, transcript: Transcript) -> str:
    words = transcript.words[span.start : span.end]
    if not words:
        return f"silent, likely {span.probability:.2f}"
    start, end = format_clock(words[0].start), format_clock(words[-1].end)
    return (
        f"{start} to {end}, “{words[0].text} … {words[-1].text}”  "
        f"(start {span.start_score:+.2f}, end {span.end_score:+.2f}, likely {span.probability:.2f})"
    )


def _describe_value(value: Any) -> str:
    names = _list_fields(value)
    if names:
        pairs = ((name, getattr(value, name)) for name in names)
        return ", ".join(f"{name} {_describe_value(held)}" for name, held in pairs if held not in (None, "", ()))
    if isinstance(value, dict):
        return ", ".join(f"{name} {_describe_value(held)}" for name, held in value.items())
    if isinstance(value, (list, tuple)):
        return ", ".join(map(_describe_value, value))
    return "" if value is None else str(value)


def _list_fields(value: Any) -> tuple[str, ...]:
    """The names of the fields of a record, be it a dataclass or a named tuple; none for any other value."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return tuple(field.name for field in dataclasses.fields(value))
    names: tuple[str, ...] = getattr(value, "_fields", ())
    return names


def _describe_set(one: Set) -> Iterable[str]:
    yield f"{one.id}, {one.start:.1f} to {one.end:.1f} s (±{one.margin_s:g} s), round {one.round}"
    values = {
        "exercise": one.exercise.name,
        "side": one.side,
        "reps": one.reps,
        "counted": one.counted,
        "work_s": None if one.work_s is None else f"{one.work_s:g}",
        "load": one.load and _describe_value({k: v for k, v in one.load.model_dump().items() if v is not None}),
        "tempo": one.tempo,
        "effort": one.effort,
        "finisher": one.finisher and one.finisher.kind,
    }
    for field, value in values.items():
        if value is None:
            continue
        sure = one.confidence.get(field)
        origin = one.origin.get(field, "")
        yield f"{field:<9} {value}  {origin}" + ("" if sure is None else f" {sure:.2f}")
        for piece in one.evidence.get(field, ()):
            rule = f"  (rule {piece.rule})" if piece.rule else ""
            yield f"          {format_clock(round(piece.at * 1000)):>7}  “{piece.quote}”{rule}"
