"""How many sets or rounds, which one it is, and the reps of each ('three sets of ten', 'twelve, ten, eight')."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Literal

from setdown.tag.number_words import word_set
from setdown.tag.quantities.build import bounds, each_side_end, rep_target, whole
from setdown.tag.quantities.pattern import Build, Draft, Match, Rule
from setdown.tag.quantities.values import Alternative, Other, RepScheme, RepTarget, RoundMark, SetCount

MOST_SETS = 30
MOST_REPS_OF_SCHEME = 60
FEW_TIMES = 4  # up to so many 'times' are rather rounds than repetitions; common practice, no source
_TELLING = word_set("said say told tell asked seen watched tried done heard mentioned fell been")


def _unit(match: Match) -> Literal["set", "round"]:
    words = {match.word(t) for t in range(match.outer_start, match.outer_end)}
    return "set" if words & {"set", "sets"} else "round"


def _count(match: Match) -> Draft | None:
    both = bounds(match.numbers[0])
    if both is None or not 1 <= both[0] <= both[1] <= MOST_SETS:
        return None
    words = {match.word(t) for t in range(match.start, match.end)}
    return Draft("sets", SetCount(*both, _unit(match), more="more" in words))


def _times(match: Match) -> Draft | None:
    """'ten times' is repetitions, 'three times' rather rounds; not 'I said it about nine times'."""
    both = bounds(match.numbers[0])
    if both is None or not 1 <= both[0] <= 200:
        return None
    if _TELLING & set(match.stream.text[max(match.start - 5, 0) : match.start]):
        return Draft("other", Other("talk", match.numbers[0].value))
    reps, rounds = RepTarget(*both), SetCount(*both, "round")
    if both[0] > FEW_TIMES:
        return Draft("reps", replace(reps, alternatives=(Alternative("sets", rounds, 0.2),)), score=0.68)
    return Draft("sets", replace(rounds, alternatives=(Alternative("reps", reps, 0.45),)), score=0.5)


def _fixed_count(n: int) -> Build:
    def build(match: Match) -> Draft:
        return Draft("sets", SetCount(n, n, "round"))

    return build


def _twice(match: Match) -> Draft | None:
    """A lone 'twice'; not 'think twice', 'once or twice', 'twice the price'."""
    before, after = match.word(match.start - 1), match.word(match.end)
    if before in {"think", "or", "about", "once", "than"} or after in {"a", "as", "the", "this", "that", "now"}:
        return None
    return Draft("sets", SetCount(2, 2, "round"))


def _sets_of(match: Match) -> Sequence[Draft] | None:
    """Two mentions: how many sets, and the repetitions of each."""
    if len(match.numbers) != 2:
        return None
    sets, reps = whole(match.numbers[0]), rep_target(match.numbers[1])
    if sets is None or reps is None or not 1 <= sets <= MOST_SETS:
        return None
    if sets == 1 and match.word(match.tokens[0] + 1) == "by":
        return None  # 'one by one'
    end = each_side_end(match.stream, match.end)
    first, second = match.tokens
    return [
        Draft("sets", SetCount(sets, sets, "set"), first, second),
        Draft("reps", replace(reps, each_side=end > match.end), second, max(end, match.end)),
    ]


def _reps_of_sets(match: Match) -> Draft | None:
    end = each_side_end(match.stream, match.end)
    target = rep_target(match.numbers[0], each_side=end > match.end)
    return None if target is None else Draft("reps", target, end=max(end, match.end))


def _scheme(match: Match) -> Draft | None:
    """Falling or rising numbers, each a plausible set; not a count, whose steps are one."""
    values = [whole(n) for n in match.numbers]
    reps = [v for v in values if v is not None and 1 <= v <= MOST_REPS_OF_SCHEME]
    if len(reps) != len(values) or any(n.high or n.form.startswith("count") for n in match.numbers):
        return None
    steps = [b - a for a, b in pairwise(reps)]
    moved = [s for s in steps if s]  # 'ten, ten, then eight' repeats one
    if len(moved) * 2 < len(steps) or not (all(s <= -2 for s in moved) or all(s >= 2 for s in moved)):
        return None
    if reps[0] < 4 and len(reps) < 4:
        return None
    end = each_side_end(match.stream, match.end)
    return Draft("scheme", RepScheme(tuple(reps), each_side=end > match.end), end=max(end, match.end))


def _mark(match: Match) -> Draft | None:
    """'round two', 'second set'."""
    number = match.numbers[0]
    n = whole(number)
    if n is None or not 1 <= n <= 60 or number.form in {"fraction", "vague"}:
        return None
    placed = match.stream.number_at(match.start - 1)
    if placed is not None and placed.form == "ordinal" and number.form != "ordinal":
        return None  # 'second set, ten this time'
    done = match.word(match.start - 1) in {"that's", "thats"}
    done = done or match.word(match.end) in {"done", "down", "finished", "complete"}
    return Draft("round", RoundMark(n, unit=_unit(match), done=done))


def _mark_of(match: Match) -> list[Draft] | None:
    """'round two of three': the mark and the count."""
    n, total = (whole(number) for number in match.numbers)
    if n is None or total is None or not 1 <= n <= total <= MOST_SETS:
        return None
    unit, second = _unit(match), match.tokens[1]
    return [
        Draft("round", RoundMark(n, last=n == total, unit=unit), match.start, second),
        Draft("sets", SetCount(total, total, unit), second, match.end),
    ]


def _minute_mark(match: Match) -> Draft | None:
    """'minute four' of a class that starts every minute; not 'half a minute, one foot'."""
    n = whole(match.numbers[0])
    before = match.word(match.start - 1)
    if n is None or not 1 <= n <= 60 or before in {"a", "full", "whole", "one", "half"}:
        return None
    return Draft("round", RoundMark(n, unit="minute"))


def _last(match: Match) -> Draft:
    done = match.word(match.start - 1) in {"that's", "was"}
    return Draft("round", RoundMark(None, last=True, unit=_unit(match), done=done))


def _done(match: Match) -> Draft | None:
    n = whole(match.numbers[0]) if match.numbers else 1
    return Draft("round", RoundMark(n, unit=_unit(match), done=True)) if n is not None and 1 <= n <= 20 else None


_THEN = "[and|then|and then]"
_ROWS = (f"# {_THEN} # {_THEN} #", f"# {_THEN} # {_THEN} # {_THEN} #", f"# {_THEN} # {_THEN} # {_THEN} # {_THEN} #")

RULES = (
    Rule("three sets", ("# [more|@good|working] @sets",), _count, 0.93),
    Rule("three rounds", ("# [more|@good] (@rounds|round)",), _count, 0.93),
    Rule(
        "two times through",
        ("# times [all] (@through|over|each|in|total|apiece)", "# (times|time) of (that|this|those|everything)"),
        _count,
        0.92,
    ),
    Rule("ten times", ("# times",), _times, 0.6),
    Rule(
        "twice through",
        (
            "twice [all|the whole way] (@through|over|each)",
            "(do|through|them|it|that|those|each|everything|all|this|pair|trio|move) {twice}",
        ),
        _fixed_count(2),
        0.8,
    ),
    Rule("twice", ("{twice}",), _twice, 0.5),
    Rule("once through", ("[just|only|run] {once (@through|each)}",), _fixed_count(1), 0.7),
    Rule("thrice", ("thrice", "three times over"), _fixed_count(3), 0.95),
    Rule("sets of ten", ("@sets of {#}",), _reps_of_sets, 0.9),
    Rule(
        "three sets of ten",
        (
            "# [@good] [@good] (@sets|rounds|lots|@batches) [of] #",
            "# @sets of (somewhere between|between|@about) #",
        ),
        _sets_of,
        0.94,
    ),
    Rule("three by ten", ("# (by|x) #",), _sets_of, 0.86),
    Rule(
        "twelve, ten, eight",
        (*_ROWS, "# - # - #", "# - # - # - #", "# - # - # - # - #"),
        _scheme,
        0.84,
        "talk",
    ),
    Rule("round two", ("(round|lap|circuit|set) [number] #",), _mark, 0.86),
    Rule("round two of three", ("(round|lap|circuit|set) [number] # of #",), _mark_of, 0.93),
    Rule("minute four", ("minute [number] #", "minute #th"), _minute_mark, 0.88),
    Rule("second round", ("#th (@round1|set|sets|rounds|time) [@through]",), _mark, 0.85),
    Rule(
        "last round",
        ("(last|final) (@round1|set|rounds) [@through]", "(last|final) time (@through|on|for|with|to)"),
        _last,
        0.88,
    ),
    Rule(
        "one more round",
        ("(one|1) (more|last|final) (@round1|set) [@through]", "(one|1) (more|last) time @through"),
        _last,
        0.95,
    ),
    Rule(
        "that's once through",
        (
            "(@that|that was) {once @through}",
            "(@that|that was) {# (@rounds|@sets|round|lap|times) [down|done|through]}",
            "# (@sets|round|rounds|laps|lap) (down|done|gone|finished)",
        ),
        _done,
        0.92,
    ),
)
