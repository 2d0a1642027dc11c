"""Do the confidences mean what they say, and do the queries point at the rows that are wrong?

*Judged* values are pairs (confidence, right or not). Their *expected calibration error* is, over ten bins of equal
width, the mean distance between the mean confidence of a bin and its share of right values, weighted by how many lie in
it (Naeini, Cooper, Hauskrecht: "Obtaining Well Calibrated Probabilities Using Bayesian Binning", AAAI 2015; the bins
are those of Guo, Pleiss, Sun, Weinberger: "On Calibration of Modern Neural Networks", ICML 2017: a value on an edge
belongs to the bin below, 0 to the first).

What is judged:

- a field (``exercise``, ``side``, ``reps`` ...) on every predicted row that answers a gold row, also where the cell is
  empty: 'no load' is a statement like any other; ``basis`` only where gold decides it;
- ``span`` on every predicted row: right when it answers a gold row;
- ``row`` on every predicted row: right when it answers a gold row and nothing in it has to be corrected.

*Triage* is over predicted rows too: of the wrong ones, how many carry a query that has to be looked at; of the right
ones, how many do.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from setdown.evaluate.align import Row
from setdown.evaluate.measures import Pairs, count_wrong, is_same_value, read_cell
from setdown.evaluate.names import is_same_name

BINS = 10
JUDGED_FIELDS = ("exercise", "side", "reps", "work_s", "load", "basis", "finisher", "round", "section")
EVERY_FIELD = (*JUDGED_FIELDS, "span", "row")


class Judged(NamedTuple):
    """One value: how sure the extraction was of it, and whether it is right."""

    confidence: float
    right: bool


class Bin(NamedTuple):
    """Values with a confidence in ``(low, high]``; means over them, 0 when there are none."""

    low: float
    high: float
    size: int
    confidence: float
    right: float


@dataclass(frozen=True, slots=True)
class RowMarks:
    """What a predicted row says of itself beside its cells: its confidences, and whether a query asks to look at it."""

    confidence: Mapping[str, float]
    asked: bool | None  # ``None`` when that is not known


@dataclass(slots=True)
class Trust:
    """Judged values by field, and the rows by (wrong, asked)."""

    judged: dict[str, list[Judged]] = field(default_factory=dict)
    wrong_asked: int = 0
    wrong: int = 0
    right_asked: int = 0
    right: int = 0

    @property
    def share_wrong_asked(self) -> float | None:
        """Of the wrong rows, the share that a ``must`` or ``should`` query asks about; ``None`` without any."""
        return self.wrong_asked / self.wrong if self.wrong else None

    @property
    def share_right_asked(self) -> float | None:
        """Of the right rows, the share that is asked about for nothing; ``None`` without any."""
        return self.right_asked / self.right if self.right else None


def judge_rows(gold: Sequence[Row], pred: Sequence[Row], pairs: Pairs, marks: Sequence[RowMarks]) -> Trust:
    """Judge every confidence of the predicted rows. ``pairs`` is their alignment, ``marks`` one per predicted row.

    Raises:
        ValueError: not as many marks as rows.
    """
    if len(marks) != len(pred):
        raise ValueError(f"{len(marks)} marks for {len(pred)} rows")
    answers = {j: i for i, j in pairs}
    trust = Trust()
    for j, mark in enumerate(marks):
        i = answers.get(j)
        perfect = i is not None and count_wrong(gold[i], pred[j]) == 0
        for name, confidence in mark.confidence.items():
            right = _is_right(name, gold[i] if i is not None else None, pred[j], perfect)
            if right is not None:
                trust.judged.setdefault(name, []).append(Judged(confidence, right))
        if mark.asked is None:
            continue
        if perfect:
            trust.right += 1
            trust.right_asked += mark.asked
        else:
            trust.wrong += 1
            trust.wrong_asked += mark.asked
    return trust


def _is_right(name: str, gold: Row | None, pred: Row, perfect: bool) -> bool | None:
    if name == "row":
        return perfect
    if name == "span":
        return gold is not None
    if gold is None or name not in JUDGED_FIELDS or (name == "basis" and not read_cell(gold, "basis")):
        return None
    if name == "exercise":
        return is_same_name(gold["exercise"], pred["exercise"])
    return is_same_value(name, gold, pred)


def total_trust(results: Iterable[Trust]) -> Trust:
    """All values and rows together."""
    out = Trust()
    for trust in results:
        for name, judged in trust.judged.items():
            out.judged.setdefault(name, []).extend(judged)
        out.wrong_asked += trust.wrong_asked
        out.wrong += trust.wrong
        out.right_asked += trust.right_asked
        out.right += trust.right
    return out


def bin_values(judged: Iterable[Judged], bins: int = BINS) -> list[Bin]:
    """The reliability table: ``bins`` bins of equal width from 0 to 1."""
    held: list[list[Judged]] = [[] for _ in range(bins)]
    for value in judged:
        held[min(max(math.ceil(value.confidence * bins - 1e-9) - 1, 0), bins - 1)].append(value)
    out = []
    for n, values in enumerate(held):
        count = len(values)
        mean = math.fsum(v.confidence for v in values) / count if count else 0.0
        out.append(Bin(n / bins, (n + 1) / bins, count, mean, sum(v.right for v in values) / count if count else 0.0))
    return out


def measure_calibration(judged: Sequence[Judged], bins: int = BINS) -> float | None:
    """The expected calibration error, 0 to 1; ``None`` without values."""
    if not judged:
        return None
    return math.fsum(b.size * abs(b.confidence - b.right) for b in bin_values(judged, bins)) / len(judged)
