"""Numbers that are none of the class's business: prices, places, people, pronouns, talk."""

from __future__ import annotations

from setdown.tag.number_words import word_set
from setdown.tag.quantities.build import said_words, whole
from setdown.tag.quantities.durations import TIME_WORDS
from setdown.tag.quantities.pattern import Build, Draft, Match, Rule
from setdown.tag.quantities.values import Other

_PAYING = word_set("paid pay pays paying cost costs price charge charges ticket door donate owe owes worth spent bill")
#: What a price has behind the point, in hundredths: 'seven fifty'.
_CENTS = frozenset({25, 50, 75, 95, 99})


def _other(what: str) -> Build:
    def build(match: Match) -> Draft:
        return Draft("other", Other(what, match.numbers[0].value if match.numbers else None))

    return build


def _paid(match: Match) -> Draft | None:
    around = said_words(match.stream, match.start - 5, match.end + 4)
    return Draft("other", Other("price", match.numbers[0].value)) if around & _PAYING else None


def _two_part_price(match: Match) -> Draft | None:
    """'the toastie is seven fifty'."""
    units, cents = whole(match.numbers[0]), whole(match.numbers[1])
    if units is None or cents not in _CENTS or not 1 <= units <= 40:
        return None
    return Draft("other", Other("price", match.numbers[0].value))


def _or_two(match: Match) -> Draft | None:
    """'a plank or two'."""
    return Draft("other", Other("vague", match.numbers[0].value)) if whole(match.numbers[0]) == 2 else None


def _body(match: Match) -> Draft | None:
    """'two hands', 'ten toes'; more of anything is 'ten, elbows back'."""
    n, word = whole(match.numbers[0]), match.word(match.end - 1)
    if n is None or not (n <= 4 or (n == 10 and word in {"toes", "fingers"})):
        return None
    return Draft("other", Other("body", match.numbers[0].value))


def _name(match: Match) -> Draft | None:
    """'warrior two', 'week three'; not 'warrior, forty seconds'."""
    if not match.numbers:
        return Draft("other", Other("name"))
    n = whole(match.numbers[0])
    timed = match.word(match.end) in TIME_WORDS
    if n is None or timed or (match.word(match.start) == "warrior" and n > 3):
        return None
    return Draft("other", Other("name", match.numbers[0].value))


def _pronoun(match: Match) -> Draft:
    return Draft("other", Other("pronoun"))


_OF_ONE = "(of|at|by|to one|another|that|who|where|i|you|we|is|with|in|on|for|was)"
_ONE_THING = "(day|thing|person|side|arm|leg|hand|foot|knee|way|end|more thing|each)"

RULES = (
    Rule("fourteen dollars", ("# @dollar", "# and #f @dollar", "a @dollar"), _other("price"), 0.93),
    Rule("paid six pounds", ("# (pound|pounds)",), _paid, 0.95),
    Rule("five pound fifty", ("# pound #",), _other("price"), 0.96),
    Rule("in for four, out for six", ("in for # [and] out for #",), _other("breath"), 0.9),
    Rule("fifteen nine year olds", ("# # year olds",), _other("people"), 0.97),
    Rule("paying thirty", ("(pay|paying|paid|costs|cost|charges) {#}",), _other("price"), 0.7),
    Rule("seven fifty", ("(is|are|was|for|costs|now|only) {# #}",), _two_part_price, 0.62),
    Rule("fifty pence piece", ("# (pence|cent|p|dollar|euro|pound) (piece|coin|note|bill)",), _other("price"), 0.95),
    Rule(
        "twenty degrees",
        ("(minus|negative) #", "# [and a half] (degrees|degree|celsius|fahrenheit|below)"),
        _other("degrees"),
        0.93,
    ),
    Rule(
        "twenty metres",
        (
            "# @length",
            "# @good (metres|meters|feet|inches|miles|steps)",
            "#f (an|a) (inch|mile|metre|meter|foot|yard|block)",
            "(an|a) (inch|mile|metre|meter|foot|yard) and a #f",
        ),
        _other("distance"),
        0.88,
    ),
    Rule("two steps back", ("# [@good] steps",), _other("steps"), 0.7),
    Rule(
        "song seven",
        (
            "(song|track|playlist|volume|episode|season|chapter|page) [number] #",
            "(channel|room|bus|route|gate|highway|exit) [number] #",
            "# (songs|tracks|episodes|subscribers|followers|views|likes|comments)",
        ),
        _other("media"),
        0.9,
    ),
    Rule("twelve Mill Street", ("# [_] (street|road|avenue|lane|drive|crescent|court)",), _other("address"), 0.9),
    Rule(
        "six people",
        (
            "# of (us|you) [lot|guys|here]",
            "# [@good] @people",
            "all # of (you|us)",
            "(table|room|party) (of|for) #",
        ),
        _other("people"),
        0.75,
    ),
    Rule("a hundred grams", ("# @amount",), _other("amount"), 0.85),
    Rule(
        "a hundred percent",
        ("# percent (effort|of|there|sure|fine|okay|committed|strength)", "(hundred|110|100) percent"),
        _other("percent"),
        0.85,
    ),
    Rule(
        "a third of your strength",
        ("[a] #th of (your|the|a|that|what)", "#f of (your|the|a|that|what|our|it)"),
        _other("fraction"),
        0.6,
    ),
    Rule(
        "warrior two",
        (
            "(warrior|figure|zone|version|ward|pier|covid|windows|chapter|week|day|year) [number] #",
            "figure (four|eight|fours|eights)",
            "ninety ninety",
        ),
        _name,
        0.88,
    ),
    Rule("two hands", ("# [@good|more] @body", "all #s", "(on|to) #s and toes", "# points"), _body, 0.72),
    Rule("all fours", ("all (fours|#s)",), _other("body"), 0.75),
    Rule(
        "that one",
        (
            "@pronoun [@good|more|other] (one|ones)",
            f"(one|ones) {_OF_ONE}",
            f"one {_ONE_THING}",
            "(#th|left|right|top|bottom|best|worst|hardest|easiest) (one|ones)",
            "(a|an|our|your|my|the) @good (one|ones)",
            "ones",
            "(not|as|like) one",
        ),
        _pronoun,
        0.6,
    ),
    Rule(
        "the next two",
        ("(the|these|those|our|your) (next|first|other|last) {#} (@be|we|i)", "(for|in|on) (the|these|those) next {#}"),
        _other("things"),
        0.66,
    ),
    Rule("a move or two", ("or {#}",), _or_two, 0.6),
    Rule(
        "one thing",
        (
            "# [@good|more|last|other] @talked",
            "# (things|options|ways|choices|rules|reasons|colours|colors|levels|jobs|versions)",
            "# (different|other|more) (ones|things|options|ways)",
        ),
        _other("things"),
        0.7,
    ),
    Rule("four dogs", ("# [more|@good] @goods",), _other("things"), 0.75),
    Rule("no ten this time", ("there's no {#}", "(isn't|aren't|wasn't) {#}"), _other("not_now"), 0.7),
    Rule(
        "ten times harder",
        ("# (times|years|pounds|kilos) (younger|older|better|stronger|harder|worse|easier|faster|overweight)",),
        _other("talk"),
        0.95,
    ),
    Rule(
        "scale of one to ten",
        ("(one|1|zero) to (ten|10)", "scale of # [to #]", "(from|of) (one|1|zero) to (ten|10)", "count to {#}"),
        _other("scale"),
        0.85,
    ),
)
