"""TTML2 and IMSC captions (.ttml, .dfxp, .xml), of the present and the older namespaces.

Times: "Timed Text Markup Language 2 (TTML2)", W3C Recommendation 8 November 2018, section 12.3.1 `<time-expression>`
and section 12.2 (begin, dur, end, timeContainer; default ``par``). Read with defusedxml: entities and external
references are refused, and so is nesting deeper than any caption needs.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any

from setdown.errors import SetdownError
from setdown.model.transcript import Notice
from setdown.read.base import MAX_CUES, MAX_LINES, RawCue, Reader, Reading, refuse_excess
from setdown.read.ttml_time import Clock, parse_time, read_clock

MAX_DEPTH = 200
_ROOT = re.compile(r"<(?:[A-Za-z_][A-Za-z0-9._-]*:)?tt[\s/>]")
_XML = "{http://www.w3.org/XML/1998/namespace}"
_SPACES = re.compile(r"[ \t\r\n]+")
_TIMED = frozenset(("body", "div", "p", "span", "br"))


def recognise(text: str) -> bool:
    """XML with a ``tt`` element near its top."""
    return text.lstrip(" \t\n")[:1] == "<" and bool(_ROOT.search(text, 0, 65_536))


def read(text: str) -> Reading:
    """One cue per ``p``; nested ``span`` elements with times of their own become marks, or cues when they are long.

    Raises:
        SetdownError: not well-formed, not TTML, entities, nesting too deep, or no ``p`` with text.
    """
    # Imported here, because most classes are not TTML.
    from xml.etree.ElementTree import ParseError

    from defusedxml.common import DefusedXmlException
    from defusedxml.ElementTree import DefusedXMLParser

    refuse_excess(text.count("</p>") + text.count(":p>"), MAX_CUES, "captions")
    refuse_excess(text.count("<"), MAX_LINES, "elements")
    builder = _Builder()
    parser: Any = DefusedXMLParser(target=builder, forbid_dtd=False, forbid_entities=True, forbid_external=True)
    builder.parser = parser.parser
    try:
        parser.feed(text.lstrip(" \t\n"))
        parser.close()
    except DefusedXmlException as error:
        raise SetdownError(
            "the file declares XML entities or fetches external data",
            line=builder.line,
            expected="plain TTML without them",
        ) from error
    except ParseError as error:
        line = error.position[0] if getattr(error, "position", None) else None
        raise SetdownError(f"not well-formed XML ({error})", line=line, expected="a complete TTML file") from error
    except (ValueError, LookupError) as error:  # an encoding that the declaration names and nobody knows
        raise SetdownError(f"unreadable XML ({error})", line=1, expected="a TTML file in UTF-8") from error
    if not builder.cues:
        raise SetdownError(
            "no caption has usable times" if builder.bad else "the file has no captions",
            line=builder.bad[0] if builder.bad else None,
            expected='p elements with text and times like begin="00:01:02.5" or begin="62.5s"',
        )
    return Reading(builder.cues, builder.notices(), language=builder.language, title=builder.title.strip(), rolls=True)


@dataclass(slots=True)
class _Element:
    """An open element. Times are ms; ``end`` is ``None`` while nothing limits it."""

    name: str
    begin: int = 0
    end: int | None = None
    own: bool = False  # has a begin, end or dur attribute
    limited: bool = False  # has an end or dur attribute
    broken: bool = False  # it, or an element around it, has a time that cannot be read
    sequence: bool = False  # timeContainer="seq": children follow each other
    cursor: int = 0  # where the next child of a sequence begins
    keep: bool = False  # xml:space="preserve"
    hidden: bool = False  # metadata, ruby annotation: not text of the caption
    speaker: str = ""


@dataclass(slots=True)
class _Piece:
    """Text of a ``p`` with the times of the innermost span around it."""

    parts: list[str]
    begin: int
    end: int | None
    timed: bool

    @property
    def text(self) -> str:
        return "".join(self.parts)


@dataclass(slots=True)
class _Builder:
    """Receives the parser's events; keeps a stack of open elements, so depth costs no recursion."""

    parser: Any = None
    clock: Clock = field(default_factory=Clock)
    cues: list[RawCue] = field(default_factory=list)
    language: str = ""
    title: str = ""
    stack: list[_Element] = field(default_factory=list)
    pieces: list[_Piece] = field(default_factory=list)
    agents: dict[str, str] = field(default_factory=dict)
    agent: str = ""
    paragraph: tuple[int, int, str] | None = None  # depth of the open p, its line, its id
    broken: bool = False  # the open p has a time that cannot be read
    bad: list[int] = field(default_factory=list)

    @property
    def line(self) -> int:
        return int(self.parser.CurrentLineNumber)

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        name = tag.rpartition("}")[2]
        stack = self.stack
        if len(stack) >= MAX_DEPTH:
            raise SetdownError(f"elements nested more than {MAX_DEPTH} deep", line=self.line, expected="plain TTML")
        if not stack:
            self._start_root(name, attributes)
            return
        parent = stack[-1]
        if name == "agent":
            self.agent = attributes.get(_XML + "id", "")
        if name not in _TIMED:
            stack.append(_Element(name, hidden=True))
            return
        values = {key.rpartition("}")[2]: value for key, value in attributes.items()}
        element = self._place(name, values, parent)
        element.keep = values.get("space", "preserve" if parent.keep else "") == "preserve"
        element.hidden = parent.hidden or values.get("ruby", "") in ("text", "textContainer", "delimiter")
        element.speaker = values.get("agent", "").split(" ")[0] or parent.speaker
        stack.append(element)
        if name == "p" and self.paragraph is None:
            self.paragraph = (len(stack), self.line, attributes.get(_XML + "id", ""))
            self.pieces = []
        elif name == "br" and self.paragraph is not None and not parent.hidden:
            self._add_text("\n", parent)

    def data(self, text: str) -> None:
        if not self.stack:
            return
        top = self.stack[-1]
        if self.paragraph is not None and not top.hidden:
            text = text if top.keep else _SPACES.sub(" ", text)
            if text[0] == " " and not top.keep and (not self.pieces or self.pieces[-1].parts[-1][-1] in " \n"):
                text = text[1:]
            if text:
                self._add_text(text, top)
        elif top.name == "title":
            self.title += text
        elif top.name == "name" and self.agent:
            self.agents[self.agent] = self.agents.get(self.agent, "") + text.strip()

    def end(self, tag: str) -> None:
        if self.paragraph is not None and len(self.stack) == self.paragraph[0]:
            self._finish_paragraph(self.stack[-1])
        element = self.stack.pop()
        if self.stack and element.name in _TIMED:
            # without dur or end of its own an element lasts as long as its children
            done = element.end if element.limited and element.end is not None else element.cursor
            self.stack[-1].cursor = max(self.stack[-1].cursor, done)

    def close(self) -> None:
        return None

    def notices(self) -> list[Notice]:
        if not self.bad:
            return []
        return [Notice("bad-timing", f"{len(self.bad)} caption(s) without usable times were left out", self.bad[0])]

    def _start_root(self, name: str, attributes: dict[str, str]) -> None:
        if name != "tt":
            raise SetdownError(f"the root element is {name!r}", line=self.line, expected="a TTML file with the root tt")
        self.clock = read_clock({key.rpartition("}")[2]: value for key, value in attributes.items()})
        self.language = attributes.get(_XML + "lang", "").strip()
        self.stack.append(_Element(name, keep=attributes.get(_XML + "space") == "preserve"))

    def _place(self, name: str, values: dict[str, str], parent: _Element) -> _Element:
        """The element's interval, from its attributes and its parent's."""
        base = parent.cursor if parent.sequence else parent.begin
        times: dict[str, int | None] = {}
        for key in ("begin", "dur", "end"):
            if key in values:
                times[key] = parse_time(values[key], self.clock)
        begin = base + (times.get("begin") or 0)
        end = parent.end
        if (stated := times.get("end")) is not None:
            end = base + stated if end is None else min(end, base + stated)
        if (length := times.get("dur")) is not None:
            end = begin + length if end is None else min(end, begin + length)
        return _Element(
            name,
            begin,
            end,
            own=bool(times),
            limited=bool(times.keys() & {"end", "dur"}),
            broken=parent.broken or None in times.values(),
            sequence=values.get("timeContainer") == "seq",
            cursor=begin,
        )

    def _add_text(self, text: str, element: _Element) -> None:
        timed = element.own and element.name == "span"
        last = self.pieces[-1] if self.pieces else None
        self.broken = self.broken or element.broken
        if last is not None and (last.begin, last.end) == (element.begin, element.end):
            last.parts.append(text)
        else:
            self.pieces.append(_Piece([text], element.begin, element.end, timed))

    def _finish_paragraph(self, element: _Element) -> None:
        assert self.paragraph is not None
        _, line, identifier = self.paragraph
        self.paragraph = None
        pieces, broken = self.pieces, self.broken
        self.pieces, self.broken = [], False
        if not any(piece.text.strip() for piece in pieces):
            return
        if broken:
            self.bad.append(line)
            return
        refuse_excess(len(self.cues), MAX_CUES, "captions")
        speaker = self.agents.get(element.speaker, "")
        for group in _split_pieces(pieces, own=element.own):
            self.cues.append(_build_cue(group, element, line, identifier, speaker))


