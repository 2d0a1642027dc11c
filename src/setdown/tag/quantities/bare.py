"""Numbers that no phrase claims: counted aloud, a target thrown in, or nothing.

What decides is the count so far (a number a little higher goes on with it), the target in force, whether the number
stands alone in its clause, and what follows ('twelve, off we trot').
"""

from __future__ import annotations

from setdown.tag.number_words import Number
from setdown.tag.quantities.build import bounds, whole
from setdown.tag.quantities.pattern import Draft
from setdown.tag.quantities.stream import Stream
from setdown.tag.quantities.values import Alternative, Count, Countdown, Other, RepTarget

#: A count that has not gone on for so many words has ended (about half a minute of talk).
COUNT_MEMORY = 75
#: How far a count jumps when the instructor skips numbers.
LONGEST_SKIP = 7
_GO = frozenset("go off begin start ready down up and here let's away press pull lift drop squeeze".split())


class BareReader:
    """Reads the unclaimed numbers of a class in order; ``note_*`` tell it what phrases said on the way."""

    def __init__(self, stream: Stream) -> None:
        self._stream = stream
        self._target: int | None = None
        self._count = 0
        self._count_token = -10_000

    def note(self, kind: str, value: object, token: int) -> None:
        """A phrase between the numbers: a new target, a count, the end of a set."""
        if kind == "reps" and isinstance(value, RepTarget):
            if value.hi:
                self._target = value.hi
            self._count = 0
        elif kind == "count" and isinstance(value, Count):
            self._count, self._count_token = value.n, token
        elif kind in {"rest_s", "round", "load"}:
            self._count = 0

    def read(self, number: Number, token: int) -> Draft:
        """The most likely role of a bare number, with the runner-up as its alternative."""
        stream = self._stream
        n = whole(number)
        both = bounds(number)
        if n is None or both is None or n < 1 or number.form not in {"cardinal", "range", "count_up", "count_down"}:
            return Draft("other", Other("unclear", number.value), token, token + 1, 0.4)
        alone = stream.breaks_before(token) + stream.breaks_after(token)
        target = self._target
        running = self._count > 0 and token - self._count_token <= COUNT_MEMORY
        goes_on = running and self._count < n <= self._count + LONGEST_SKIP
        fits = target is None or n <= target
        if n > 60 or number.high is not None:
            return Draft("other", Other("unclear", number.value), token, token + 1, 0.4)
        score = 0.35
        if goes_on and fits:
            score = 0.75 if n - self._count <= 4 else 0.65
        elif n <= 3 and not running:
            score = 0.5
        elif fits and target is not None and n < target:
            score = 0.5
        elif target is not None and n == target:
            score = 0.45
        as_count = Count(n, n)
        as_target = RepTarget(*both)
        targeted = 0.4 if n >= 4 else 0.15
        if stream.word(token + 1) in _GO or stream.word(token + 2) in {"go", "trot", "we"}:
            targeted += 0.1
        if alone == 2:
            score += 0.05
        if not fits:
            targeted += 0.2
        if targeted > score:
            value = RepTarget(*both, alternatives=(Alternative("count", as_count, score),))
            return Draft("reps", value, token, token + 1, min(targeted, 0.7))
        value_count = Count(n, n, alternatives=(Alternative("reps", as_target, targeted),))
        return Draft("count", value_count, token, token + 1, min(score, 0.85))


def read_run(numbers: list[Number], tokens: list[int]) -> Draft | None:
    """A counting run as one mention: reps counted up, or a countdown."""
    first, last = whole(numbers[0]), whole(numbers[-1])
    if first is None or last is None:
        return None
    if numbers[0].form == "count_up":
        return Draft("count", Count(last, first), tokens[0], tokens[-1] + 1, 0.85)
    return Draft("countdown", Countdown(first, last), tokens[0], tokens[-1] + 1, 0.85 if last <= 1 else 0.7)
