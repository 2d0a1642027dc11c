"""How many repetitions to do: rep targets and schemes."""

from __future__ import annotations

from collections.abc import Sequence

from setdown.tag.quantities.build import each_side_end, rep_target, whole
from setdown.tag.quantities.pattern import Draft, Match, Rule
from setdown.tag.quantities.values import RepScheme, RepTarget, SetCount


def _target(match: Match) -> Draft | None:
    """The last number of the match; a following 'each side' belongs to it."""
    number = match.numbers[-1]
    end = each_side_end(match.stream, match.end)
    target = rep_target(number, each_side=end > match.end or _each_before(match))
    return target and Draft("reps", target, end=max(end, match.end))


def _first_target(match: Match) -> Draft | None:
    """The first number of the match, when another may stand in what follows it."""
    end = each_side_end(match.stream, match.end)
    target = rep_target(match.numbers[0], each_side=end > match.end or _each_before(match))
    return target and Draft("reps", target, end=max(end, match.end))


def _each_before(match: Match) -> bool:
    """'each side ten', 'on each leg we do ten'."""
    word, side = match.word(match.start - 2), match.word(match.start - 1)
    return word in {"each", "per", "every"} and side in {"side", "leg", "arm", "way"}


def _each_target(match: Match) -> Draft | None:
    target = rep_target(match.numbers[0], each_side=True)
    return target and Draft("reps", target)


def _same_each_way(match: Match) -> Draft | None:
    """'five one way and five the other': the two numbers must agree."""
    values = {n.value for n in match.numbers if n.value != 1}
    return _each_target(match) if len(values) == 1 else None


def _sets_of(match: Match) -> Sequence[Draft] | None:
    sets, reps = whole(match.numbers[0]), rep_target(match.numbers[-1])
    if sets is None or reps is None or not 1 <= sets <= 20 or len(match.numbers) != 2:
        return None
    end = each_side_end(match.stream, match.end)
    if end > match.end:
        reps = RepTarget(reps.lo, reps.hi, each_side=True)
    first, second = match.tokens
    return [
        Draft("sets", SetCount(sets, sets, "set"), match.start, second),
        Draft("reps", reps, second, max(end, match.end)),
    ]


def _to_failure(match: Match) -> Draft:
    end = each_side_end(match.stream, match.end)
    return Draft("reps", RepTarget(None, None, to_failure=True, each_side=end > match.end), end=max(end, match.end))


def _scheme(match: Match) -> Draft | None:
    """Three or more falling (or rising) numbers, each a plausible set; not a count, whose steps are one."""
    values = [whole(n) for n in match.numbers]
    if any(v is None or not 1 <= v <= 60 for v in values) or any(n.high for n in match.numbers):
        return None
    reps = [v for v in values if v is not None]
    steps = [b - a for a, b in zip(reps, reps[1:], strict=False)]
    falling, rising = all(s <= -2 for s in steps), all(s >= 2 for s in steps)
    if not (falling or rising):
        return None
    if len(set(steps)) == 1 and match.numbers[0].form.startswith("count"):
        return None
    end = each_side_end(match.stream, match.end)
    return Draft("scheme", RepScheme(tuple(reps), each_side=end > match.end), end=max(end, match.end))


def _counts_of_eight(match: Match) -> Draft | None:
    """'two eights' of music: the beats, as repetitions."""
    how_many, size = whole(match.numbers[0]), whole(match.numbers[1])
    if how_many is None or size not in {4, 8} or not 1 <= how_many <= 8:
        return None
    return Draft("reps", RepTarget(how_many * size, how_many * size))


