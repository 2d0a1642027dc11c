"""Seconds and minutes: of work, of rest, still to go; interval plans and a start every minute."""

from __future__ import annotations

from setdown.tag.quantities.build import each_side_end, seconds, whole
from setdown.tag.quantities.pattern import Build, Draft, Match, Rule
from setdown.tag.quantities.values import Alternative, EmomPlan, IntervalPlan, Other, Seconds

LONGEST_WORK = 600  # seconds; a longer one is a block or the class. Common practice, no source
_MINUTES = frozenset("minute minutes mins min".split())
_TIME_WORDS = _MINUTES | frozenset("second seconds sec secs s".split())


def _length(match: Match) -> tuple[int, int | None] | None:
    """Seconds said by the match: '45 seconds', '2 minutes', 'half a minute', 'a minute and a half', 'a minute'."""
    words = [match.word(t) for t in range(match.outer_start, match.outer_end)]
    minutes = any(w in _MINUTES for w in words)
    if match.numbers and match.numbers[0].form == "vague":
        return None
    if not match.numbers:
        return (90, None) if "half" in words else (60, None) if minutes else None
    number = match.numbers[0]
    if number.form == "fraction":
        if number.value is None or not minutes:
            return None
        low = int(60 * number.value)
        return (60 + low, None) if words[0] in {"a", "minute"} and "and" in words else (low, None)
    if number.form == "clock":
        return seconds(number)
    said = seconds(number, 60 if minutes else 1)
    if said is None:
        return None
    if len(match.numbers) > 1 and minutes:
        extra = match.numbers[1]
        if extra.form == "fraction":
            return said[0] + 30, None
        more = whole(extra)
        if more is None or not 1 <= more < 60:
            return None
        return said[0] + more, None
    return said


def _work(match: Match) -> Draft | None:
    said = _length(match)
    if said is None or not 2 <= said[0] <= LONGEST_WORK:
        return None
    end = each_side_end(match.stream, match.end)
    return Draft("work_s", Seconds(said[0], each_side=end > match.end, high=said[1]), end=max(end, match.end))


def _each_work(match: Match) -> Draft | None:
    said = _length(match)
    if said is None or not 2 <= said[0] <= LONGEST_WORK:
        return None
    return Draft("work_s", Seconds(said[0], each_side=True, high=said[1]))


def _plain_seconds(match: Match) -> Draft | None:
    """'twenty seconds' with nothing beside it: short ones are usually what is left."""
    said = _length(match)
    if said is None or not 1 <= said[0] <= LONGEST_WORK:
        return None
    end = each_side_end(match.stream, match.end)
    if end > match.end:
        return Draft("work_s", Seconds(said[0], each_side=True, high=said[1]), end=end, score=0.9)
    if said[0] <= 10:
        other = Alternative("work_s", Seconds(said[0]), 0.35)
        return Draft("time_left", Seconds(said[0], alternatives=(other,)), score=0.6)
    alternatives = (Alternative("time_left", Seconds(said[0]), 0.2), Alternative("rest_s", Seconds(said[0]), 0.15))
    return Draft("work_s", Seconds(said[0], high=said[1], alternatives=alternatives))


def _plain_minutes(match: Match) -> Draft | None:
    """'two minutes' with nothing beside it: between heavy sets a rest, else work."""
    said = _length(match)
    stream = match.stream
    if said is None or stream.number_at(match.end) is not None and match.word(match.end - 1) == "minute":
        return None  # 'twelve, minute two'
    number = match.numbers[0] if match.numbers else None
    if number is not None and said[0] > 240:
        return Draft("other", Other("block_length", number.value), score=0.7)
    resting = bool(stream.said & {"bar", "barbell"}) and "sets" in stream.said
    kind, second = ("rest_s", "work_s") if resting and said[0] >= 60 else ("work_s", "rest_s")
    other = Alternative(second, Seconds(said[0]), 0.35)
    return Draft(kind, Seconds(said[0], high=said[1], alternatives=(other,)))


def _rest(match: Match) -> Draft | None:
    said = _length(match)
    return Draft("rest_s", Seconds(said[0], high=said[1])) if said and 2 <= said[0] <= LONGEST_WORK else None


def _left(match: Match) -> Draft | None:
    said = _length(match)
    has_unit = any(match.word(t) in _TIME_WORDS for t in range(match.start, match.end))
    if not has_unit and said is not None and said[0] < 10:
        return None  # 'last two' are repetitions
    return Draft("time_left", Seconds(said[0])) if said and 1 <= said[0] <= LONGEST_WORK else None


