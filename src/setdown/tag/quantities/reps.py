"""How many repetitions to do."""

from __future__ import annotations

from collections.abc import Sequence

from setdown.tag.number_words import word_set
from setdown.tag.quantities.build import NOT_SIDES, OPEN, Unsettled, ask, each_side_end, rep_target, stands_free, whole
from setdown.tag.quantities.pattern import Build, Draft, Match, Rule
from setdown.tag.quantities.stream import CLAUSE_GAP
from setdown.tag.quantities.values import Other, RepTarget


def _each_before(match: Match) -> bool:
    """'each side ten', 'on each leg we do ten'."""
    word, side = match.word(match.start - 2), match.word(match.start - 1)
    return word in {"each", "per", "every"} and side in {"side", "leg", "arm", "way"}


def _target(match: Match) -> Draft | None:
    """The first number of the match; a following 'each side' belongs to it. 'a few of them' is no target."""
    number = match.numbers[0]
    if number.form == "vague":
        return None
    end = each_side_end(match.stream, match.end)
    least = 1 if match.word(match.end - 1) in {"rep", "repetition"} else 2
    target = rep_target(number, each_side=end > match.end or _each_before(match), least=least)
    if target is None:
        return None
    if "did" in match.stream.text[max(match.start - 3, 0) : match.start]:
        return Draft("other", Other("talk", number.value))  # 'he once did twenty push-ups'
    return Draft("reps", target, end=max(end, match.end))


def _asked(reps: float, work: float = 0.1, count: float = 0.0) -> Build:
    def build(match: Match) -> Draft | None:
        return ask(match, reps=reps, work=work, count=count)

    return build


def _each_target(match: Match) -> Draft | None:
    """'ten each side': a demand, or a count of both sides at once ('two each, five each')."""
    number = match.numbers[0]
    if rep_target(number, least=2) is None or match.word(match.end) in NOT_SIDES:
        return None
    return Draft(OPEN, Unsettled(number, {"reps": 0.72, "count": 0.18}, each_side=True))


def _just_one(match: Match) -> Draft | None:
    """'one of them.' closes the sentence when it is a demand (a get-up, a slow one), else it picks something."""
    stream, last = match.stream, match.end - 1
    ends = stream.stop[last] in {".", "…"} or (last + 1 < len(stream) and stream.gap[last + 1] >= CLAUSE_GAP)
    return Draft("reps", RepTarget(1, 1)) if ends else None


def _same_each_way(match: Match) -> Draft | None:
    """'five one way and five the other': the two numbers must agree."""
    values = {n.value for n in match.numbers if n.value != 1}
    target = rep_target(match.numbers[0], each_side=True, least=2)
    return Draft("reps", target) if target is not None and len(values) == 1 else None


def _same_number(match: Match) -> Draft | None:
    """'eight and eight': the same for both moves or both sides."""
    a, b = match.numbers
    target = rep_target(a, least=2)
    return Draft("reps", target) if target is not None and a.value == b.value and a.form == b.form else None


def _same(match: Match) -> Draft | None:
    """'same ten', 'another twenty', 'same twenty five': what it is was said before."""
    number = match.numbers[0]
    end = each_side_end(match.stream, match.end)
    if rep_target(number, least=2) is None:
        return None
    priors = {"reps": 0.5, "work_s": 0.15}
    if stands_free(match.stream, match.tokens[0]):
        priors["load"] = 0.15
    return Draft(OPEN, Unsettled(number, priors, each_side=end > match.end), end=max(end, match.end))


def _all(match: Match) -> Draft | None:
    """'all ten' repetitions, 'all three' exercises."""
    n = whole(match.numbers[0])
    if n is not None and n <= 5:
        return Draft("other", Other("things", match.numbers[0].value))
    return ask(match, reps=0.55, work=0.0, count=0.1)


