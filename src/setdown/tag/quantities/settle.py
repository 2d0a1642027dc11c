"""The role of a number that its phrase leaves open, and of one that no phrase claims.

Read in order over the class, with what the words before and after say: a number a little above the last count goes
on with it; a number that is followed by smaller ones was a target; a size that was said as a load before is a load
again. Each role gets a score from a first guess (``Unsettled.priors``) and such evidence; the best one wins and the
others are kept as alternatives.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

from setdown.tag.number_words import Number
from setdown.tag.quantities.build import OPEN, Unsettled, bounds, plain, stands_free, whole
from setdown.tag.quantities.evidence import ClassSoFar
from setdown.tag.quantities.pattern import Draft
from setdown.tag.quantities.pronouns import is_counted_one
from setdown.tag.quantities.stream import Stream
from setdown.tag.quantities.values import (
    Alternative,
    Count,
    Countdown,
    LoadSaid,
    Other,
    Remaining,
    RepTarget,
    Seconds,
)
from setdown.tag.quantities.vocabulary import CLASSES

Choice = tuple[Draft, str]  # a mention in the making and the name of the rule that made it

#: How far ahead the next counted number still belongs to the same set, in words.
COUNT_SIGHT = 60
#: How far behind a count 'two more' still belongs to it, in words.
REMAINING_SIGHT = 25
#: A role with a lower score than this is no better than 'unclear'.
LEAST = 0.22
#: Alternatives below this score are not worth keeping.
LEAST_ALTERNATIVE = 0.25
MOST = 500

_BARE_PRIORS = {"count": 0.4, "reps": 0.3, "load": 0.05, "work_s": 0.05}
_COUNTABLE = frozenset({"cardinal", "count_up", "count_down"})
_ODD_FORMS = frozenset({"ordinal", "fraction", "vague", "year", "clock"})
_BREAKS = frozenset({"reps", "rest_s", "round", "scheme", "sets", "interval", "ordinal"})
_MOVES = CLASSES["moves"]


def settle_numbers(stream: Stream, taken: bytearray, chosen: list[Choice]) -> list[Choice]:
    """The chosen mentions with open ones settled, and the numbers that none of them covers; in order."""
    items = [*chosen, *_unclaimed(stream, taken)]
    items.sort(key=lambda c: (c[0].start, c[0].end))
    so_far = ClassSoFar(stream, (draft for draft, _ in items))
    ahead, left = _look_ahead(stream, items)
    out: list[Choice] = []
    for k, (draft, name) in enumerate(items):
        if draft.kind == OPEN:
            so_far.look_at(draft, out[-1][0] if out else None)
            draft = _settle(so_far, draft, ahead[k], left[k])
        elif draft.kind == "count":
            draft = _count_in(so_far, draft)
        so_far.hear(draft)
        out.append((draft, name))
    return out


def _unclaimed(stream: Stream, taken: bytearray) -> list[Choice]:
    """Counting runs and single numbers that no phrase covers."""
    out: list[Choice] = []
    numbers, positions, k = stream.numbers, stream.positions, 0
    while k < len(numbers):
        token = positions[k]
        if taken[token]:
            k += 1
            continue
        j = k
        if numbers[k].form in {"count_up", "count_down"}:
            while j + 1 < len(numbers) and not taken[positions[j + 1]] and _continues(numbers[j], numbers[j + 1]):
                j += 1
        if j > k:
            out.append((_run(numbers[k], numbers[j], token, positions[j] + 1), "five six seven"))
        else:
            out.append((Draft(OPEN, Unsettled(numbers[k], _BARE_PRIORS), token, token + 1), "a number by itself"))
        k = j + 1
    return out


def _continues(here: Number, there: Number) -> bool:
    if there.form != here.form or there.start - here.end > 1 or here.value is None or there.value is None:
        return False
    return there.value - here.value == (1 if here.form == "count_up" else -1)


def _run(first: Number, last: Number, start: int, end: int) -> Draft:
    """A counting run as one mention: repetitions counted up, or a countdown."""
    low, high = whole(first) or 0, whole(last) or 0
    if first.form == "count_up":
        return Draft("count", Count(high, low), start, end, 0.85)
    return Draft("countdown", Countdown(low, high), start, end, 0.85 if high <= 1 else 0.7)


def _count_in(so_far: ClassSoFar, draft: Draft) -> Draft:
    """'five, six, seven, eight' that follows no count starts the music."""
    value = draft.value
    if value.first != 5 or value.n not in {7, 8} or so_far.count in {3, 4}:
        return draft
    counted = Alternative("count", value, 0.3)
    return Draft("other", Other("count_in", None, (counted,)), draft.start, draft.end, 0.6)


def _look_ahead(stream: Stream, items: list[Choice]) -> tuple[list[int], list[bool]]:
    """For each item, the next counted number of the same set (0: none in sight), and whether 'two more' is near."""
    ahead, left = [0] * len(items), [False] * len(items)
    value, token, remaining = 0, 1 << 30, 1 << 30
    for k in range(len(items) - 1, -1, -1):
        draft = items[k][0]
        kind = draft.kind
        if value and token - draft.start <= COUNT_SIGHT:
            ahead[k] = value
        left[k] = remaining - draft.end <= REMAINING_SIGHT
        if kind == "count":
            value, token = draft.value.first, draft.start
        elif kind == "remaining":
            remaining = draft.start
        elif kind == OPEN and "count" in draft.value.priors:
            n = whole(draft.value.number)
            if n is not None and draft.value.number.form in _COUNTABLE and stands_free(stream, draft.end - 1):
                value, token = n, draft.start
        elif kind in _BREAKS:
            value, remaining = 0, 1 << 30
    return ahead, left


def _settle(so_far: ClassSoFar, draft: Draft, ahead: int, left: bool) -> Draft:
    said: Unsettled = draft.value
    number, start, end = said.number, draft.start, draft.end
    n, both = whole(number), bounds(number)
    if number.form in _ODD_FORMS or both is None or n is None or n < 1:
        return _settle_odd(so_far, draft, number)
    scores = dict(said.priors)
    if n == 1 and not ("count" in scores and is_counted_one(so_far.stream, start)):
        return Draft("other", Other("pronoun", number.value), start, end, 0.55)
    if 100 <= n <= 1259 and n % 100 < 60 and "clock" in so_far.stream.said and "load" in scores:
        return Draft("other", Other("clock", number.value), start, end, 0.5)
    for role in tuple(scores):
        match role:
            case "count":
                scores[role] += so_far.for_count(n, ahead, left) - (0.3 if number.high is not None else 0.0)
            case "reps":
                scores[role] += so_far.for_target(n, ahead)
            case "load":
                scores[role] += so_far.for_load(number)
            case "remaining":
                scores[role] += so_far.for_remaining(n)
            case _:
                scores[role] += so_far.for_time(n)
    ranked = sorted(((score, kind) for kind, score in scores.items()), reverse=True)
    best, kind = ranked[0]
    if best < LEAST or n > MOST:
        return Draft("other", Other("unclear", number.value), start, end, 0.3)
    others = tuple(
        Alternative(role, _value_of(role, said, both), round(min(score, 0.95), 2))
        for score, role in ranked[1:]
        if score >= LEAST_ALTERNATIVE
    )
    return Draft(kind, _value_of(kind, said, both, others), start, end, min(best, 0.9))


def _value_of(kind: str, said: Unsettled, both: tuple[int, int], others: tuple[Alternative, ...] = ()) -> Any:
    """The value that a number has in a role."""
    low, high = both
    match kind:
        case "count":
            return Count(low, low, others)
        case "reps":
            return RepTarget(low, high, each_side=said.each_side, alternatives=others)
        case "remaining":
            return Remaining(low, None, others)
        case "load":
            load = _load_of(said)
            return replace(load, alternatives=others) if others else load
        case _:
            return Seconds(low, each_side=said.each_side, alternatives=others)


def _load_of(said: Unsettled) -> LoadSaid:
    load = said.load() if said.load is not None else None
    return load or LoadSaid(plain(said.number.value or Decimal(0)))


def _settle_odd(so_far: ClassSoFar, draft: Draft, number: Number) -> Draft:
    """Ordinals ('third, hold it there' counts), halves, vague numbers and loads that are no whole number."""
    start, end, stream = draft.start, draft.end, so_far.stream
    n = whole(number)
    if number.form == "ordinal":
        if n is not None and so_far.continues(n, 3):
            return Draft("count", Count(n, n), start, end, 0.55)
        return Draft("other", Other("ordinal", number.value), start, end, 0.5)
    if number.form == "vague" and stream.word(end) == "of" and stream.word(end + 1) in _MOVES:
        return Draft("reps", RepTarget(n or 2, n or 2), start, end, 0.45)
    if "load" in draft.value.priors and number.form in {"cardinal", "plural"} and number.value and number.value > 1:
        strength = draft.value.priors["load"] + so_far.for_load(number)
        if strength >= LEAST:
            return Draft("load", _load_of(draft.value), start, end, min(strength, 0.9))
    what = number.form if number.form in {"year", "clock", "vague", "fraction"} else "unclear"
    return Draft("other", Other(what, number.value), start, end, 0.5)
