"""Which row of the prediction answers which row of the gold sheet?

An alignment in order (no crossing) that gives the greatest sum of pair scores, found by dynamic programming over
both sheets: O(gold rows x predicted rows).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from setdown.evaluate.names import is_same_name

Row = Mapping[str, str]

NAMED, UNNAMED = 2.0, 0.4  # a pair with the same name counts for more than any two without
OVERLAP = 0.5  # of the shorter row, when the starts are far apart


def parse_number(text: str | None) -> float | None:
    """A cell as a number, ``None`` when it is not one."""
    try:
        return float(text or "")
    except ValueError:
        return None


def parse_seconds(text: str) -> float:
    """``95``, ``1:35`` or ``0:01:35`` -> seconds.

    Raises:
        ValueError: a part between the colons is not a number.
    """
    value = parse_number(text)
    if value is not None:
        return value
    parts = [float(part) for part in text.split(":")]
    return sum(part * float(60**i) for i, part in enumerate(reversed(parts)))


def score_pair(gold: Row, pred: Row, tol: float) -> float:
    """How well two rows agree in name and place: 0 when far apart, above 2 when the exercise agrees.

    ``tol`` is in seconds: rows are near when their starts lie within it, or when they overlap by half of the shorter.
    """
    gold_start, gold_end = parse_seconds(gold["start"]), parse_seconds(gold["end"])
    pred_start, pred_end = parse_seconds(pred["start"]), parse_seconds(pred["end"])
    apart = abs(gold_start - pred_start)
    overlap = min(gold_end, pred_end) - max(gold_start, pred_start)
    shorter = max(1.0, min(gold_end - gold_start, pred_end - pred_start))
    if not (apart <= tol or overlap >= OVERLAP * shorter):
        return 0.0
    return (NAMED if is_same_name(gold["exercise"], pred["exercise"]) else UNNAMED) + 1 / (1 + apart / tol)


def align_rows(gold: Sequence[Row], pred: Sequence[Row], tol: float = 30.0) -> list[tuple[int, int]]:
    """Pairs ``(row of gold, row of pred)`` in order; rows that found no partner are not listed."""
    n, m = len(gold), len(pred)
    pair = [[score_pair(g, p, tol) for p in pred] for g in gold]
    best = [[0.0] * (m + 1) for _ in range(n + 1)]
    for i in range(n - 1, -1, -1):
        for j in range(m - 1, -1, -1):
            together = pair[i][j] + best[i + 1][j + 1] if pair[i][j] else 0
            best[i][j] = max(best[i + 1][j], best[i][j + 1], together)
    i = j = 0
    pairs = []
    while i < n and j < m:
        if pair[i][j] and abs(best[i][j] - (pair[i][j] + best[i + 1][j + 1])) < 1e-9:
            pairs.append((i, j))
            i, j = i + 1, j + 1
        elif best[i][j] == best[i + 1][j]:
            i += 1
        else:
            j += 1
    return pairs