def _instead(match: Match) -> Sequence[Draft] | None:
    """'ten, not twelve': the first is the target, the second is not."""
    if len(match.numbers) != 2:
        return None
    target, second = rep_target(match.numbers[0], least=2), match.tokens[1]
    if target is None:
        return None
    old = Other("not_now", match.numbers[1].value)
    return [Draft("reps", target, match.start, second), Draft("other", old, second, match.end)]


def _counts_of_eight(match: Match) -> Draft | None:
    """'two eights' of music: the beats, as repetitions."""
    how_many, size = whole(match.numbers[0]), whole(match.numbers[1])
    if how_many is None or size not in {4, 8} or not 1 <= how_many <= 8:
        return None
    before, after = match.word(match.start - 1), match.word(match.end)
    if how_many == 2:  # as many as one holds of weights
        spoken_of = after == "of" or before in _COUNTED_OUT or not match.stream.said.isdisjoint(_MUSIC)
        if before == "the" or before in _TAKEN or not (spoken_of or _counts_beats(match)):
            return None
    return Draft("reps", RepTarget(how_many * size, how_many * size))


def _counts_beats(match: Match) -> bool:
    """Whether nothing is taken up just before and 'five six seven eight' is called somewhere in the class."""
    stream = match.stream
    if not _TAKEN.isdisjoint(stream.text[max(match.start - 3, 0) : match.start]):
        return False
    numbers = stream.numbers
    runs = zip(numbers, numbers[1:], numbers[2:], numbers[3:], strict=False)
    return any(run[3].start - run[0].end == 2 and [n.value for n in run] == [5, 6, 7, 8] for run in runs)


_MUSIC = word_set("counts beat beats music tempo song")
_COUNTED_OUT = word_set("that's do another last only count")
_TAKEN = word_set("those these my your got grab holding with use take need want pick hold using swap swapping on")


def _to_failure(match: Match) -> Draft:
    end = each_side_end(match.stream, match.end)
    return Draft("reps", RepTarget(None, None, to_failure=True, each_side=end > match.end), end=max(end, match.end))


_BACK = "(anticlockwise|counterclockwise|backwards|back|the other way)"
_SPENT = "(nothing|cooked|done|spent|toast|finished|gone|empty|shaking) [left]"

