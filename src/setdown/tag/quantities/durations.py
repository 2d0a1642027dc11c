"""Seconds and minutes: of work, of rest, still to go."""

from __future__ import annotations

from setdown.tag.number_words import word_set
from setdown.tag.quantities.build import each_side_end, seconds, whole
from setdown.tag.quantities.pattern import Draft, Match, Rule
from setdown.tag.quantities.values import Alternative, Other, Seconds

LONGEST_WORK = 600  # seconds; common practice, no source
LONGEST_MOVE = 180  # seconds; a longer one is a block of several moves; common practice, no source
SHORT = 10  # seconds; so few by themselves are what is left of the work
MINUTES = word_set("minute minutes mins min")
TIME_WORDS = MINUTES | word_set("second seconds sec secs s")


def said_length(match: Match) -> tuple[int, int | None] | None:
    """Seconds of '45 seconds', '2 minutes', 'half a minute', 'a minute and a half', 'a minute'; high for a range."""
    words = [match.word(t) for t in range(match.outer_start, match.outer_end)]
    minutes = any(word in MINUTES for word in words)
    if not match.numbers:
        return (60, None) if minutes else None
    number = match.numbers[0]
    if number.form == "vague":
        return None
    if number.form == "fraction":
        if number.value is None or not minutes:
            return None
        part = int(60 * number.value)
        return (60 + part, None) if "and" in words else (part, None)
    if words[0] == "a" and len(match.numbers) == 1:  # 'a minute thirty'
        more = whole(number)
        return (60 + more, None) if more is not None and 10 <= more < 60 else None
    said = seconds(number, 60 if minutes and number.form != "clock" else 1)
    if said is None or len(match.numbers) == 1 or not minutes:
        return said
    extra = match.numbers[1]
    if extra.form == "fraction":
        return said[0] + 30, None
    more = whole(extra)
    return (said[0] + more, None) if more is not None and 1 <= more < 60 else None


def _work(match: Match) -> Draft | None:
    said = said_length(match)
    if said is None or not 2 <= said[0] <= LONGEST_WORK:
        return None
    end = each_side_end(match.stream, match.end)
    return Draft("work_s", Seconds(said[0], each_side=end > match.end, high=said[1]), end=max(end, match.end))


def _work_of(match: Match) -> Draft | None:
    """'thirty seconds of this', against 'ten minutes of core', which is a block of several moves."""
    said = said_length(match)
    if said is not None and said[0] > LONGEST_MOVE:
        return Draft("other", Other("block_length", match.numbers[0].value if match.numbers else None))
    return _work(match)


def _each_work(match: Match) -> Draft | None:
    said = said_length(match)
    if said is None or not 2 <= said[0] <= LONGEST_WORK:
        return None
    return Draft("work_s", Seconds(said[0], each_side=True, high=said[1]))


def _counted_hold(match: Match) -> Draft | None:
    """'I'll count ten': seconds of a hold."""
    n = whole(match.numbers[-1])
    return Draft("work_s", Seconds(n)) if n is not None and 3 <= n <= 60 else None


def _plain_seconds(match: Match) -> Draft | None:
    """'twenty seconds' with nothing beside it: short ones are usually what is left."""
    said = said_length(match)
    if said is None or not 1 <= said[0] <= LONGEST_WORK:
        return None
    end = each_side_end(match.stream, match.end)
    if end > match.end:
        return Draft("work_s", Seconds(said[0], each_side=True, high=said[1]), end=end, score=0.9)
    if said[0] <= SHORT:
        other = Alternative("work_s", Seconds(said[0]), 0.35)
        return Draft("time_left", Seconds(said[0], alternatives=(other,)))
    others = (Alternative("time_left", Seconds(said[0]), 0.2), Alternative("rest_s", Seconds(said[0]), 0.15))
    return Draft("work_s", Seconds(said[0], high=said[1], alternatives=others))


