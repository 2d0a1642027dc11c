"""How many exercises there are, and which one of them is meant."""

from __future__ import annotations

from setdown.tag.quantities.build import stands_free, whole
from setdown.tag.quantities.pattern import Draft, Match, Rule
from setdown.tag.quantities.values import Count, Moves, OrdinalRef

MOST_MOVES = 6  # a block seldom has more: 'the tenth one' is a repetition; common practice, no source


def _moves(match: Match) -> Draft | None:
    number = match.numbers[0]
    n = whole(number)
    if n is None or not 1 <= n <= 60 or number.high is not None:
        return None
    if n > MOST_MOVES and match.word(match.end - 1) in {"lifts", "stretches", "drills"}:
        return None  # 'twenty lifts' are repetitions
    return Draft("moves", Moves(n))


def _place(match: Match) -> Draft | None:
    number = match.numbers[0]
    n = whole(number)
    if n is None or not 1 <= n <= 60:
        return None
    if number.form == "cardinal" and not stands_free(match.stream, match.tokens[0]):
        return None  # 'move three steps back'
    if match.word(match.end - 1) == "one" and n > MOST_MOVES:
        return Draft("count", Count(n, n), score=0.7)
    return Draft("ordinal", OrdinalRef(n))


def _last_place(match: Match) -> Draft:
    return Draft("ordinal", OrdinalRef(-1))


RULES = (
    Rule(
        "three exercises",
        (
            "# [@good|different|more|main|simple] @thing",
            "# (groups|blocks|supersets|trios|pairs|couplets|sections|parts) [of #]",
            "# things (today|once|back|each)",
        ),
        _moves,
        0.85,
    ),
    Rule(
        "second one",
        ("[the|my|our|your] #th (@thing1|one's|ones|exercise's|lift's|move's)",),
        _place,
        0.88,
    ),
    Rule(
        "move three",
        (
            "(exercise|move|movement|station|lift|stretch|drill|stage) [number] #",
            "(pair|trio|superset|group|block|part|combo) [number] #",
        ),
        _place,
        0.8,
    ),
    Rule("number three", ("number #",), _place, 0.5),
    Rule(
        "last exercise",
        (
            "[the|our|your] (last|final) (exercise|move|movement|station|stretch|lift|thing|trio|pair|superset|block)",
            "[the|our|your] (last|final) (group|bit|pose|drill|circuit|one of the lot)",
            "[the] last one's",
            "the last one (is|of|for|here)",
            "one last (thing|exercise|move|stretch)",
        ),
        _last_place,
        0.72,
    ),
    Rule("first up", ("(the|my|our|your) {#th} (is|of|for|and)", "#th (up|off|of all|and foremost)"), _place, 0.5),
)
