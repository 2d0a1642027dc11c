"""How many sets or rounds, and which one it is."""

from __future__ import annotations

from setdown.tag.quantities.build import bounds, whole
from setdown.tag.quantities.pattern import Build, Draft, Match, Rule
from setdown.tag.quantities.values import RoundMark, SetCount

_SET_WORDS = frozenset({"set", "sets"})
MOST_SETS = 30


def _unit(match: Match) -> str:
    words = {match.word(t) for t in range(match.outer_start, match.outer_end)}
    return "set" if words & _SET_WORDS else "round"


def _count(match: Match) -> Draft | None:
    both = bounds(match.numbers[0])
    if both is None or not 1 <= both[0] <= both[1] <= MOST_SETS:
        return None
    return Draft("sets", SetCount(*both, "set" if _unit(match) == "set" else "round"))


def _fixed_count(n: int) -> Build:
    def build(match: Match) -> Draft:
        return Draft("sets", SetCount(n, n, "round"))

    return build


def _mark(match: Match) -> Draft | None:
    """'round two', 'second set'; with 'of three' behind it the whole count too is known from the words."""
    number = whole(match.numbers[0])
    if number is None or not 1 <= number <= 60:
        return None
    word = match.word(match.start)
    unit = "set" if _unit(match) == "set" else "round"
    done = match.word(match.start - 1) in {"that's", "thats"} or match.word(match.end) in {"done", "down", "finished"}
    del word
    return Draft("round", RoundMark(number, unit="set" if unit == "set" else "round", done=done))


def _last(match: Match) -> Draft:
    unit = "set" if _unit(match) == "set" else "round"
    done = match.word(match.start - 1) in {"that's", "was"}
    return Draft("round", RoundMark(None, last=True, unit="set" if unit == "set" else "round", done=done))


def _done(match: Match) -> Draft | None:
    number = whole(match.numbers[0]) if match.numbers else 1
    if number is None or not 1 <= number <= 20:
        return None
    return Draft("round", RoundMark(number, unit="set" if _unit(match) == "set" else "round", done=True))


RULES = (
    Rule("three sets", ("# [more|@good|total|working] @sets",), _count, 0.93),
    Rule("three rounds", ("# [more|@good|total|full] (rounds|laps|circuits|cycles|passes|trips|lots|goes|turns|run-throughs)",), _count, 0.93),
    Rule("two times through", ("# times [all] (through|round|around|over|each|in|total)", "# (times|time) of (that|this|those|everything)"), _count, 0.92),
    Rule("three times", ("{# times}",), _count, 0.6),
    Rule("twice through", ("twice [all|the whole way] (through|round|around|over|each)", "[do|through|them|it|that|those|each|everything|all|this] {twice}"), _fixed_count(2), 0.8),
    Rule("once through", ("[just|only|run] {once (through|round|around|each)}",), _fixed_count(1), 0.7),
    Rule("three times each", ("{thrice}",), _fixed_count(3), 0.8),
    Rule("round two", ("(round|lap|circuit|set) (number|) #",), _mark, 0.85),
    Rule("second round", ("#th (@round1|set|sets|rounds|time) [through|round|around|of]",), _mark, 0.85),
    Rule("last round", ("(last|final) (@round1|set|rounds) [through|round|around]", "(last|final) time (through|round|around|on|for|with|to)", "(last|final) (times|trip|lap)"), _last, 0.88),
    Rule("one more round", ("(one|1) (more|last|final) (@round1|set|time) [through|round|around]",), _last, 0.8),
    Rule("that's once through", ("(that's|thats|that was) {once (through|round|around)}", "(that's|thats|that was) {# (rounds|sets|round|set|lap|laps|times) [down|done|through]}", "# (round|set|sets|rounds|laps|lap) (down|done|gone|finished)"), _done, 0.9),
)
