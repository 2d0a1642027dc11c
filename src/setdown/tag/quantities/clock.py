"""Clock times, dates, ages and other numbers of the calendar."""

from __future__ import annotations

from setdown.tag.quantities.build import whole
from setdown.tag.quantities.pattern import Build, Draft, Match, Rule
from setdown.tag.quantities.values import Other


def _other(what: str) -> Build:
    def build(match: Match) -> Draft:
        return Draft("other", Other(what, match.numbers[0].value if match.numbers else None))

    return build


def _age(match: Match) -> Draft | None:
    n = whole(match.numbers[-1])
    return Draft("other", Other("age", match.numbers[-1].value)) if n is not None and 1 <= n <= 110 else None


def _adult_age(match: Match) -> Draft | None:
    n, after = whole(match.numbers[-1]), match.word(match.end)
    if n is None or not 13 <= n <= 110 or after in {"seconds", "reps", "pounds", "kilos"}:
        return None
    return Draft("other", Other("age", match.numbers[-1].value))


def _decade(match: Match) -> Draft | None:
    n = whole(match.numbers[0])
    return (
        Draft("other", Other("decade", match.numbers[0].value)) if n is not None and n >= 20 and n % 10 == 0 else None
    )


def _minutes_to(match: Match) -> Draft | None:
    """'ten to eight', 'twenty past two': minutes that divide by five, and an hour."""
    minutes, hour = whole(match.numbers[0]), whole(match.numbers[-1])
    if minutes is None or hour is None or minutes % 5 or not 5 <= minutes <= 25 or not 1 <= hour <= 12:
        return None
    return Draft("other", Other("clock", match.numbers[-1].value))


def _minutes_past(match: Match) -> Draft | None:
    minutes = whole(match.numbers[0])
    if minutes is None or minutes % 5 or not 5 <= minutes <= 25:
        return None
    return Draft("other", Other("clock", match.numbers[0].value))


def _digital(match: Match) -> Draft | None:
    """'five thirty one', 'six oh three' behind a word of the clock."""
    if len(match.numbers) == 1:
        n = whole(match.numbers[0])
        if n is None or not 100 <= n <= 1259 or n % 100 > 59:
            return None
    else:
        hour, minute = whole(match.numbers[0]), whole(match.numbers[1])
        if hour is None or minute is None or not 1 <= hour <= 12 or not 5 <= minute <= 59:
            return None
    return Draft("other", Other("clock", match.numbers[0].value))


def _wall_clock(match: Match) -> Draft | None:
    """'five forty four': a class that rests by the clock on the wall, the hour up to twelve and any minute."""
    a, b = match.numbers
    hour, minute = whole(a), whole(b)
    if "clock" not in match.stream.said or hour is None or minute is None or a.form.startswith("count"):
        return None
    if not (1 <= hour <= 12 and 13 <= minute <= 59) or a.high or b.high:
        return None
    return Draft("other", Other("clock", b.value))


RULES = (
    Rule(
        "forty years old",
        (
            "# (years|year) (old|young|of age)",
            "[a|my|his|her] # [and a half] (year|years) old",
            "turned #",
            "(aged|age) #",
            "(over|under) #s",
            "(over|under) # (who|people)",
        ),
        _age,
        0.97,
    ),
    Rule(
        "I'm forty eight",
        (
            "(i'm|i am|he's|she's|he is|she is|they're|i'll be|when i was) {#}",
            "(i|he|she) was {#}",
            "(man's|mum's|mother's|father's|dad's|daughter's|son's|nephew's|dog's|granny's|grandad's) {#}",
            "(granny|grandma|mother|father|mum|dad|son|daughter) is {#}",
        ),
        _adult_age,
        0.66,
    ),
    Rule(
        "in her forties", ("in (my|your|her|his|their|our) {[late|early|mid] #s}", "(in|from) the {#s}"), _decade, 0.9
    ),
    Rule("ten to eight", ("# (to|past|after|till) #",), _minutes_to, 0.8),
    Rule("twenty five past", ("(it's|just|@about) {# (past|to)}",), _minutes_past, 0.7),
    Rule("half past eight", ("(half|quarter) [past|to] #", "#f (past|to) #", "half # o'clock"), _other("clock"), 0.7),
    Rule(
        "eleven o'clock",
        ("# (o'clock|oclock|a.m|p.m|am|pm|in the morning|in the evening|at night|this morning|tonight)", "#c"),
        _other("clock"),
        0.88,
    ),
    Rule(
        "clock says five thirty one",
        (
            "(clock|says|say|it's|at|by|until|till|til|its|now) [said|says] [@about] {# #}",
            "(clock|says|say|at|by|until|okay|good|when it's) [@about|it] {#}",
        ),
        _digital,
        0.75,
    ),
    Rule("five forty four, we go", ("# #",), _wall_clock, 0.6),
    Rule(
        "open till ten",
        (
            "(open|doing|here|ours|going|on) [_] (till|til|'til|until) {#}",
            "(see you|meet|start|starts|class is|class starts) at {#}",
            "at (about|around) {#}",
            "since {#}",
        ),
        _other("clock"),
        0.66,
    ),
    Rule("nineteen ninety six", ("#y",), _other("year"), 0.85),
    Rule("in oh nine", ("(in|since|of|from) {#oh}",), _other("year"), 0.85),
    Rule(
        "three years ago",
        (
            "[a] # [@good] @long_time",
            "#f an hour",
            "# (times|time|lots) (a|per|every|each) (day|week|month|year)",
            "# (times|time) (this|last) (week|month)",
            "twice (a|per) (day|week|month|year)",
        ),
        _other("calendar"),
        0.95,
    ),
    Rule(
        "third of June",
        ("(@month|march|may) #th", "[the] #th of (@month|march|may)", "# @month", "@month #"),
        _other("date"),
        0.75,
    ),
)
