"""Plans by the clock: so much work and so much rest, or a start every minute."""

from __future__ import annotations

from setdown.tag.number_words import word_set
from setdown.tag.quantities.build import seconds, whole
from setdown.tag.quantities.durations import LONGEST_WORK, MINUTES, said_length
from setdown.tag.quantities.pattern import Draft, Match, Rule
from setdown.tag.quantities.values import EmomPlan, IntervalPlan

#: Usual lengths of work and rest in seconds; common practice, no source (20 and 10: Tabata et al., MSSE 1996;28(10)).
_WORK_LENGTHS = frozenset({20, 25, 30, 35, 40, 45, 50, 60, 90})
_REST_LENGTHS = frozenset({10, 15, 20, 25, 30})
_INTERVAL_WORDS = word_set(
    "tabata interval intervals timer style format seconds clock work on off rest hiit round rounds protocol beep"
)


def _interval(match: Match) -> Draft | None:
    lengths = []
    for number, token in zip(match.numbers, match.tokens, strict=True):
        said = seconds(number, 60 if match.word(token + 1) in MINUTES else 1)
        if said is None or number.high is not None:
            return None
        lengths.append(said[0])
    words = [match.word(t) for t in range(match.start, match.end)]
    if len(lengths) == 1 and "minute" in words:  # 'a minute on, thirty off'
        lengths.insert(0 if words.index("minute") < match.tokens[0] - match.start else 1, 60)
    if len(lengths) != 2 or not (5 <= lengths[0] <= LONGEST_WORK and 3 <= lengths[1] <= LONGEST_WORK):
        return None
    rounds, end = _rounds_behind(match)
    return Draft("interval", IntervalPlan(lengths[0], lengths[1], rounds), end=end)


_ROUND_WORDS = word_set("rounds times sets of")


def _rounds_behind(match: Match) -> tuple[int | None, int]:
    """'forty on, twenty off, eight rounds': the rounds, and the token after them."""
    token = match.end + (match.word(match.end) in {"for", "and"})
    number, after = match.stream.number_at(token), match.word(token + 1)
    if number is None or after not in _ROUND_WORDS or (after == "of" and match.word(token + 2) not in _THOSE):
        return None, match.end
    return whole(number), token + (3 if after == "of" else 2)


_THOSE = word_set("those these them 'em em")


def _bare_interval(match: Match) -> Draft | None:
    """'forty twenty': two numbers that make a usual work and rest."""
    work, rest = (whole(n) for n in match.numbers)
    if work not in _WORK_LENGTHS or rest not in _REST_LENGTHS or work is None or rest is None or work < rest:
        return None
    around = set(match.stream.text[max(match.start - 12, 0) : match.end + 12])
    written = bool(match.numbers[0].joint)
    score = 0.97 if written else 0.8 if around & _INTERVAL_WORDS else 0.5
    return Draft("interval", IntervalPlan(work, rest), score=score)


def _emom(match: Match) -> Draft:
    """'every minute on the minute', with 'for twelve minutes' when it stands within a few words."""
    minutes, end = None, match.end
    for token in range(match.end, min(match.end + 5, len(match.stream))):
        number = match.stream.number_at(token)
        if number is not None and match.word(token + 1) in MINUTES:
            minutes, end = whole(number), token + 2
            break
    start = match.start
    if minutes is None and match.word(start - 1) in {"minute", "minutes"}:  # 'a twelve minute EMOM'
        number = match.stream.number_at(start - 2)
        if number is not None:
            minutes, start = whole(number), start - 2
    return Draft("emom", EmomPlan(60, minutes, minutes), start, end)


def _every(match: Match) -> Draft | None:
    said = said_length(match)
    return Draft("emom", EmomPlan(said[0])) if said and 20 <= said[0] <= LONGEST_WORK else None


_NO_WORK = "(don't|rest|recover|breathe)"

RULES = (
    Rule(
        "forty on twenty off",
        (
            "# [@second|@minute] [of] @work [and|then|with] # [@second|@minute] [of|to] (@off|@change)",
            "# [@second|@minute] [of] @work [and|then|with] a minute [of] @off",
            "a minute [of] @work [and|then|with] # [@second] [of] @off",
            f"# @second @we (work|go) [and|then] # [@second] @we {_NO_WORK}",
            "work [for] # [@second] [and|then|with] rest [for] # [@second]",
            "on for # [@second] [and|then|with] off for # [@second]",
        ),
        _interval,
        0.97,
        "talk",
    ),
    Rule("forty twenty", ("# #", "# / #", "# - #"), _bare_interval, 0.6),
    Rule(
        "every minute on the minute",
        ("every minute on the minute", "(emom|emoms)", "e mom", "(on|at) the (top|start) of every minute"),
        _emom,
        0.9,
    ),
    Rule("every two minutes", ("every (# @second|# @minute)",), _every, 0.85),
)
