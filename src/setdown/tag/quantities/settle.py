"""The role of a number that its phrase leaves open, and of one that no phrase claims.

Read in order over the class, with what the words before and after say: a number a little above the last count goes
on with it; a number that is followed by smaller ones was a target; a size that was said as a load before is a load
again. Each role gets a score from a first guess (``Unsettled.priors``) and such evidence; the best one wins and the
runner-up is kept as an alternative. The weights are hand-set on annotated classes.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

from setdown.tag.number_words import Number
from setdown.tag.quantities.build import OPEN, Unsettled, bounds, plain, stands_free, whole
from setdown.tag.quantities.pattern import Draft
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

#: A count that has not gone on for so many words has ended (about half a minute of talk).
COUNT_MEMORY = 75
#: How far a count jumps when the instructor skips numbers.
LONGEST_SKIP = 7
#: How far ahead the next counted number still belongs to the same set, in words.
COUNT_SIGHT = 60
#: How far behind a count 'two more' still belongs to it, in words.
REMAINING_SIGHT = 25
#: How long a target of one sort (repetitions or seconds) stays likely for the next, in words.
HABIT = 300
#: How many words after its target a set is still likely on.
SET_LENGTH = 150
#: A silence before a number that speaks for counting in the middle of work, in ms.
WORKING_SILENCE = 2200

_COUNTABLE = frozenset({"cardinal", "count_up", "count_down"})
USUAL_TARGETS = frozenset({4, 5, 6, 8, 10, 12, 15, 16, 20, 24, 25, 30})
USUAL_SECONDS = frozenset({15, 20, 25, 30, 35, 40, 45, 50, 60, 75, 90})
_GO = frozenset("go off begin start ready let's here away press pull push lift up reach from big good in".split())
_END = frozenset(
    "rack done rest shake switch swap change put set relax release good nice lovely beauty other park drop over enough "
    "finished stay hold melt out lower yes well great perfect step there and".split()
) - {"and"}
_BAR = frozenset({"bar", "barbell", "plates"})
_KIT = (
    frozenset("dumbbell dumbbells kettlebell kettlebells bell bells weights pounds pounders lbs kilos kilo kg kgs".split())
    | _BAR
)
_MOVES = CLASSES["moves"] | CLASSES["move1"]
_BREAKS = frozenset({"reps", "rest_s", "round", "scheme", "sets", "interval", "ordinal"})
#: Words before 'one' that make it a pronoun or an article, and behind it.
_ONE_BEFORE = CLASSES["pronoun"] | CLASSES["good"] | frozenset(
    "a an of own at in on only with for to from is just take use the got have grab need want try last "
    "shoulder knee arm leg side hip back front pushing heavy red blue black big ugly tough my your our his her "
    "long deep final biggest hardest last first".split()
)


def settle_numbers(stream: Stream, taken: bytearray, chosen: list[Choice]) -> list[Choice]:
    """The chosen mentions with open ones settled, and the numbers that none of them covers; in order."""
    items: list[Choice] = list(chosen)
    items += _unclaimed(stream, taken)
    items.sort(key=lambda c: (c[0].start, c[0].end))
    return _Reader(stream, items).read()


_BARE_PRIORS = {"count": 0.4, "reps": 0.3, "load": 0.05, "work_s": 0.05}


def _unclaimed(stream: Stream, taken: bytearray) -> list[Choice]:
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


class _Reader:
    def __init__(self, stream: Stream, items: list[Choice]) -> None:
        self._stream = stream
        self._items = items
        self._has_kit = bool(stream.said & _KIT)
        self._has_bar = bool(stream.said & _BAR)
        self._loads: set[Decimal] = set()
        self._targets: set[int] = set()
        for draft, _ in items:
            if draft.kind == "load" and draft.value.value is not None and draft.score >= 0.75:
                self._loads.add(draft.value.value)
            elif draft.kind == "reps" and draft.score >= 0.75 and draft.value.lo:
                self._targets.add(draft.value.hi)
            elif draft.kind == "scheme":
                self._targets.update(draft.value.reps)
        self._target: int | None = None
        self._target_token = self._timed_token = -10_000
        self._count, self._count_token = 0, -10_000
        self._hears_silence = any(stream.gap)
        self._ahead, self._left = self._look_ahead()

    def read(self) -> list[Choice]:
        out: list[Choice] = []
        for k, (draft, name) in enumerate(self._items):
            if draft.kind == OPEN:
                draft = self._settle(draft, self._ahead[k], self._left[k])
            self._note(draft)
            out.append((draft, name))
        return out

    def _look_ahead(self) -> tuple[list[int], list[bool]]:
        """For each item, the next counted number of the same set (0: none in sight), and whether 'two more' is near."""
        ahead, left = [0] * len(self._items), [False] * len(self._items)
        value, token, remaining = 0, 1 << 30, 1 << 30
        for k in range(len(self._items) - 1, -1, -1):
            draft = self._items[k][0]
            if value and token - draft.start <= COUNT_SIGHT:
                ahead[k] = value
            left[k] = remaining - draft.end <= REMAINING_SIGHT
            if draft.kind == "count":
                value, token = draft.value.first, draft.start
            elif draft.kind == "remaining":
                remaining = draft.start
            elif draft.kind == OPEN and "count" in draft.value.priors:
                n = whole(draft.value.number)
                if n is not None and draft.value.number.form in _COUNTABLE and stands_free(self._stream, draft.end - 1):
                    value, token = n, draft.start
            elif draft.kind in _BREAKS:
                value, remaining = 0, 1 << 30
        return ahead, left

    def _note(self, draft: Draft) -> None:
        kind, value = draft.kind, draft.value
        if kind == "count":
            self._count, self._count_token = value.n, draft.end
        elif kind == "reps":
            if value.hi:
                self._target = value.hi
            self._count, self._target_token = 0, draft.start
        elif kind == "scheme":
            self._target, self._target_token, self._count = max(value.reps), draft.start, 0
        elif kind in {"work_s", "interval"}:
            self._timed_token, self._count = draft.start, 0
        elif kind in {"rest_s", "round"} or (kind == "load" and value.value is not None):
            self._count = 0
        elif kind == "remaining" and self._count and value.n and self._target:
            self._count = max(self._count, self._target - value.n)

    def _settle(self, draft: Draft, ahead: int, left: bool) -> Draft:
        open_number: Unsettled = draft.value
        number = open_number.number
        scores = dict(open_number.priors)
        n, both = whole(number), bounds(number)
        if number.form in {"ordinal", "fraction", "vague", "year", "clock"} or both is None or n is None or n < 1:
            return self._settle_odd(draft, number, scores)
        if n == 1 and not ("count" in scores and self._counts_one(draft.start)):
            return self._finish(draft, "other", Other("pronoun", number.value), 0.55, ())
        if 100 <= n <= 1259 and n % 100 < 60 and "clock" in self._stream.said and "load" in scores:
            return self._finish(draft, "other", Other("clock", number.value), 0.5, ())
        if "count" in scores:
            scores["count"] += self._count_evidence(draft, n, ahead) + (0.15 if left else 0.0)
        if "reps" in scores:
            scores["reps"] += self._target_evidence(draft, n, ahead)
        if "load" in scores:
            scores["load"] += self._load_evidence(draft, number)
        if "work_s" in scores:
            scores["work_s"] += self._time_evidence(draft, n)
        if number.high is not None:
            scores["count"] = scores.get("count", 0.0) - 0.3
        values: dict[str, Any] = {
            "count": Count(n, n),
            "reps": RepTarget(*both, each_side=open_number.each_side),
            "work_s": Seconds(n, each_side=open_number.each_side),
            "load": open_number.load or LoadSaid(plain(number.value) if number.value is not None else None),
        }
        ranked = sorted(((s, k) for k, s in scores.items()), reverse=True)
        best, kind = ranked[0]
        if best < 0.3 or n > 500:
            return self._finish(draft, "other", Other("unclear", number.value), 0.3, ())
        others = tuple(Alternative(k, values[k], round(min(s, 0.95), 2)) for s, k in ranked[1:] if s >= 0.25)
        return self._finish(draft, kind, replace(values[kind], alternatives=others), min(best, 0.9), others)

    def _settle_odd(self, draft: Draft, number: Number, scores: dict[str, float]) -> Draft:
        """Ordinals ('third, hold it there' counts), halves, vague numbers and plain fractions."""
        if number.form == "ordinal":
            n = whole(number) or 0
            if self._count and 0 < n - self._count <= 3 and draft.start - self._count_token <= COUNT_MEMORY:
                return self._finish(draft, "count", Count(n, n), 0.55, ())
            return self._finish(draft, "other", Other("ordinal", number.value), 0.5, ())
        if number.form == "vague" and self._stream.word(draft.end) == "of" and self._stream.word(draft.end + 1) in _MOVES:
            n = whole(number) or 2
            return self._finish(draft, "reps", RepTarget(n, n), 0.45, ())
        if "load" in scores and number.form in {"cardinal", "plural"} and number.value is not None and number.value > 1:
            strength = scores["load"] + self._load_evidence(draft, number)
            if strength >= 0.3:
                return self._finish(draft, "load", LoadSaid(plain(number.value)), min(strength, 0.9), ())
        what = {"year": "year", "clock": "clock", "vague": "vague", "fraction": "fraction"}.get(number.form, "unclear")
        return self._finish(draft, "other", Other(what, number.value), 0.5, ())

    @staticmethod
    def _finish(draft: Draft, kind: str, value: Any, score: float, others: tuple[Alternative, ...]) -> Draft:
        del others
        return Draft(kind, value, draft.start, draft.end, score)

    def _counts_one(self, token: int) -> bool:
        """Whether a lone 'one' is counted: not behind an article or adjective, and not before a noun it counts."""
        stream = self._stream
        if stream.breaks_before(token) and stream.breaks_after(token):
            return True
        before, after = stream.word(token - 1), stream.word(token + 1)
        if not stream.breaks_before(token) and (before in _ONE_BEFORE or before.endswith(("'s", "est", "er"))):
            return False
        if stream.breaks_after(token) or stream.number_at(token + 1) is not None:
            return True
        return after not in _AFTER_PRONOUN

    def _count_evidence(self, draft: Draft, n: int, ahead: int) -> float:
        stream, token = self._stream, draft.start
        running = self._count > 0 and token - self._count_token <= COUNT_MEMORY
        score = 0.0 if stands_free(stream, draft.end - 1) else -0.3
        if running and self._count < n <= self._count + LONGEST_SKIP:
            score += 0.35 if n - self._count <= 3 else 0.28
            if n == self._count + 1:
                score += 0.08
        elif running and n <= self._count:
            score -= 0.1
        elif n <= 3:
            score += 0.18
        elif self._target is not None and n < self._target and token - self._target_token <= SET_LENGTH:
            score += 0.12
        elif n > LONGEST_SKIP:
            score -= 0.1
        if n < ahead <= n + LONGEST_SKIP:
            score += 0.2
        if self._target is not None:
            if n > self._target:
                score -= 0.25
            elif n == self._target and running:
                score += 0.08
        if stream.word(token - 1) in {"and", "that's"}:
            score += 0.1
        if stream.gap[token] >= WORKING_SILENCE:
            score += 0.12
        if self._words_after(token) & _END:
            score += 0.08
        if n > 40:
            score -= 0.3
        return score

    def _target_evidence(self, draft: Draft, n: int, ahead: int) -> float:
        stream, token = self._stream, draft.start
        running = self._count > 0 and token - self._count_token <= COUNT_MEMORY
        score = 0.0
        if n <= 3:
            score -= 0.15
        if n > 60:
            score -= 0.4
        elif n > 30 and n not in self._targets and n % 5:
            score -= 0.25
        if self._timed_token > self._target_token:
            score -= 0.2
        if self._hears_silence and stream.gap[token] < 400:
            score += 0.04
        if running and self._count < n <= self._count + LONGEST_SKIP and (self._target is None or n <= self._target):
            score -= 0.18
        elif 0 < ahead < n and not running:
            score += 0.22
        elif 0 < ahead < n:
            score += 0.1
        elif n < ahead <= n + LONGEST_SKIP:
            score -= 0.12
        if n in self._targets:
            score += 0.08
        elif n in USUAL_TARGETS:
            score += 0.04
        if {stream.word(token - 1), stream.word(token - 2)} & _MOVES:
            score += 0.15
        if self._words_after(token) & _GO:
            score += 0.06
        if Decimal(n) in self._loads and n not in self._targets:
            score -= 0.1
        return score

    def _load_evidence(self, draft: Draft, number: Number) -> float:
        value = number.value
        if value is None:
            return -1.0
        if not self._has_kit:
            return -0.5
        score = 0.0
        if value in self._loads:
            score += 0.22
        elif value in self._targets:
            score -= 0.18
        if self._has_bar and value >= 40 and value % Decimal("2.5") == 0:
            score += 0.4
        if value < 2:
            score -= 0.2
        return score

    def _time_evidence(self, draft: Draft, n: int) -> float:
        score = 0.0
        if self._timed_token > self._target_token and draft.start - self._timed_token <= HABIT:
            score += 0.28 if n in USUAL_SECONDS else 0.05
        if n in USUAL_SECONDS and n >= 20:
            score += 0.12
        elif n < 10:
            score -= 0.15
        if n in self._targets:
            score -= 0.1
        return score

    def _words_after(self, token: int) -> set[str]:
        return set(self._stream.text[token + 1 : token + 4])


_AFTER_PRONOUN = (
    CLASSES["good"]
    | CLASSES["body"]
    | CLASSES["thing"]
    | CLASSES["thing1"]
    | CLASSES["people"]
    | frozenset(
        "pair set of at by to that who where i you we is was with in on for day way end part bit long knee foot block "
        "mat chair band step lonely dumbbell kettlebell bell weight plate a the it's if person word note tip rule "
        "minute hand job thing's reason option more".split()
    )
)

_ = Remaining