def _interval(match: Match) -> Draft | None:
    lengths = []
    words = [match.word(t) for t in range(match.start, match.end)]
    for number, token in zip(match.numbers, match.tokens, strict=True):
        scale = 60 if match.word(token + 1) in _MINUTES else 1
        said = seconds(number, scale)
        if said is None or number.high is not None:
            return None
        lengths.append(said[0])
    if len(lengths) == 1 and "minute" in words:  # 'a minute on, thirty off'
        lengths.insert(0 if words.index("minute") < match.tokens[0] - match.start else 1, 60)
    if len(lengths) != 2 or not (5 <= lengths[0] <= LONGEST_WORK and 3 <= lengths[1] <= LONGEST_WORK):
        return None
    return Draft("interval", IntervalPlan(*lengths))


_WORK_LENGTHS = {20, 25, 30, 35, 40, 45, 50, 60, 90}
_REST_LENGTHS = {10, 15, 20, 25, 30}
_INTERVAL_WORDS = frozenset(
    "tabata interval intervals timer style format seconds clock work on off rest hiit round rounds protocol beep".split()
)


def _bare_interval(match: Match) -> Draft | None:
    """'forty twenty': two numbers that make a usual work and rest."""
    work, rest = (whole(n) for n in match.numbers)
    if work not in _WORK_LENGTHS or rest not in _REST_LENGTHS or work < rest:
        return None
    around = set(match.stream.text[max(match.start - 12, 0) : match.end + 12])
    sure = bool(around & _INTERVAL_WORDS) or match.numbers[0].joint == "/"
    return Draft("interval", IntervalPlan(work, rest), score=0.8 if sure else 0.5)


def _emom(match: Match) -> Draft:
    """'every minute on the minute', with 'for twelve minutes' when it stands within a few words."""
    minutes, end = None, match.end
    for token in range(match.end, min(match.end + 5, len(match.stream))):
        number = match.stream.number_at(token)
        if number is not None and match.word(token + 1) in _MINUTES:
            minutes, end = whole(number), token + 2
            break
    if minutes is None and match.word(match.start - 1) in {"minute", "minutes"}:
        number = match.stream.number_at(match.start - 2)
        minutes = whole(number) if number else None
    return Draft("emom", EmomPlan(60, minutes, minutes), end=end)


def _every(match: Match) -> Draft | None:
    said = _length(match)
    return Draft("emom", EmomPlan(said[0])) if said and 20 <= said[0] <= 600 else None


def _block(match: Match) -> Draft:
    return Draft("other", Other("block_length", match.numbers[0].value if match.numbers else None))


def _idiom(match: Match) -> Draft:
    return Draft("other", Other("idiom"))


_N = "(# @second|# @minute|#f a @minute|a @minute|a @minute and a #f|a #f @minute|# @minute #|# and #f @minute)"
_REST = "(off|rest|break|breather|recovery|rests|breathers)"
_WORK = "(on|work|go|working|moving)"

