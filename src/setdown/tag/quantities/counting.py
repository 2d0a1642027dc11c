"""Repetitions counted aloud, those still to come, and countdowns."""

from __future__ import annotations

from setdown.tag.quantities.build import OPEN, Unsettled, bounds, stands_free, whole
from setdown.tag.quantities.pattern import Build, Draft, Match, Rule
from setdown.tag.quantities.values import Count, Remaining

MOST_COUNTED = 200


def _count(match: Match) -> Draft | None:
    number = match.numbers[-1]
    n = whole(number)
    if n is None or not 1 <= n <= MOST_COUNTED or number.high is not None:
        return None
    return Draft("count", Count(n, n))


def _told(match: Match) -> Draft | None:
    """'that's three': counted, unless it is what was put on the bar or held."""
    number = match.numbers[-1]
    if not stands_free(match.stream, match.tokens[-1]) or match.word(match.end) == "with" or number.high is not None:
        return None
    n = whole(number)
    if n is None or n < 1:
        return None
    priors = {"count": 0.58, "reps": 0.2, "load": 0.1} if n > 1 else {"count": 0.58}
    return Draft(OPEN, Unsettled(number, priors), score=0.6)


def _whole_set(match: Match) -> Draft | None:
    """'that's your ten': the count of a finished set."""
    number = match.numbers[-1]
    n = whole(number)
    if n is None or not 2 <= n <= MOST_COUNTED or number.high is not None or not stands_free(match.stream, match.tokens[-1]):
        return None
    return Draft("count", Count(n, n))


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
        low, high = both
        value = Remaining(low, high if high != low else None)
        if low < FEW:
            return Draft("remaining", value)
        priors = {"remaining": 0.5, "reps": reps, "time_left": time_left}
        return Draft(OPEN, Unsettled(number, priors), score=0.62)

    return build


#: Fewer than these to go are repetitions; common practice, no source.
FEW = 5
_LEFT_WHAT = frozenset("leg arm hand foot side knee hip elbow shoulder go then heel ankle".split())


def _fixed_remaining(n: int) -> Build:
    def build(match: Match) -> Draft:
        return Draft("remaining", Remaining(n))

    return build


RULES = (
    Rule("that's three", (
        "(that's|thats|that was|that makes|there's|that is|this is|here's) {#}", "(we're|you're|i'm) at {#}", "(makes|is) {#}"), _told, 0.62),
    Rule("that's your ten", ("(that's|thats|that was|there's) {(your|the|our|all|my) #}", "(that's|thats|that was|there's) {your #} (done|gone)"), _whole_set, 0.82),
    Rule("five done", ("# (done|gone|already|so far|in the bank|in the bag|complete)",), _count, 0.6, "word"),
    Rule("that's eight of them", ("(that's|thats|that was) {# of (them|those|em|'em|these)}",), _count, 0.87),
    Rule("number eight", ("(and|that's|on) {number #}",), _count, 0.6),
    Rule("tenth one", ("(and|on) (the|your|that) {#th (one|rep)}",), _count, 0.5),
    Rule("two more", (
        "# more", "# more (reps|rep|of (those|them|these|'em|em|each)|to go|left|like that|for me|each|each side)", "# (extra|others)"), _still_to_come(0.42, 0.2), 0.88),
    Rule("couple more", ("#~ (more|to go|left)", "#~ more (reps|for me|of those|of these|of them|to go)"), _still_to_come(0.2, 0.2), 0.9),
    Rule("last one", ("(last|final) (one|1|rep|1 rep|one rep)", "(last|final) [and] (one|rep) (coming|coming up|here|like that)", "(last|final) wee one"), _fixed_remaining(1), 0.84),
    Rule("one more", ("(one|1) more [rep|time|for me|of those|like that]", "(one|1) last (one|rep|time)", "once more", "(one|1) (final one|to come)"), _fixed_remaining(1), 0.84),
    Rule("last two", ("(last|final) [@good] #", "(last|final) (few|couple|handful)", "these last #"), _still_to_come(0.26, 0.42), 0.84),
    Rule("four to go", (
        "# (to go|left|remaining|to come|left to go|to finish)", "(only|just) {# (left|to go|more)}", "# (left|to go) (in|on|here|on this|for)"), _still_to_come(0.1, 0.45), 0.88, "word"),
)