def _plain_minutes(match: Match) -> Draft | None:
    """'two minutes' with nothing beside it: between heavy sets a rest, else work."""
    said, stream = said_length(match), match.stream
    number = match.numbers[0] if match.numbers else None
    if said is None:
        return None
    label = stream.number_at(match.end) is not None and match.word(match.end - 1) == "minute"
    if label and number is not None and number.form == "cardinal" and number.value != 1:
        return None  # 'twelve, minute two'
    if number is not None and said[0] > LONGEST_MOVE + 60:
        return Draft("other", Other("block_length", number.value))
    resting = bool(stream.said & {"bar", "barbell"}) and "sets" in stream.said and said[0] >= 60
    kind, second = ("rest_s", "work_s") if resting else ("work_s", "rest_s")
    other = Alternative(second, Seconds(said[0]), 0.35)
    return Draft(kind, Seconds(said[0], high=said[1], alternatives=(other,)))


def _bare_minute(match: Match) -> Draft | None:
    """'Pigeon, a minute': a length by itself, but not 'twenty a minute', 'back in a minute', 'a minute ago'."""
    before, after = match.word(match.start - 1), match.word(match.end)
    if before in _NO_LENGTH or after in _NO_LENGTH_AFTER or match.stream.number_at(match.start - 1) is not None:
        return None
    return Draft("work_s", Seconds(60, alternatives=(Alternative("rest_s", Seconds(60), 0.35),)))


def _rest(match: Match) -> Draft | None:
    said = said_length(match)
    if said is None or not 2 <= said[0] <= LONGEST_WORK:
        return None
    last = match.word(match.end - 1)
    if not _has_unit(match) and (said[0] < SHORT or (last == "off" and match.word(match.end) in {"the", "your", "my"})):
        return None  # 'that's the eight, rest', 'ten off the floor'
    return Draft("rest_s", Seconds(said[0], high=said[1]))


def _has_unit(match: Match) -> bool:
    return any(match.word(t) in TIME_WORDS for t in range(match.start, match.end))


def _left(match: Match) -> Draft | None:
    said = said_length(match)
    if said is None or not 1 <= said[0] <= LONGEST_WORK or (said[0] < SHORT and not _has_unit(match)):
        return None  # 'last two' are repetitions
    return Draft("time_left", Seconds(said[0]))


def _block(match: Match) -> Draft:
    return Draft("other", Other("block_length", match.numbers[0].value if match.numbers else None))


def _vague_minutes(match: Match) -> Draft | None:
    return _block(match) if match.numbers[0].form == "vague" else None


def _idiom(match: Match) -> Draft:
    return Draft("other", Other("idiom"))


_NO_LENGTH = word_set("in wait on just got every times ago about within of than beats per not took takes was reps had")
_NO_LENGTH_AFTER = word_set("ago before after later earlier or late early away")
HALF_MINUTE = "#f a @minute"
_ANY = f"(# @unit|{HALF_MINUTE}|a @minute|a @minute and a #f|a #f @minute|a @minute #|# @minute #|# and #f @minute)"
_SOME = f"(# @unit|{HALF_MINUTE}|a [@good] @minute)"

