"""How many repetitions to do: rep targets and schemes."""

from __future__ import annotations

from collections.abc import Sequence

from setdown.tag.quantities.build import OPEN, Unsettled, ask, each_side_end, rep_target, whole
from setdown.tag.quantities.pattern import Build, Draft, Match, Rule
from setdown.tag.quantities.values import Other, RepScheme, RepTarget, SetCount


def _each_before(match: Match) -> bool:
    """'each side ten', 'on each leg we do ten'."""
    word, side = match.word(match.start - 2), match.word(match.start - 1)
    return word in {"each", "per", "every"} and side in {"side", "leg", "arm", "way"}


def _target(match: Match) -> Draft | None:
    """The first number of the match; a following 'each side' belongs to it. 'one of them' is no target."""
    end = each_side_end(match.stream, match.end)
    least = 1 if match.word(match.end - 1) in {"rep", "repetition"} else 2
    target = rep_target(match.numbers[0], each_side=end > match.end or _each_before(match), least=least)
    return target and Draft("reps", target, end=max(end, match.end))


def _asked(reps: float, work: float = 0.1, count: float = 0.0) -> Build:
    def build(match: Match) -> Draft | None:
        return ask(match, reps=reps, work=work, count=count)

    return build


def _each_target(match: Match) -> Draft | None:
    """'ten each side': a demand, or a count of both sides at once ('two each, five each')."""
    number = match.numbers[0]
    if rep_target(number) is None:
        return None
    return Draft(OPEN, Unsettled(number, {"reps": 0.72, "count": 0.22}, each_side=True), score=match.rule.score)


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


def _sets_of(match: Match) -> Sequence[Draft] | None:
    sets, reps = whole(match.numbers[0]), rep_target(match.numbers[-1], least=1)
    if sets is None or reps is None or not 1 <= sets <= 20 or len(match.numbers) != 2:
        return None
    end = each_side_end(match.stream, match.end)
    if end > match.end:
        reps = RepTarget(reps.lo, reps.hi, each_side=True)
    first, second = match.tokens
    return [
        Draft("sets", SetCount(sets, sets, "set"), first, second),
        Draft("reps", reps, second, max(end, match.end)),
    ]


def _to_failure(match: Match) -> Draft:
    end = each_side_end(match.stream, match.end)
    return Draft("reps", RepTarget(None, None, to_failure=True, each_side=end > match.end), end=max(end, match.end))


def _scheme(match: Match) -> Draft | None:
    """Falling or rising numbers, each a plausible set; not a count, whose steps are one."""
    values = [whole(n) for n in match.numbers]
    if any(v is None or not 1 <= v <= 60 for v in values) or any(n.high for n in match.numbers):
        return None
    reps = [v for v in values if v is not None]
    steps = [b - a for a, b in zip(reps, reps[1:], strict=False)]
    if not (all(s <= -2 for s in steps) or all(s >= 2 for s in steps)):
        return None
    if any(n.form.startswith("count") for n in match.numbers) or reps[0] < 4 and len(reps) < 4:
        return None
    end = each_side_end(match.stream, match.end)
    return Draft("scheme", RepScheme(tuple(reps), each_side=end > match.end), end=max(end, match.end))


def _instead(match: Match) -> Sequence[Draft] | None:
    """'ten, not twelve': the first is the target, the second is not."""
    target = rep_target(match.numbers[0], least=2)
    if target is None or len(match.numbers) != 2:
        return None
    second = match.tokens[1]
    old = match.numbers[1].value
    return [Draft("reps", target, match.start, second), Draft("other", Other("not_now", old), second, match.end)]


def _counts_of_eight(match: Match) -> Draft | None:
    """'two eights' of music: the beats, as repetitions."""
    how_many, size = whole(match.numbers[0]), whole(match.numbers[1])
    if how_many is None or size not in {4, 8} or not 1 <= how_many <= 8:
        return None
    if not match.stream.said & {"counts", "beat", "beats", "music", "count", "tempo", "song"}:
        return None
    return Draft("reps", RepTarget(how_many * size, how_many * size))


_THEN = "[and|then|and then]"
_OTHER_WAY = "[to|on] (the other|the right|the left|the second) [way|side|leg|arm|direction]"

