"""What speaks for and against each role of a number: the class so far, and the words around it.

``ClassSoFar`` is told every mention in order. Its evidence functions return what to add to a role's score. The
weights are hand-set on annotated classes; no source.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from setdown.tag.number_words import Number, word_set
from setdown.tag.quantities.build import stands_free
from setdown.tag.quantities.pattern import Draft
from setdown.tag.quantities.stream import Stream
from setdown.tag.quantities.vocabulary import CLASSES

#: A count that has not gone on for so many words has ended (about half a minute of talk).
COUNT_MEMORY = 75
#: How far a count jumps when the instructor skips numbers.
LONGEST_SKIP = 7
#: How long a target of one sort (repetitions or seconds) stays likely for the next, in words.
HABIT = 300
#: How many words after its target a set is still likely on.
SET_LENGTH = 150
#: A silence before a number that speaks for counting in the middle of work, in ms.
WORKING_SILENCE = 2200
#: From this score on a mention is certain enough to tell about others of the class.
CERTAIN = 0.75

USUAL_TARGETS = frozenset({4, 5, 6, 8, 10, 12, 15, 16, 20, 24, 25, 30})
USUAL_SECONDS = frozenset({15, 20, 25, 30, 35, 40, 45, 50, 60, 75, 90})
_GO = word_set("go off begin start ready let's here away press pull push lift up reach from big good in")
_END = word_set(
    "rack done rest shake switch swap change put set relax release good nice lovely beauty other park drop over enough "
    "finished stay hold melt out lower yes well great perfect step there"
)
_BAR = frozenset({"bar", "barbell", "plates"})
_KIT = _BAR | word_set(
    "dumbbell dumbbells kettlebell kettlebells bell bells weights pounds pounders lbs kilos kilo kg kgs"
)
_MOVES = CLASSES["moves"] | CLASSES["move1"]
_STILL = word_set("stretch stretching hold holding stay breathe breath pose relax sink")
_LEAST_BAR = 40  # a number from here on, in steps of 2.5, is rather what is on the bar


class ClassSoFar:
    """The count, the targets and the loads of a class up to a number."""

    def __init__(self, stream: Stream, mentions: Iterable[Draft]) -> None:
        self.stream = stream
        self.count, self._count_token = 0, -10_000
        self._has_kit, self._has_bar = bool(stream.said & _KIT), bool(stream.said & _BAR)
        self._hears_silence = any(stream.gap)
        self._loads: set[Decimal] = set()
        self._targets: set[int] = set()
        self._durations: set[int] = set()
        for draft in mentions:
            self._learn(draft)
        self._target: int | None = None
        self._target_token = self._timed_token = -10_000
        # what is asked about one number, set by look_at
        self._token, self._free, self._running, self._opened = 0, True, False, False
        self._after: set[str] = set()

    def _learn(self, draft: Draft) -> None:
        """What was said for certain anywhere in the class: its loads, targets and durations."""
        kind, value = draft.kind, draft.value
        if kind == "scheme":
            self._targets.update(value.reps)
        elif draft.score < CERTAIN:
            return
        elif kind == "load" and value.value is not None:
            self._loads.add(value.value)
        elif kind == "reps" and value.hi:
            self._targets.add(value.hi)
        elif kind in {"work_s", "interval"}:
            self._durations.add(value.work)

    def hear(self, draft: Draft) -> None:
        """A mention, in its turn."""
        kind, value = draft.kind, draft.value
        if kind == "count":
            self.count, self._count_token = value.n, draft.end
        elif kind == "reps":
            self._target = value.hi or self._target
            self.count, self._target_token = 0, draft.start
        elif kind == "scheme":
            self._target, self._target_token, self.count = max(value.reps), draft.start, 0
        elif kind in {"work_s", "interval"}:
            self._timed_token, self.count = draft.start, 0
        elif kind in {"rest_s", "round"} or (kind == "load" and value.value is not None):
            self.count = 0
        elif kind == "remaining" and self.count and value.n and self._target:
            self.count = max(self.count, self._target - value.n)

    def look_at(self, draft: Draft, before: Draft | None) -> None:
        """Make ready for questions about the number of ``draft``; ``before`` is the mention in front of it."""
        stream, token = self.stream, draft.start
        self._token, self._free = token, stands_free(stream, draft.end - 1)
        self._after = set(stream.text[token + 1 : token + 4])
        self._running = self.count > 0 and token - self._count_token <= COUNT_MEMORY
        self._opened = before is not None and before.kind in {"round", "sets"} and token - before.end <= 1

    def continues(self, n: int, reach: int) -> bool:
        """Whether ``n`` is at most ``reach`` above a count that is still going on."""
        return self._running and self.count < n <= self.count + reach

    def for_count(self, n: int, ahead: int, left: bool) -> float:
        """Counted aloud. ``ahead`` is the next counted number (0: none), ``left``: 'two more' comes soon."""
        stream, token, target = self.stream, self._token, self._target
        score = (0.0 if self._free else -0.3) + (0.15 if left else 0.0)
        if self.continues(n, LONGEST_SKIP):
            score += 0.35 if n - self.count <= 3 else 0.28
            if n == self.count + 1:
                score += 0.08
        elif self._running and n <= self.count:
            score -= 0.1
        elif n <= 3:
            score += 0.18
        elif target is not None and n < target and token - self._target_token <= SET_LENGTH:
            score += 0.12
        elif n > LONGEST_SKIP:
            score -= 0.1
        if n < ahead <= n + LONGEST_SKIP:
            score += 0.2
        if target is not None:
            score += -0.25 if n > target else 0.08 if n == target and self._running else 0.0
        if stream.word(token - 1) in {"and", "that's"}:
            score += 0.1
        if stream.gap[token] >= WORKING_SILENCE:
            score += 0.12
        if self._after & _END:
            score += 0.08
        return score - 0.3 if n > 40 else score

    def for_target(self, n: int, ahead: int) -> float:
        """How many to do: smaller numbers follow, a movement stands before it, or it opens a set."""
        stream, token, target = self.stream, self._token, self._target
        score = -0.15 if n <= 3 else 0.0
        if n > 60:
            score -= 0.4
        elif n > 30 and n not in self._targets and n % 5:
            score -= 0.25
        if self._timed_token > self._target_token:
            score -= 0.2
        if self._opened:  # 'set two, eight'
            score += 0.25
        if self._hears_silence and stream.gap[token] < 400:
            score += 0.04
        if self.continues(n, LONGEST_SKIP) and (target is None or n <= target):
            score -= 0.18
        elif 0 < ahead < n:
            score += 0.1 if self._running else 0.22
        elif n < ahead <= n + LONGEST_SKIP:
            score -= 0.12
        score += 0.08 if n in self._targets else 0.04 if n in USUAL_TARGETS else 0.0
        if {stream.word(token - 1), stream.word(token - 2)} & _MOVES:
            score += 0.15
        if self._after & _GO:
            score += 0.06
        if Decimal(n) in self._loads and n not in self._targets:
            score -= 0.1
        return score

    def for_load(self, number: Number) -> float:
        """What is held: the class has weights, and this size was said before."""
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
        if self._has_bar and value >= _LEAST_BAR and value % Decimal("2.5") == 0:
            score += 0.4
        elif value <= 4 and value not in self._loads:
            score -= 0.15
        return score

    def for_time(self, n: int) -> float:
        """Seconds: the class was timed lately, the number is a usual or known length, a hold or stretch is on."""
        score = 0.0
        if self._timed_token > self._target_token and self._token - self._timed_token <= HABIT:
            score += 0.28 if n in USUAL_SECONDS else 0.05
        if n in USUAL_SECONDS and n >= 20:
            score += 0.12
        elif n < 10:
            score -= 0.15
        if n in self._durations and n > 10:
            score += 0.2
        elif n in self._targets:
            score -= 0.1
        if _STILL & set(self.stream.text[max(self._token - 12, 0) : self._token]):
            score += 0.12
        return score

    def for_remaining(self, n: int) -> float:
        """'five more' when the count so far leaves about five."""
        if self._running and self._target is not None and abs(self._target - self.count - n) <= 2:
            return 0.25
        return 0.1 if self._running and n < 10 else 0.0