RULES = (
    Rule(
        "thirty on the clock", ("# [@second] on the (clock|timer|watch)", "a minute on the (clock|timer)"), _work, 0.93
    ),
    Rule(
        "thirty seconds each side",
        (
            "# (@second|@minute) [on|for] @each @side",
            "# @second (a|on both|both) @side",
            f"(a minute|{HALF_MINUTE}) [on|for] (each|per|a) [side|leg|arm|way]",
            "# @second each",
        ),
        _each_work,
        0.94,
    ),
    Rule("thirty seconds of this", (f"{_ANY} of (this|these|that|those|work|it|them|_)",), _work_of, 0.9),
    Rule(
        "for thirty seconds",
        (
            "for [a|the|@about|@good] (# @second|# @minute)",
            f"for ({HALF_MINUTE}|a @minute|a @minute and a #f|a @good @minute|a #f @minute|the full @minute)",
        ),
        _work_of,
        0.84,
    ),
    Rule(
        "hold for twenty",
        (
            "@hold [@it] [@it] for [a count of|@about|a] # [@second]",
            f"@hold [@it] [@it] [for] [@about] {_SOME}",
            "(here|there|with me) for [@about] # [@second]",
            "@hold [@it] [@it] [for] a count of #",
        ),
        _work,
        0.88,
    ),
    Rule("count ten", ("(i'll|i|we'll|let's) count [to] #",), _counted_hold, 0.6),
    Rule(
        "twenty second hold",
        ("# @second (hold|holds|plank|planks|stretch|finisher|isometric|squeeze|wall|sprint|sprints)", "# second _"),
        _work,
        0.8,
        "word",
    ),
    Rule(
        "we have thirty seconds",
        (
            f"(@we|we've|you've|i've|there's) [@got] [@only] {_SOME}",
            f"@will @do [@it] [for] [@about] {_SOME}",
            f"@will (give|stay|go|hold) [@it] [for] [@about] {_SOME}",
            f"(give|gimme|doing|it'll be) [@it] {_SOME}",
        ),
        _work,
        0.8,
    ),
    Rule("thirty seconds", ("# [@good] @second",), _plain_seconds, 0.6, "word"),
    Rule(
        "two minutes",
        (
            "# @minute",
            "(only|just) # @minute",
            HALF_MINUTE,
            "a @minute and a #f",
            "a @minute #",
            "a #f @minute",
            "# and #f @minute",
            "# @minute #",
            "{#c} on the clock",
        ),
        _plain_minutes,
        0.6,
        "word",
    ),
    Rule(
        "a minute",
        (
            "a (full|whole|solid) minute",
            "(whole|full|solid) minute [of|on|each|here|there]",
            "(gets|get|that's|it's|is|about) {a minute}",
            "a minute (of|on|each|here|there|this|from)",
            "(stay|hold|do|call it|make it) {a minute [and a #f]}",
        ),
        _plain_minutes,
        0.62,
    ),
    Rule("bare minute", ("a minute",), _bare_minute, 0.36),
    Rule(
        "a minute off",
        (
            f"{_ANY} [of] @off",
            f"{_ANY} to @change",
            f"{_ANY} (between|in between|in the middle|to yourself) [sets|rounds|each]",
            f"{_ANY} [for] (water|your water|a drink|a sip)",
            "# (rest|off)",
            "(off|stop|time) {# @second}",
            "# @second [or so] (get|grab|have|take) (a|your|some) @drink",
        ),
        _rest,
        0.88,
    ),
    Rule(
        "rest for thirty",
        (
            f"(rest|recover|break|breather|breathe|water) [it] [for] [@about] {_SOME}",
            f"shake it (out|off) [for] {_SOME}",
            "(rest|recover) [for] #",
            f"(get|have|take|get yourself) (a|your|some) @drink [for] {_SOME}",
            "(rest|recovery|break) (is|of) [a] # [@second|@minute]",
            f"you get {{{_SOME}}}",
            f"catch your breath [for] {_SOME}",
        ),
        _rest,
        0.86,
    ),
    Rule(
        "take forty five",
        (f"take [@about|another|your|a good] ({_SOME}|#)", "(want|need) {(# @minute|a minute)}"),
        _rest,
        0.7,
    ),
    Rule(
        "fifteen seconds left",
        (
            f"{_ANY} (left|to go|remaining|more|to finish|to the end)",
            f"[only|just] another (# @second|{HALF_MINUTE}|a minute)",
            f"(last|final) [@good] (# [@second]|{HALF_MINUTE}|minute|a minute)",
            "# more @second",
            "# @second (and|then) (you're|we're) (done|there|out)",
            "[only|just|under] # @second now",
        ),
        _left,
        0.86,
    ),
    Rule(
        "a thirty minute class",
        (
            "# @minute @lesson",
            "# minutes (of core|today|together|long|flat|total|ago|later|late|away|and change)",
            "(inside|under|@about|in) # @minute",
            "(for|takes|last) (the next|about) {# minutes}",
        ),
        _block,
        0.9,
    ),
    Rule("a few minutes", ("#~ [of] @minute",), _vague_minutes, 0.8),
    Rule(
        "in a minute",
        (
            "(in|wait|hang on|hold on|just|give it|for|got|every) {a (second|sec|moment)}",
            "(in|wait|hang on|hold on|just) {a minute}",
            "a minute ago",
        ),
        _idiom,
        0.9,
    ),
)
