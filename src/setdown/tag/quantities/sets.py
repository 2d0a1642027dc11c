"""How many sets or rounds, and which one it is."""

from __future__ import annotations

from typing import Literal

from setdown.tag.quantities.build import bounds, whole
from setdown.tag.quantities.pattern import Build, Draft, Match, Rule
from setdown.tag.quantities.values import RoundMark, SetCount

_SET_WORDS = frozenset({"set", "sets"})
MOST_SETS = 30


def _unit(match: Match) -> Literal["set", "round"]:
    words = {match.word(t) for t in range(match.outer_start, match.outer_end)}
    return "set" if words & _SET_WORDS else "round"


def _count(match: Match) -> Draft | None:
    both = bounds(match.numbers[0])
    if both is None or not 1 <= both[0] <= both[1] <= MOST_SETS:
        return None
    words = {match.word(t) for t in range(match.start, match.end)}
    return Draft("sets", SetCount(*both, _unit(match), more="more" in words))


def _fixed_count(n: int) -> Build:
    def build(match: Match) -> Draft:
        return Draft("sets", SetCount(n, n, "round"))

    return build


def _mark(match: Match) -> Draft | None:
    """'round two', 'second set'."""
    number = whole(match.numbers[0])
    if number is None or not 1 <= number <= 60 or match.numbers[0].form in {"fraction", "vague"}:
        return None
    before, after = match.word(match.start - 1), match.word(match.end)
    done = before in {"that's", "thats"} or after in {"done", "down", "finished", "complete"}
    return Draft("round", RoundMark(number, unit=_unit(match), done=done))


def _mark_of(match: Match) -> list[Draft] | None:
    """'round two of three': the mark and the count."""
    number, total = (whole(n) for n in match.numbers)
    if number is None or total is None or not 1 <= number <= total <= MOST_SETS:
        return None
    unit, second = _unit(match), match.tokens[1]
    return [
        Draft("round", RoundMark(number, last=number == total, unit=unit), match.start, second),
        Draft("sets", SetCount(total, total, unit), second, match.end),
    ]


def _minute_mark(match: Match) -> Draft | None:
    """'minute four' of a class that starts every minute."""
    number = whole(match.numbers[0])
    if number is None or not 1 <= number <= 60:
        return None
    return Draft("round", RoundMark(number, unit="minute"))


def _last(match: Match) -> Draft:
    done = match.word(match.start - 1) in {"that's", "was"}
    return Draft("round", RoundMark(None, last=True, unit=_unit(match), done=done))


def _done(match: Match) -> Draft | None:
    number = whole(match.numbers[0]) if match.numbers else 1
    if number is None or not 1 <= number <= 20:
        return None
    return Draft("round", RoundMark(number, unit=_unit(match), done=True))


_THROUGH = "[through|round|around]"

RULES = (
    Rule("three sets", ("# [more|@good|total|working] @sets",), _count, 0.93),
    Rule("three rounds", ("# [more|@good|total|full] (rounds|laps|circuits|cycles|passes|trips|lots|goes|turns|run-throughs)",), _count, 0.93),
    Rule("two times through", ("# times [all] (through|round|around|over|each|in|total|apiece)", "# (times|time) of (that|this|those|everything)"), _count, 0.92),
    Rule("three times", ("# times",), _count, 0.5),
    Rule("twice through", (
        "twice [all|the whole way] (through|round|around|over|each)",
        "[do|through|them|it|that|those|each|everything|all|this|pair|trio|of them|move] {twice}"), _fixed_count(2), 0.8),
    Rule("once through", ("[just|only|run] {once (through|round|around|each)}",), _fixed_count(1), 0.7),
    Rule("thrice", ("thrice", "three times over"), _fixed_count(3), 0.8),
    Rule("round two", ("(round|lap|circuit|set) [number] #", "[this is] set #"), _mark, 0.86),
    Rule("round two of three", ("(round|lap|circuit|set) [number] # of #", "#th (round|set|lap) of #"), _mark_of, 0.93),
    Rule("minute four", ("minute [number] #", "minute #th"), _minute_mark, 0.88),
    Rule("second round", ("#th (@round1|set|sets|rounds|time) [through|round|around]",), _mark, 0.85),
    Rule("last round", (
        f"(last|final) (@round1|set|rounds|go-round|spin) {_THROUGH}", "(last|final) time (through|round|around|on|for|with|to)",
        f"(last|final) (lap|trip|set|round) {_THROUGH}", f"(last|final) (go|pass) {_THROUGH}"), _last, 0.88),
    Rule("one more round", (f"(one|1) (more|last|final) (@round1|set) {_THROUGH}", "(one|1) (more|last) time (through|round|around)"), _last, 0.9),
    Rule("that's once through", (
        "(that's|thats|that was) {once (through|round|around)}",
        "(that's|thats|that was) {# (rounds|sets|round|set|lap|laps|times) [down|done|through]}",
        "# (round|set|sets|rounds|laps|lap) (down|done|gone|finished)"), _done, 0.92),
)