def _split_pieces(pieces: list[_Piece], *, own: bool) -> list[list[_Piece]]:
    """A ``p`` without times whose spans are captions of several words is several cues; else it is one."""
    spans = [piece for piece in pieces if piece.timed and piece.text.strip()]
    words = sum(len(piece.text.split()) for piece in spans)
    if own or len(spans) < 2 or words < 2 * len(spans):
        return [pieces]
    groups: list[list[_Piece]] = []
    for piece in pieces:
        if (piece.timed and piece.text.strip()) or not groups:
            groups.append([piece])
        else:
            groups[-1].append(piece)
    if len(groups) > 1 and not any(piece.text.strip() for piece in groups[0]):
        groups[1][:0] = groups.pop(0)
    return groups


def _build_cue(pieces: list[_Piece], element: _Element, line: int, identifier: str, speaker: str) -> RawCue:
    timed = [piece for piece in pieces if piece.timed and piece.text.strip()]
    begin, end = element.begin, element.end
    if timed and not element.own:
        begin = min(piece.begin for piece in timed)
        ends = [piece.end for piece in timed]
        end = None if None in ends else max(value for value in ends if value is not None)
    text = ""
    marks: list[tuple[int, int]] = []
    for piece in pieces:
        if piece.timed and piece.text.strip():
            marks.append((len(text), piece.begin))
        text += piece.text
    return RawCue(begin, end, text, line, identifier, speaker, tuple(marks))


READER = Reader("ttml", "TTML and IMSC captions (.ttml, .dfxp, .xml)", recognise, read)
