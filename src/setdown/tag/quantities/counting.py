"""Repetitions counted aloud, those still to come, and countdowns."""

from __future__ import annotations

from setdown.tag.quantities.build import OPEN, Unsettled, bounds, stands_free, whole
from setdown.tag.quantities.pattern import Build, Draft, Match, Rule
from setdown.tag.quantities.values import Alternative, Count, Remaining, RepTarget, Seconds

MOST_COUNTED = 200
MOST_REMAINING = 12  # from here on 'ten to go' is rather seconds; common practice, no source


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


def _remaining(match: Match) -> Draft | None:
    number = match.numbers[0]
    both = bounds(number)
    if both is None or not 1 <= both[0] <= 60:
        return None
    low, high = both
    value = Remaining(low, high if high != low else None)
    if low >= 10:  # 'ten to go': seconds and repetitions both say it
        left = Seconds(low, alternatives=(Alternative("remaining", value, 0.4),))
        return Draft("time_left", left, score=0.6)
    if low == 5:
        value = Remaining(5, alternatives=(Alternative("time_left", Seconds(5), 0.35),))
    return Draft("remaining", value)


def _more(match: Match) -> Draft | None:
    """'ten more' is a new demand when it is large, 'two more' is what is left."""
    draft = _remaining(match)
    if draft is None or draft.kind == "remaining":
        return draft
    both = bounds(match.numbers[0])
    assert both is not None
    return Draft("reps", RepTarget(*both, alternatives=(Alternative("remaining", Remaining(both[0]), 0.4),)), score=0.55)


def _fixed_remaining(n: int) -> Build:
    def build(match: Match) -> Draft:
        return Draft("remaining", Remaining(n))

    return build


def _last(match: Match) -> Draft | None:
    if not match.numbers:
        return Draft("remaining", Remaining(3))  # 'last handful'
    n = whole(match.numbers[0])
    if n is None or n < 1:
        return None
    if n >= 10:
        other = Alternative("remaining", Remaining(n), 0.4)
        return Draft("time_left", Seconds(n, alternatives=(other,)), score=0.65)
    return Draft("remaining", Remaining(n))


RULES = (
    Rule("that's three", (
        "(that's|thats|that was|that makes|there's|that is|this is|here's) {#}", "(we're|you're|i'm) (at|on) {#}", "(makes|is) {#}"), _told, 0.62),
    Rule("that's your ten", ("(that's|thats|that was|there's) {(your|the|our|all|my) #}", "(that's|thats|that was|there's) {your #} (done|gone)"), _whole_set, 0.82),
    Rule("five down", ("# (down|done|gone|already|so far|in the bank|in the bag|complete)",), _count, 0.6, "word"),
    Rule("that's eight of them", ("(that's|thats|that was) {# of (them|those|em|'em|these)}",), _count, 0.87),
    Rule("number eight", ("(and|that's|on) {number #}",), _count, 0.6),
    Rule("tenth one", ("(and|on) (the|your|that) {#th (one|rep)}",), _count, 0.5),
    Rule("two more", (
        "# more", "# more (reps|rep|of (those|them|these|'em|em|each)|to go|left|like that|for me|each|each side)", "# (extra|others)"), _more, 0.88),
    Rule("couple more", ("#~ (more|to go|left)", "#~ more (reps|for me|of those|of these|of them|to go)"), _remaining, 0.9),
    Rule("last one", ("(last|final) (one|1|rep|1 rep|one rep)", "(last|final) [and] (one|rep) (coming|coming up|here|like that)", "(last|final) wee one"), _fixed_remaining(1), 0.84),
    Rule("one more", ("(one|1) more [rep|time|for me|of those|like that]", "(one|1) last (one|rep|time)", "once more", "(one|1) (final one|to come)"), _fixed_remaining(1), 0.84),
    Rule("last two", ("(last|final) [@good] #", "(last|final) (few|couple|handful)", "these last #"), _last, 0.84),
    Rule("four to go", (
        "# (to go|left|remaining|to come|left to go|to finish)", "(only|just) {# (left|to go|more)}", "# (left|to go) (in|on|here|on this|for)"), _remaining, 0.88, "word"),
)