RULES = (
    Rule("ten reps", ("# [@good] [@good] @reps",), _target, 0.95),
    Rule("ten of those", ("# [@good] [@good] of @those", "# [@good] of the same"), _target, 0.86),
    Rule("one of them", ("#1 of @them", "just the #1"), _just_one, 0.62),
    Rule("ten of your squats", ("# of (the|your|my) _ [@moves]",), _target, 0.5),
    Rule("ten squats", ("# [@good] [_] [_] @moves", "# @good @good @moves"), _target, 0.82, "word"),
    Rule("ten holds", ("# [@good] (holds|pulses|jumping|alternating)",), _target, 0.72),
    Rule("ten good ones", ("# [of (my|your)] @good [@good] ones",), _target, 0.78),
    Rule(
        "ten each side",
        (
            "# [@good] @each @side",
            "# (on|for|to|with) (each|either) [@side]",
            "# (on|for|to|with) both (sides|legs|arms)",
        ),
        _each_target,
        0.93,
    ),
    Rule("ten each", ("# each",), _each_target, 0.75),
    Rule("ten a side", ("# a (side|leg|arm)", "# (both|either) (sides|legs|arms|ways)"), _each_target, 0.7),
    Rule("each side ten", ("@each @side {#}", "(each|both|either) (side|sides) {for #}"), _each_target, 0.7),
    Rule(
        "ten one way and ten the other",
        (
            "# one @way [@then] # [back] the @lr2 [@way]",
            "# [to|on] (the|your) @lr [@way] [@then] [@then] # [to|on] (the|your) @lr2 [@way]",
            f"# (clockwise|forwards|forward) [@then] # {_BACK}",
            "# @lr [@then] [@then] # @lr",
        ),
        _same_each_way,
        0.9,
        "talk",
    ),
    Rule("eight on the left", ("# on (the|your|that|this|one) (@lr|side|leg|arm)",), _target, 0.8),
    Rule("eight and eight", ("# and #",), _same_number, 0.55),
    Rule(
        "we'll do ten",
        (
            "(@will|@we|gonna|going to|have to|just) @do [for|it|@good|another] #",
            "@will go for #",
            "(making|make) (it|that) #",
        ),
        _asked(0.72, 0.15),
        0.72,
    ),
    Rule("give me ten", ("(give|gimme|get) me [another|@good] #", "gimme [another|@good] #"), _asked(0.8, 0.12), 0.82),
    Rule(
        "I want ten",
        ("@we [just] (want|need|wanna) [just|@good] #", "(looking|aiming|shooting|aim|shoot|go|going) for #"),
        _asked(0.66, 0.15),
        0.64,
    ),
    Rule("this gets ten", ("(this|that|it|each|everything|everyone) gets [a|another] #",), _asked(0.5, 0.22), 0.6),
    Rule(
        "do ten",
        (
            "(do|doing|repeat|complete|perform|add|have|try) [another|@good] #",
            "(knock|bang) out [another|@good] #",
            "(you've|we've) got [another|@good] #",
        ),
        _asked(0.52, 0.12, 0.05),
        0.55,
    ),
    Rule("same ten", ("[the|your] same #", "(still|another) #"), _same, 0.58),
    Rule("ten again", ("# again",), _asked(0.42, 0.12), 0.5),
    Rule(
        "second one's ten",
        (
            "#th (one|one's|set|set's|round|round's) [is|for] {#}",
            "(last|final) (one|one's|set|set's|round|round's) [is] {#}",
            "(first|last|other|next) # (are|is) {#}",
        ),
        _asked(0.56, 0.1),
        0.6,
    ),
    Rule(
        "your ten",
        ("(get|do|hit|finish|got|through|for|give me|after) (your|my|our|all|all your|the full) #",),
        _asked(0.6, 0.05),
        0.72,
    ),
    Rule(
        "it's ten",
        ("(today|now|here|then|and|this time|because) (it's|it is) {#}", "(make|call) it #"),
        _asked(0.5, 0.1, 0.12),
        0.5,
    ),
    Rule("all ten", ("all #",), _all, 0.56),
    Rule("for ten", ("for [@good|@about|a|the|another|your] #",), _asked(0.4, 0.22), 0.42),
    Rule("ten, not twelve", ("# [@reps] (not|instead of|rather than) #",), _instead, 0.86),
    Rule(
        "two eights of music",
        ("# #s", "# #s of (that|those|music|these|pulses)"),
        _counts_of_eight,
        0.72,
    ),
    Rule("two counts of eight", ("# counts of #",), _counts_of_eight, 0.9),
    Rule(
        "as many as you can",
        (
            "as many [@reps|of @them|as] as [@we] (can|possible|like|want)",
            "as many as (possible|you've got|you have|you got|you like|you want)",
            "as many as (are|is|look|stay|feel) (clean|good|pretty|strong|tidy)",
            "how many [@reps] you can [do|get|manage|make]",
            "as many as @we can (get|do|manage)",
            "[your] max (reps|effort)",
            "(amrap|amraps)",
        ),
        _to_failure,
        0.95,
    ),
    Rule(
        "till you can't",
        (
            "@till [@we|they] (can't|cannot|can not|drop|fail|failure|break|collapse|can't any)",
            "@till (there|you|they) ain't any [left]",
            f"@till (there|there's|you|you're|you've|it|it's|i'm) [have|got|are] {_SPENT}",
            "@till the wheels come off",
            "@till (your|the) (arms|legs|form|technique|speed|bar) (goes|go|slows|slow|breaks|crumbles|stops)",
            "[the one] to [technical|muscular] failure",
        ),
        _to_failure,
        0.85,
    ),
    Rule(
        "everything you've got",
        ("everything (you've|you) (got|have) [left]", "go (all out|flat out)"),
        _to_failure,
        0.4,
    ),
)
