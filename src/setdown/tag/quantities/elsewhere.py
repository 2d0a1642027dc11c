"""Numbers that are none of the class's business: ages, clock times, prices, places, people, pronouns."""

from __future__ import annotations

from setdown.tag.quantities.build import said_words, whole
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
    n = whole(match.numbers[-1])
    after = match.word(match.end)
    if n is None or not 13 <= n <= 110 or after in {"seconds", "reps", "pounds", "kilos"}:
        return None
    return Draft("other", Other("age", match.numbers[-1].value))


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


def _two_part_price(match: Match) -> Draft | None:
    """'the toastie is seven fifty'."""
    whole_part, part = whole(match.numbers[0]), whole(match.numbers[1])
    if whole_part is None or part not in {25, 50, 75, 95, 99} or not 1 <= whole_part <= 40:
        return None
    return Draft("other", Other("price", match.numbers[0].value))


def _digital_clock(match: Match) -> Draft | None:
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
    hour, minute = whole(match.numbers[0]), whole(match.numbers[1])
    if "clock" not in match.stream.said or hour is None or minute is None or not (1 <= hour <= 12 and 13 <= minute <= 59):
        return None
    if match.numbers[0].form.startswith("count") or match.numbers[0].high or match.numbers[1].high:
        return None
    return Draft("other", Other("clock", match.numbers[1].value))


def _paid(match: Match) -> Draft | None:
    around = said_words(match.stream, match.start - 5, match.end + 4)
    return Draft("other", Other("price", match.numbers[0].value)) if around & _PAYING else None


_PAYING = frozenset("paid pay pays paying cost costs price charge charges ticket door each-way donate owe owes worth spent bill".split())


def _or_two(match: Match) -> Draft | None:
    """'a plank or two'."""
    return Draft("other", Other("vague", match.numbers[0].value)) if whole(match.numbers[0]) == 2 else None


def _pronoun(match: Match) -> Draft:
    return Draft("other", Other("pronoun", None))


def _people(match: Match) -> Draft:
    return Draft("other", Other("people", match.numbers[0].value))


def _whose(match: Match) -> Draft | None:
    n = whole(match.numbers[0])
    return Draft("other", Other("decade", match.numbers[0].value)) if n is not None and n >= 20 and n % 10 == 0 else None


