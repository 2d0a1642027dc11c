"""Repetitions counted aloud, and those still to come."""

from __future__ import annotations

from setdown.tag.number_words import word_set
from setdown.tag.quantities.build import OPEN, Unsettled, bounds, stands_free, whole
from setdown.tag.quantities.durations import TIME_WORDS
from setdown.tag.quantities.pattern import Build, Draft, Match, Rule
from setdown.tag.quantities.values import Count, Remaining

MOST_COUNTED = 200
MANY = 10  # from here on 'ten to go' is rather seconds; common practice, no source
FEW = 5  # fewer than these to go are repetitions; of more, seconds say it too; common practice, no source
_LEFT_WHAT = word_set("leg arm hand foot side knee hip elbow shoulder go then heel ankle")


def _count(match: Match) -> Draft | None:
    number = match.numbers[-1]
    n = whole(number)
    if n is None or not 1 <= n <= MOST_COUNTED or number.high is not None:
        return None
    return Draft("count", Count(n, n))


def _told(match: Match) -> Draft | None:
    """'that's three': counted, unless it is what was put on the bar or held, or is asked for ('ten from you')."""
    number, after = match.numbers[-1], match.word(match.end)
    n = whole(number)
    if not stands_free(match.stream, match.tokens[-1]) or after == "with" or number.high is not None:
        return None
    if n is None or n < 1:
        return None
    if after in {"from", "for"} and match.word(match.end + 1) in {"you", "me", "us"}:
        return Draft(OPEN, Unsettled(number, {"reps": 0.7}), score=0.65)
    priors = {"count": 0.58, "reps": 0.2, "load": 0.1} if n > 1 else {"count": 0.58}
    return Draft(OPEN, Unsettled(number, priors))


def _whole_set(match: Match) -> Draft | None:
    """'that's your ten': the count of a finished set."""
    number = match.numbers[-1]
    n = whole(number)
    free = stands_free(match.stream, match.tokens[-1])
    if n is None or not 2 <= n <= MOST_COUNTED or number.high is not None or not free:
        return None
    return Draft("count", Count(n, n))


def _fixed_remaining(n: int) -> Build:
    def build(match: Match) -> Draft:
        return Draft("remaining", Remaining(n))

    return build


def _still_to_come(reps: float, time_left: float) -> Build:
    """A few are repetitions to come; of five and more, seconds and a new demand say it too."""

    def build(match: Match) -> Draft | None:
        if not match.numbers:
            return Draft("remaining", Remaining(3))  # 'last handful'
        number, token = match.numbers[0], match.tokens[0]
        both = bounds(number)
        if both is None or not 1 <= both[0] <= 60 or number.form == "plural":
            return None
        if match.word(token + 1) == "left" and match.word(token + 2) in _LEFT_WHAT:
            return None  # 'ten, left leg'
        if match.word(match.end) in TIME_WORDS:
            return None
        low, high = both
        if low < FEW:
            return Draft("remaining", Remaining(low, high if high != low else None))
        many = low >= MANY
        priors = {"remaining": 0.4 if many else 0.5, "reps": reps, "time_left": time_left + (0.08 if many else 0.0)}
        return Draft(OPEN, Unsettled(number, priors))

    return build


RULES = (
    Rule(
        "that's three",
        (
            "(@that|that was|that makes|there's|that is|this is|here's) {#}",
            "(we're|you're|i'm) at {#}",
            "(makes|is) {#}",
        ),
        _told,
        0.62,
    ),
    Rule("that's your ten", ("(@that|that was|there's) {(your|the|our|all|my) #}",), _whole_set, 0.82),
    Rule("that's eight of them", ("(@that|that was) {# of @them}",), _count, 0.87),
    Rule("five done", ("# (done|gone|already|so far|in the bank|in the bag|complete)",), _count, 0.6, "word"),
    Rule("number eight", ("(and|that's|on|at) {(number|rep) #}",), _count, 0.6),
    Rule("tenth rep", ("(and|on) (the|your|that) {#th rep}",), _count, 0.55),
    Rule(
        "two more",
        (
            "# more [@reps|of @them|to go|left|like that|for me|each|each side]",
            "# (extra|others)",
        ),
        _still_to_come(0.42, 0.2),
        0.88,
    ),
    Rule(
        "couple more",
        ("#~ (more|to go|left)", "#~ more (@reps|for me|of @them|to go)"),
        _still_to_come(0.2, 0.2),
        0.9,
    ),
    Rule(
        "last one",
        ("(last|final) [wee|little] (one|1|rep|1 rep|one rep) [coming [up]|here|like that]",),
        _fixed_remaining(1),
        0.84,
    ),
    Rule(
        "one more",
        (
            "(one|1) more [rep|time|for me|of those|like that]",
            "(one|1) last (one|rep|time)",
            "once more",
            "(one|1) to come",
        ),
        _fixed_remaining(1),
        0.9,
    ),
    Rule("last two", ("[these] (last|final) [@good] #", "(last|final) handful"), _still_to_come(0.26, 0.42), 0.84),
    Rule(
        "four to go",
        ("[only|just] # (to go|left|remaining|to come|left to go|to finish) [in|on|here|for]",),
        _still_to_come(0.1, 0.45),
        0.88,
        "word",
    ),
)