RULES = (
    Rule("forty on twenty off", (
        f"# [@second|@minute] [of] {_WORK} [and|then|with] # [@second|@minute] [of|to] (off|rest|recovery|recover|break|breathe|change|resting|breathing)",
        f"# [@second|@minute] [of] {_WORK} a minute [of] (off|rest|recovery|break)",
        f"a minute [of] {_WORK} [and|then|with] # [@second] [of] (off|rest|recovery|break)",
        "# @second (you|we) (work|go) [and|then] # [@second] (you|we) (don't|rest|recover|breathe)",
        "# @second (you|we) work [and|then] # (off|you don't|we don't)",
        "(work|on) [for] # [@second] [and|then|with] (rest|off) [for] # [@second]",
        "# @second [of] work [and|then|with|to] # @second [of] (rest|recovery|break|off)",
    ), _interval, 0.97, "talk"),
    Rule("forty twenty", ("# #", "# / #", "# - #"), _bare_interval, 0.6),
    Rule("every minute on the minute", ("every minute on the minute", "(emom|emoms)", "e mom", "(on|at) the (top|start) of every minute"), _emom, 0.9),
    Rule("every two minutes", ("every (# @second|# @minute)",), _every, 0.8),
    Rule("thirty on the clock", ("# [@second] on the (clock|timer|watch)", "a minute on the (clock|timer)"), _work, 0.93),
    Rule("thirty seconds each side", (
        "# (@second|@minute) [on|for] (each|per|either|every) @side", "# @second (a|on both|both) (side|sides|leg|arm|way|direction)",
        "(a minute|#f a minute) [on|for] (each|per|a) [side|leg|arm|way]", "# @second each"), _each_work, 0.94),
    Rule("thirty seconds of this", (_N + " of (this|these|that|those|work|it|them|holding|pure|_)",), _work, 0.9),
    Rule("for thirty seconds", (
        "for [a|the|another|about|around|@good] (# @second|# @minute)",
        "for (#f a @minute|a @minute|a @minute and a #f|a @good @minute|a #f @minute|the full @minute)"), _work, 0.84),
    Rule("hold for twenty", (
        "@hold [it|that|this|here|there|them|still|with me] for [a count of|about|a] # [@second]",
        "@hold [it|that|this|here|there|them|still] [for] [about] (# @second|# @minute|a minute|#f a minute)", "(here|there) for [about] # [@second]",
        "@hold [it|that|this|here|there] (a|for a|for) count of #"), _work, 0.88),
    Rule("twenty second hold", ("# @second (hold|holds|plank|stretch|finisher|isometric|squeeze|wall|sprint|_)", "# @second (of a|on a|on the) (hold|stretch|plank|_)"), _work, 0.8, "word"),
    Rule("we have thirty seconds", (
        "(we've|you've|we|you|i've|there's) (got|have|) [about|only|just] (# @second|# @minute|#f a @minute|a @minute)",
        "(we'll|i'll|you'll|let's|i'd) (do|give it|take|stay|go|hold|have|make it) [it|here|there|for|about] [about] (# @second|# @minute|#f a @minute|a @minute|a full @minute)",
        "(give|gimme|doing|it'll be) [me|it|this|that] (# @second|# @minute|#f a @minute|a @minute)"), _work, 0.8),
    Rule("thirty seconds", ("# @second", "# @good @second"), _plain_seconds, 0.6, "word"),
    Rule("two minutes", (
        "# @minute", "#f a @minute", "a @minute and a #f", "a #f @minute", "# and #f @minute", "# @minute #", "{#c} (on the clock|of work|of this)"),
        _plain_minutes, 0.6, "word"),
    Rule("a minute", ("(one|1) minute", "a (full|whole) minute", "a minute (of|on|each|here|there|this|from)", "(stay|hold|do) {a minute}"), _plain_minutes, 0.62),
    Rule("a minute off", (
        f"{_N} [of] {_REST}", _N + " to (rest|recover|breathe|catch|get|change|swap|set|drink|grab)",
        "# (rest|off)", _N + " between [sets|rounds|each]"), _rest, 0.88),
    Rule("rest for thirty", (
        "(rest|recover|break|breather|breathe|shake it out|shake it off|water) [it] [for|about] [about] (# @second|# @minute|#f a @minute|a @minute)", "(rest|recover) [for] #",
        "(get|have|take|get yourself) (a|your|some) (breather|break|rest|drink|breath|sip|water) [for] (# @second|# @minute|a @minute)",
        "(rest|recovery|break) (is|of|for) [a] # [@second|@minute]",
        "you get {(# @second|# @minute|a @minute)}", "catch your breath [for] (# @second|# @minute|a @minute)"), _rest, 0.86),
    Rule("take forty five", ("take [about|another|your|a full|a good] (# @second|# @minute|a @minute|#f a @minute|#)", "(want|need) {(# @minute|a minute)}"), _rest, 0.7),
    Rule("fifteen seconds left", (
        _N + " (left|to go|remaining|more|to finish|to the end)", "[only|just] another (# @second|#f a minute|a minute)", "(last|final) [@good] (# [@second]|#f a minute|minute|a minute)",
        "# more @second", "# @second (and|then) (you're|we're) (done|there|out)", "[only|just|under] (# @second) now"), _left, 0.86),
    Rule("a thirty minute class", (
        "# (minute|minutes|min) (class|workout|session|video|warm|cool|abs|core|block|routine|circuit|practice|flow|lesson|programme|program)",
        "# minutes (of core|today|together|long|flat|total|ago|later|late|away|and change)",
        "(inside|under|about|around|in) # (minutes|minute)", "(for|takes|last) (the next|about) {# minutes}"), _block, 0.9),
    Rule("in a minute", ("(in|wait|hang on|hold on|just|every|any|this|that|last|see you in|back in|got|shins|give it|for) {a (second|sec|moment)}", "(in|wait|hang on|hold on|just|see you in|back in) {a minute}", "a minute ago"), _idiom, 0.9),
)
