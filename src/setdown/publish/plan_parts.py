"""The parts of a written plan, as the layouts take them: every text is plain and still to be escaped."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Turn:
    """One time round of a move: its round or set number, what was done with what, and room for the reader's own."""

    number: int
    dose: str
    load: str
    finisher: str


@dataclass(frozen=True, slots=True)
class Move:
    """One row of the plan. ``label`` is ``B1`` (``B`` alone where the group has one move); ``at`` is class time."""

    label: str
    name: str
    at: str
    dose: str
    load: str
    finisher: str
    tempo: str
    effort: str
    cues: tuple[str, ...]
    easier: tuple[str, ...]
    harder: tuple[str, ...]
    cautions: tuple[str, ...]
    turns: tuple[Turn, ...]
    timed: bool

    @property
    def notes(self) -> tuple[tuple[str, str, str], ...]:
        """Everything to say about the move, most useful first: kind, key of the word in front of it, text."""
        told = [("plain", "", text) for text in (self.tempo, self.effort) if text]
        told += [("cue", "", text) for text in self.cues]
        told += [("easier", "move.easier", text) for text in self.easier]
        told += [("harder", "move.harder", text) for text in self.harder]
        return (*told, *(("caution", "move.caution", text) for text in self.cautions))


@dataclass(frozen=True, slots=True)
class PlanGroup:
    """What is done together: ``how``, in how many ``rounds``; ``order`` is told only where it is unusual."""

    letter: str
    how: str
    rounds: str
    rest: str
    order: str
    passes: int
    loops: bool
    logged: bool
    moves: tuple[Move, ...]


@dataclass(frozen=True, slots=True)
class PlanSection:
    kind: str
    heading: str
    start: str
    minutes: str
    groups: tuple[PlanGroup, ...]


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of the class for the strip: kind of section, share of the class from 0 to 1, and what to call it."""

    kind: str
    start: float
    share: float
    title: str

    @property
    def width(self) -> float:
        """Of a thousand, with a sliver left free before the next one."""
        return max(1.0, self.share * 1000 - 3)


@dataclass(frozen=True, slots=True)
class Share:
    """A muscle group and its sets, as text and as a share of the most."""

    name: str
    sets: str
    share: float


@dataclass(frozen=True, slots=True)
class Plan:
    """The whole plan. ``said_first`` are the instructor's own cautions from before the first set."""

    title: str
    language: str
    draft: bool
    byline: str
    trains: str
    facts: tuple[tuple[str, str], ...]
    kit: tuple[str, ...]
    cautions: tuple[str, ...]
    said_first: tuple[str, ...]
    sections: tuple[PlanSection, ...]
    strip: tuple[Span, ...]
    muscles: tuple[Share, ...]
    figures: tuple[tuple[str, str], ...]
    counting: str
    afterwards: tuple[str, ...]
    source: str