RULES = (
    Rule("ten reps", ("# [@good] [@good] @reps",), _first_target, 0.95),
    Rule("ten of those", ("# [@good] [@good] of @those", "# [@good] of the same"), _first_target, 0.85),
    Rule("ten of your squats", ("# of (the|your|my) _", "# of (the|your|my) _ @moves"), _first_target, 0.6),
    Rule("ten push ups", ("# [@good] [_] [_] @moves", "# @good @good @moves"), _first_target, 0.8),
    Rule("ten each side", ("# [@good] (each|per|every|either) @side", "# [on|for|to] (each|both|either) @side"), _each_target, 0.93),
    Rule("ten each", ("# each",), _each_target, 0.75),
    Rule("ten a side", ("# a (side|leg|arm)", "# (both|either) (sides|legs|arms|ways)"), _each_target, 0.7),
    Rule("each side ten", ("(each|per|every|either) @side {#}", "(each|both|either) (side|sides) {for #}"), _each_target, 0.7),
    Rule(
        "ten one way and ten the other",
        ("# [to|on] (one|the left|the right) (way|side|direction|leg|arm) [and|then] # [to|on] (the other|the right|the left) [way|side|leg]",
         "# [to|on] (the|your) @lr [and] [then] # [to|on] (the|your) (@lr|other)",
         "# @lr [and] [then] # @lr"),
        _same_each_way,
        0.9,
    ),
    Rule("eight on the left", ("# on (the|your|that|this|one) (@lr|side|leg|arm|one)",), _first_target, 0.78),
    Rule("we'll do ten", ("(we'll|i'll|you'll|let's|we|you|gonna|going to|can you|to) (do|have|get|take|go for|make it|aim for|complete) [@good|another] #",), _target, 0.72),
    Rule("give me ten", ("(give|gimme|get|do) (me|us) [another|@good] #", "gimme [another|@good] #", "(i|we) (want|need) [@good] # (out|outta|from) [of]"), _target, 0.82),
    Rule("I want ten", ("(i|we|you) (want|need|wanna) [@good|all] #", "(looking|aiming|going|shooting) for #", "(aim|go|shoot) for #"), _target, 0.62),
    Rule("do ten", ("(do|doing|repeat|knock out|bang out|complete|perform|add) [another|@good|all] #",), _target, 0.62),
    Rule("same ten", ("[the|your] same #", "still #"), _target, 0.62),
    Rule("sets of ten", ("@sets of #",), _target, 0.9),
    Rule("three sets of ten", ("# [@good] [@good] (@sets|rounds|lots|times|x|by) [of] #", "# times #"), _sets_of, 0.94),
    Rule("three by ten", ("# (by|x) #",), _sets_of, 0.85),
    Rule("for ten", ("for [@good] #",), _target, 0.45),
    Rule("ten, not twelve", ("{# [@reps]} not #",), _first_target, 0.7),
    Rule("ten instead of twelve", ("{#} instead of #",), _first_target, 0.8),
    Rule(
        "as many as you can",
        ("as many [@reps|of them|of those|as] as [you|we|i] (can|possible|like|want|@good)",
         "as many as (possible|you've got)",
         "max (reps|effort reps)", "(amrap|amraps)"),
        _to_failure,
        0.95,
    ),
    Rule(
        "till you can't",
        ("(till|til|until|'til) [you|we|i] (can't|cannot|drop|fail|failure|break|collapse|can't any)",
         "(till|til|until|'til) (there|there's|you|you're|you've) (ain't any|nothing|have nothing|got nothing|cooked|done|spent|toast|finished) [left]",
         "(till|til|until|'til) the wheels come off", "to failure", "to technical failure", "(till|til|until) failure"),
        _to_failure,
        0.85,
    ),
    Rule("everything you've got left", ("(go|empty) (all out|the tank)",), _to_failure, 0.4),
    Rule("twelve ten eight", ("# [and|then|and then] # [and|then|and then] #", "# - # - #",
                              "# [and|then|and then] # [and|then|and then] # [and|then|and then] #", "# - # - # - #",
                              "# [and|then] # [and|then] # [and|then] # [and|then] #"), _scheme, 0.82),
    Rule("ten then eight then six", ("# then # [and] then #", "# then # then # then #"), _scheme, 0.9),
    Rule("twelve then ten", ("# then # (then|and) #",), _scheme, 0.85),
    Rule("two eights of music", ("(for|do|another|take|only) {# #s}", "# #s of (that|those|music|these)", "{# #s} (then|and) (@lr|single|double)"), _counts_of_eight, 0.7),
    Rule("counts of eight", ("# (counts|sets|lots) of #",), lambda m: _counts_of_eight(m) if m.word(m.tokens[0] + 1) == "counts" else None, 0.9),
)
