"""How likely a row needs no correction at all, and in words what speaks against it.

A logistic regression over the features of ``doubts.py``; its weights, and the usual value of each feature, stand in
``confidence.json``.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from setdown.assemble.confidence import Calibration, RowWeights
from setdown.assemble.context import ClassContext
from setdown.assemble.doubts import gather_doubts
from setdown.model.routine import Query, Set

ROW = "row"
TOPICS = {
    "exercise": "which movement it is",
    "side": "the side",
    "reps": "the reps",
    "work_s": "the seconds of work",
    "load": "the load",
    "basis": "whether the load is for one hand or in total",
    "finisher": "the finisher",
    "span": "where the set starts and ends",
    "round": "which round it is",
}
GENTLE = ("unsure", "span-short", "span-long")  # codes that are worth a look only where the row as a whole is doubtful
MOST_TOPICS = 2
LEAST_PULL = 0.15  # log-odds; topics that pull less are no reason to name


def rate_rows(context: ClassContext, sets: Sequence[Set], calibration: Calibration) -> list[dict[str, float]]:
    """Write each set's confidence as a row (``confidence["row"]``) and return what it rests on, by feature."""
    if calibration.row is None:
        return [{} for _ in sets]
    features = gather_doubts(context, sets)
    for one, found in zip(sets, features, strict=True):
        one.confidence[ROW] = round(rate_row(found, calibration.row), 2)
    return features


def rate_row(features: Mapping[str, float], weights: RowWeights) -> float:
    """The probability that a row with these features needs no correction."""
    total = weights.intercept
    total += math.fsum(weight * features.get(name, 0.0) for name, (weight, _) in weights.features.items())
    return 1.0 / (1.0 + math.exp(-min(max(total, -30.0), 30.0)))


def explain_doubt(features: Mapping[str, float], weights: RowWeights) -> list[str]:
    """The topics that pull a row most below the usual one, in words, the strongest first."""
    pulls: dict[str, float] = {}
    for name, (weight, usual) in weights.features.items():
        topic = name.partition(":")[0]
        pulls[topic] = pulls.get(topic, 0.0) + weight * (features.get(name, 0.0) - usual)
    order = sorted((pull, topic) for topic, pull in pulls.items() if topic in TOPICS and pull < -LEAST_PULL)
    return [TOPICS[topic] for _, topic in order[:MOST_TOPICS]]


def ask_about_rows(
    sets: Sequence[Set], queries: Sequence[Query], doubts: Sequence[Mapping[str, float]], weights: RowWeights | None
) -> list[Query]:
    """The queries with severities that fit their rows, and one more for every doubtful row that none asks about.

    A doubt about a single value becomes a note where the row as a whole is likely right; a row that is not gets a
    ``should`` query with what speaks against it. Order: by set, queries about the class where they were.
    """
    if weights is None:
        return list(queries)
    fine = {s.id for s in sets if s.confidence[ROW] >= weights.ask_below}
    settled = [q.model_copy(update={"severity": "note"}) if q.code in GENTLE and q.set in fine else q for q in queries]
    asked = {q.set for q in settled if q.severity != "note"}
    extra = [
        _check_row(one, explain_doubt(found, weights))
        for one, found in zip(sets, doubts, strict=True)
        if one.id not in fine and one.id not in asked
    ]
    return settled + extra


def _check_row(one: Set, reasons: Sequence[str]) -> Query:
    why = f": what is least certain is {' and '.join(reasons)}" if reasons else ""
    sure = one.confidence[ROW]
    return Query(
        id=f"check-row:{one.id}:",
        code="check-row",
        severity="should",
        set=one.id,
        message=f"Look at this set as a whole ({sure:.0%} sure){why}.",
    )