RULES = (
    Rule("forty years old", ("# (years|year) [old|young|of age]", "[a|my|his|her] # [and a half] (year|years) old", "turned #", "(aged|age) #", "(over|under) {#s}", "(over|under) # [who|people]"), _age, 0.9),
    Rule("I'm forty eight", ("(i'm|i am|he's|she's|i was|he was|she was|i'll be|he is|she is|they're|when i was|man's|mum's|mother's|father's|dad's|daughter's|son's|nephew's|dog's) {#}",), _adult_age, 0.66),
    Rule("in her forties", ("in (my|your|her|his|their|our) {[late|early|mid] #s}", "(in|from) the {#s}", "the (nineteen|) #s (music|song|songs|hits|playlist|called)"), _whose, 0.9),
    Rule("ten to eight", ("# to #", "# (past|after|till) #", "(quarter|half) (to|past) #", "#f (to|past) #"), _minutes_to, 0.8),
    Rule("twenty five past", ("(it's|just|about|nearly) {# (past|to)}",), _minutes_past, 0.7),
    Rule("half past eight", ("(half|quarter) [past|to] #", "#f (past|to) #", "half # (o'clock)"), _other("clock"), 0.7),
    Rule("eleven o'clock", ("# (o'clock|oclock|a.m|p.m|am|pm|in the morning|in the evening|at night|this morning|tonight)", "#c", "(#y|#) (hours)"), _other("clock"), 0.88),
    Rule("clock says five thirty one", ("(clock|says|say|it's|at|by|until|till|til|its|now) [said|says] [about|nearly|almost|it] {# #}", "(clock|says|say|at|by|until|okay|good|when it's) [about|it] {#}"), _digital_clock, 0.75),
    Rule("five forty four, we go", ("# #",), _wall_clock, 0.6),
    Rule("open till ten", ("(open|doing|here|rolls|going) [_] (till|until|from) #", "(see you|meet|start|starts|class is|class starts) at #", "at (about|around|half|quarter) #"), _other("clock"), 0.7),
    Rule("fourteen dollars", ("# @dollar", "# and #f @dollar", "a @dollar"), _other("price"), 0.93),
    Rule("paid six pounds", ("# (pound|pounds)",), _paid, 0.93),
    Rule("nineteen ninety six", ("#y",), _other("year"), 0.85),
    Rule("in oh nine", ("(in|since|of|from|back in) {#oh}", "in (the) #y"), _other("year"), 0.85),
    Rule("twenty degrees", ("(minus|negative) #", "# [and a half] (degrees|degree|celsius|fahrenheit|below)"), _other("degrees"), 0.93),
    Rule("no ten this time", ("there's no {#}", "(isn't|aren't|wasn't) {#}"), _other("not_now"), 0.7),
    Rule("two steps back", ("# [@good] steps",), _other("steps"), 0.7),
    Rule("the next two", ("(the|these|those|our|your) (next|first|other|last) {#} (are|is|we|i|moves|exercises|things|of these)", "(for|in|on) (the|these|those) next {#}"), _other("things"), 0.66),
    Rule("a move or two", ("or {#}",), _or_two, 0.6),
    Rule("twenty metres", ("# @length", "# @good (metres|meters|feet|inches|miles|steps)", "#f (an|a) (inch|mile|metre|meter|foot|yard|block)", "(an|a) (inch|mile|metre|meter|foot|yard) and a #f"), _other("distance"), 0.88),
    Rule("three years ago", ("[a] # [@good] @long_time", "#f an hour", "# (times|time|lots) (a|per|every|each) (day|week|month|year)", "# (times|time) (this|last) (week|month)", "twice (a|per) (day|week|month|year)"), _other("calendar"), 0.93),
    Rule("song seven", ("(song|track|playlist|volume|episode|season|chapter|page|channel|room|bus|route|gate|highway|exit|flight) [number] #", "# (songs|tracks|episodes|subscribers|followers|views|likes|comments)"), _other("media"), 0.9),
    Rule("twelve Mill Street", ("# _ (street|road|avenue|lane|drive|crescent|court)", "# (street|road|avenue|lane)"), _other("address"), 0.9),
    Rule("third of June", ("@month (#th|#)", "[the] #th of @month", "# @month", "the #th of"), _other("date"), 0.75),
    Rule("six people", ("# of (us|you) [lot|guys|here]", "# [@good|little] @people", "all # of (you|us)", "(table|room|party) (of|for) #"), _people, 0.75),
    Rule("a hundred grams", ("# (grams|gram|g|ounces|oz|litres|liters|litre|ml|calories|percent of|cups|mugs|coffees|beers|cans|bottles|tins|biscuits|cookies|slices|spoons|eggs|pieces|bits)",), _other("amount"), 0.85),
    Rule("a hundred percent", ("# percent (effort|of|there|sure|fine|okay|committed|strength)", "(hundred|110|100) percent"), _other("percent"), 0.85),
    Rule("a third of your strength", ("[a|one|two] (#th|third|thirds) of (your|the|a|that|what)", "(#f|three #s) of (your|the|a|that|what|our)", "three #s"), _other("fraction"), 0.6),
    Rule("warrior two", ("(warrior|figure|zone|version|ward|pier|covid|windows|chapter|week|day|year) [number] #", "figure (four|eight|fours|eights|#th)", "ninety ninety"), _other("name"), 0.88),
    Rule("both of two hands", ("# [@good|more] @body", "all #s", "(on|to) #s and toes", "# points"), _other("body"), 0.72),
    Rule("that one", ("@pronoun [@good|more|other] (one|ones)", "(one|ones) (of|at|by|to one|another|that|who|where|i|you|we|is|with|in|on|for|was|day|thing|person|side|arm|leg|hand|foot|knee|way|end|more thing|each)", "(#th|left|right|top|bottom|best|worst|hardest|easiest) (one|ones)", "no one", "(a|an|our|your|my|the) @good (one|ones)", "(ones|one's)", "(not|as|is|like) one"), _pronoun, 0.6),
    Rule("one thing", ("(one|two|three|couple) [@good|more|last|little|other] (thing|things|question|questions|word|note|tip|rule|rules|bit|reason|option|options|choice|choices|ways|way|jobs|job|cue|cues|parts|part|seconds late)", "# (things|options|ways|choices|rules|reasons|colours|colors|levels|jobs|versions)"), _other("things"), 0.7),
    Rule("four dogs", ("# [more|@good] (dogs|cats|kids|children|coffees|beers|songs|clients|neighbours|neighbors|brothers|sisters|sons|daughters|grandkids|miles|horses|chickens|cars|emails|messages|weeks' |towels|mats|chairs|blocks|straps|bands|cones|plates|notches|toes|knuckles|words)",), _other("things"), 0.75),
    Rule("seven fifty", ("(is|are|was|for|costs|now|only) {# #}",), _two_part_price, 0.62),
    Rule("four different ones", ("# (different|other|more) (ones|things|options|ways)",), _other("things"), 0.7),
    Rule("fifty pence piece", ("# (pence|cent|p|dollar|euro|pound) (piece|coin|note|bill)",), _other("price"), 0.95),
    Rule("ten years younger", ("# (times|years|pounds|kilos) (younger|older|better|stronger|harder|worse|easier|faster|overweight)",), _other("talk"), 0.9),
    Rule("count to ten", ("count to #", "(one|1|zero) to (ten|10)", "scale of # [to #]", "(from|of) (one|1|zero) to (ten|10)"), _other("scale"), 0.85),
)
