"""How slowly, how hard, how many breaths."""

from __future__ import annotations

from itertools import pairwise

from setdown.tag.quantities.build import bounds, each_side_end, whole
from setdown.tag.quantities.pattern import Build, Draft, Match, Rule
from setdown.tag.quantities.values import Breaths, Effort, Phase, Tempo

LONGEST_PHASE = 10  # seconds; common practice, no source
MOST_IN_RESERVE = 6


def _digits(match: Match) -> Draft | None:
    """'3-1-1': lowering, pause, lifting (and pause); seconds of each, none above nine, never a countdown."""
    seconds = [whole(n) for n in match.numbers]
    values = tuple(s for s in seconds if s is not None and s <= 9)
    if len(values) != len(seconds) or all(b - a == -1 for a, b in pairwise(values)):
        return None
    return Draft("tempo", Tempo(values, "all"))


def _phase(phase: Phase) -> Build:
    def build(match: Match) -> Draft | None:
        n = whole(match.numbers[0])
        return Draft("tempo", Tempo((n,), phase)) if n is not None and 1 <= n <= LONGEST_PHASE else None

    return build


def _rpe(match: Match) -> Draft | None:
    both = bounds(match.numbers[0])
    return Draft("effort", Effort("rpe", *both)) if both and 1 <= both[0] <= both[1] <= 10 else None


def _in_reserve(match: Match) -> Draft | None:
    both = bounds(match.numbers[0])
    return Draft("effort", Effort("rir", *both)) if both and 0 <= both[0] <= both[1] <= MOST_IN_RESERVE else None


def _breaths(match: Match) -> Draft | None:
    both = bounds(match.numbers[0])
    if both is None or not 1 <= both[0] <= both[1] <= 60:
        return None
    end = each_side_end(match.stream, match.end)
    return Draft("breaths", Breaths(*both, each_side=end > match.end), end=max(end, match.end))


_DOWN = "(down|lowering|lower|on the way down|on the lower|on the eccentric|eccentric|going down|coming down|back down)"
_UP = "(up|on the way up|on the lift|to lift|going up|coming up|back up)"
_UNIT = "(seconds|second|counts|count|secs)"

RULES = (
    Rule(
        "three one one tempo",
        ("# - # - #", "# - # - # - #", "tempo [is|of|at] {# # #}", "{# # #} tempo", "tempo [is|of|at] {# # # #}"),
        _digits,
        0.86,
    ),
    Rule(
        "three seconds down",
        (
            f"# {_UNIT} {_DOWN}",
            f"(down|lower|lowering) (for|in|over) [a [slow] count of] # [{_UNIT}]",
            "# (down|lowering) # up",
        ),
        _phase("lower"),
        0.93,
    ),
    Rule(
        "three seconds up",
        (f"# {_UNIT} {_UP}", f"(up|lift|press|drive) (for|in|over) [a count of] # [{_UNIT}]"),
        _phase("lift"),
        0.78,
    ),
    Rule(
        "slow four count",
        (
            "slow # (count|seconds)",
            "# count (down|lower|lowering|negative|eccentric)",
            "(slow|long) {count of #}",
        ),
        _phase("lower"),
        0.8,
    ),
    Rule(
        "pause for two",
        (
            "(pause|hold) [it] [at the (bottom|top)] for [a] # (count|counts)",
            "# second (pause|squeeze) [at|on]",
            "# count (hold|pause)",
        ),
        _phase("hold"),
        0.86,
    ),
    Rule(
        "seven out of ten",
        (
            "# out of (ten|10)",
            "(rpe|effort level) [of|is|@about] #",
            "# on the (effort|rpe) [scale]",
            "a # (effort|rpe)",
        ),
        _rpe,
        0.86,
    ),
    Rule(
        "two in the tank",
        ("# [reps|rep|more|or so] [left] in (the tank|reserve|hand|you)", "# (rir|reps in reserve)"),
        _in_reserve,
        0.94,
    ),
    Rule(
        "five breaths",
        ("# [@good] [@good] (breath|breaths)", "# _ [_] (breath|breaths)", "# (inhales|exhales)"),
        _breaths,
        0.93,
    ),
)