RULES = (
    Rule("ten reps", ("# [@good] [@good] @reps",), _target, 0.95),
    Rule("ten of those", ("# [@good] [@good] of @those", "# [@good] of the same"), _target, 0.86),
    Rule("ten of your squats", ("# of (the|your|my) _ [@moves]",), _target, 0.5),
    Rule("ten squats", ("# [@good] [_] [_] @moves", "# @good @good @moves"), _target, 0.82, "word"),
    Rule("ten holds", ("# [@good] (holds|pulses|jumping|alternating)",), _target, 0.72),
    Rule("eight and eight", ("# and #",), _same_number, 0.55),
    Rule("ten good ones", ("# [of my|of your] @good [@good] ones",), _target, 0.78),
    Rule("ten each side", ("# [@good] (each|per|every|either) @side", "# (on|for|to|with) (each|both|either) (@side|)"), _each_target, 0.93),
    Rule("ten each", ("# each",), _each_target, 0.75),
    Rule("ten a side", ("# a (side|leg|arm)", "# (both|either) (sides|legs|arms|ways)"), _each_target, 0.7),
    Rule("each side ten", ("(each|per|every|either) @side {#}", "(each|both|either) (side|sides) {for #}"), _each_target, 0.7),
    Rule("ten one way and ten the other", (
        "# [to|on] (one|the left|the right) [way|side|direction|leg|arm] [and] [then] # " + _OTHER_WAY,
        "# [to|on] (the|your) @lr [and] [then] # [to|on] (the|your) (@lr|other)",
        "# (clockwise|forwards|forward|in) [and] [then] # (anticlockwise|counterclockwise|backwards|back|out|the other way)",
        "# @lr [and] [then] # @lr"), _same_each_way, 0.9, "talk"),
    Rule("eight on the left", ("# on (the|your|that|this|one) (@lr|side|leg|arm)",), _target, 0.8),
    Rule("we'll do ten", (
        "(we'll|i'll|you'll|let's|we|you|gonna|going to|can you|want you to|have to|just) (do|have|get|take|go for|make it|aim for|complete|try|try for) [@good|another] #",
        "(making|make) (it|that) #"), _asked(0.72, 0.15), 0.72),
    Rule("give me ten", ("(give|gimme|get) me [another|@good] #", "gimme [another|@good] #"), _asked(0.8, 0.12), 0.82),
    Rule("I want ten", ("(i|we|you) [just] (want|need|wanna) [just|@good|all] #", "(looking|aiming|shooting) for #", "(aim|shoot|go|going) for #"), _asked(0.66, 0.15), 0.64),
    Rule("do ten", ("(do|doing|repeat|knock out|bang out|complete|perform|add|have|try|you've got|we've got) [another|@good|all] #",), _asked(0.52, 0.12, 0.05), 0.55),
    Rule("same ten", ("[the|your] same #", "(still|another) #", "# again"), _asked(0.55, 0.15), 0.58),
    Rule("your ten", ("(get|do|hit|finish|got|through|for|give me|after) (your|my|our|all|all your|the full) #",), _asked(0.6, 0.05), 0.72),
    Rule("it's ten", ("(today|now|here|then|and|this time|because) (it's|it is) {#}", "(make|call) it #"), _asked(0.5, 0.1), 0.5),
    Rule("all ten", ("{all #}",), _asked(0.55, 0.0, 0.1), 0.55),
    Rule("sets of ten", ("@sets of #",), _target, 0.9),
    Rule("three sets of ten", ("# [@good] [@good] (@sets|rounds|lots|times|x|by) [of] #", "# times #", "# @sets of (somewhere between|between|about|around) #"), _sets_of, 0.94),
    Rule("three by ten", ("# (by|x) #",), _sets_of, 0.86),
    Rule("for ten", ("for [@good|about|a|the|another|your] #",), _asked(0.4, 0.22), 0.42),
    Rule("ten, not twelve", ("# [@reps] not #", "# [@reps] instead of #", "# [@reps] rather than #"), _instead, 0.86),
    Rule("as many as you can", (
        "as many [@reps|of them|of those|as] as [you|we|i] (can|possible|like|want|@good)",
        "as many as (possible|you've got|you have)", "[your] max (reps|effort)", "(amrap|amraps)"), _to_failure, 0.95),
    Rule("till you can't", (
        "(till|til|until|'til) [you|we|i|they] (can't|cannot|can not|drop|fail|failure|break|collapse|can't any)",
        "(till|til|until|'til) (there|there's|you|you're|you've|it|it's|i'm) (ain't any|nothing|have nothing|got nothing|cooked|done|spent|toast|finished|gone|empty|stops moving) [left]",
        "(till|til|until|'til) the wheels come off", "[the one] to [technical] failure", "(till|til|until) failure"), _to_failure, 0.85),
    Rule("everything you've got", ("everything (you've|you) (got|have) [left]", "(go|all the way to|to) max", "[go] (all out|flat out)"), _to_failure, 0.4),
    Rule("twelve ten eight", (
        f"# {_THEN} # {_THEN} #", "# - # - #", f"# {_THEN} # {_THEN} # {_THEN} #", "# - # - # - #",
        f"# {_THEN} # {_THEN} # {_THEN} # {_THEN} #", "# - # - # - # - #"), _scheme, 0.84, "talk"),
    Rule("two eights of music", ("[for|do|another|take|only] {# #s}", "# #s of (that|those|music|these)"), _counts_of_eight, 0.72),
    Rule("two counts of eight", ("# counts of #",), _counts_of_eight, 0.9),
)
