"""Learn what a confidence is worth: curves for every field, and the weights of a row's doubts.

Everything is learned from classes decided by weights that never saw them, so that the figures hold for the next class.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from sklearn.isotonic import IsotonicRegression
from sklearn.linear_model import LogisticRegression

from setdown.assemble.build import SHEET_FIELDS, build_routine
from setdown.assemble.confidence import EMPTY, STATED, Calibration, RowWeights, parse_calibration
from setdown.assemble.context import ClassContext, lay_out
from setdown.assemble.decide import decide_class
from setdown.assemble.doubts import gather_doubts
from setdown.assemble.queries import raise_queries
from setdown.assemble.trust import ask_about_rows, rate_row, rate_rows
from setdown.evaluate import Trust, format_trust, judge_rows, mark_routine, score_rows, total_trust
from setdown.evaluate.calibration import RowMarks
from setdown.lexicon import Lexicon
from setdown.sheet import routine_to_rows

LEAST_IN_BIN, MOST_BINS = 30, 20
LEAST_VALUES = 60  # fewer say nothing about a curve: the field's stated and empty values then share one
FLOOR, CEILING = 0.02, 0.99
RESTRAINT = 0.005  # inverse strength of the L2 penalty on standardised features
LEAST_ROWS = 0.02  # share of rows that must have a feature for it to be learned
REACH = 0.86  # share of the wrong rows that queries are to reach
FOLDS = 3
PLACES = 6  # of probabilities: many decisions are very sure, and are not right equally often
Point = tuple[float, bool]


@dataclass(slots=True)
class Decided:
    """One class with all decisions made, its sheet rows, and which of them are right."""

    name: str
    style: str
    context: ClassContext
    gold: list[dict[str, str]]
    order: list[int] = field(default_factory=list)  # of each draft, its row in the sheet
    points: dict[tuple[str, str], list[Point]] = field(default_factory=dict)
    perfect: list[bool] = field(default_factory=list)


def decide_results(results: Sequence[Any], lexicon: Lexicon) -> list[Decided]:
    """Decide every class of ``scoring.Result`` (with weights that never saw it) and look up what is right."""
    return [_decide_one(*result, lexicon) for result in results]


def _decide_one(item: Any, segmentation: Any, weights: Any, profiles: Any, lexicon: Lexicon) -> Decided:
    context = lay_out(item.tagged, segmentation, lexicon, profiles)
    decide_class(context, weights)
    made = Decided(item.name, item.style, context, item.gold)
    routine, sets = build_routine(context)
    place = {id(one): n for n, (_, _, one) in enumerate(routine.iter_sets())}
    made.order = [place[id(one)] for one in sets]
    rows = routine_to_rows(routine)
    _, pairs = score_rows(item.gold, rows)
    for draft, at in zip(context.drafts, made.order, strict=True):
        raw = {name: draft.ranked[name].confidence for name in SHEET_FIELDS}
        raw["span"] = draft.span.probability
        if draft.value("load") is None:
            del raw["basis"]
        marks: list[RowMarks] = [RowMarks({}, None)] * len(rows)
        marks[at] = RowMarks(raw | {"row": 0.5}, None)
        judged = judge_rows(item.gold, rows, pairs, marks).judged
        for name in raw:
            stated = name == "span" or draft.value(name) not in (None, "")
            for value in judged.get(name, ()):
                made.points.setdefault((name, STATED if stated else EMPTY), []).append((value.confidence, value.right))
        made.perfect.append(judged["row"][0].right)
    return made


def fit_calibration(decided: Sequence[Decided]) -> dict[str, Any]:
    """The JSON form of a :class:`Calibration`; the same classes give the same numbers."""
    fields = fit_curves(decided)
    curves = parse_calibration({"fields": fields, "row": {"intercept": 0, "ask_below": 0, "features": {}}}).curves
    features = [_find_features(d, Calibration(curves)) for d in decided]
    row = fit_row([f for found in features for f in found], [p for d in decided for p in d.perfect])
    row["ask_below"] = _choose_threshold(decided, features, curves)
    return {"fields": fields, "row": row}


def fit_curves(decided: Sequence[Decided]) -> dict[str, dict[str, list[list[float]]]]:
    """For every field the curves of stated and empty values."""
    out: dict[str, dict[str, list[list[float]]]] = {}
    for name in (*SHEET_FIELDS, "span"):
        kinds = {kind: [p for d in decided for p in d.points.get((name, kind), ())] for kind in (STATED, EMPTY)}
        both = kinds[STATED] + kinds[EMPTY]
        for kind, points in kinds.items():
            known = points if len(points) >= LEAST_VALUES else both
            if len(known) >= LEAST_VALUES:
                out.setdefault(name, {})[kind] = fit_curve(known)
    return out


def fit_curve(points: Sequence[Point]) -> list[list[float]]:
    """Points (probability, share right) that never fall, from bins of at least thirty values.

    Raises:
        ValueError: no points, or probabilities that are no numbers.
    """
    if not points:
        raise ValueError("a curve needs points")
    points = sorted(points)
    size = max(LEAST_IN_BIN, math.ceil(len(points) / MOST_BINS))
    bins = [points[i : i + size] for i in range(0, len(points), size)]
    if len(bins) > 1 and len(bins[-1]) < LEAST_IN_BIN:
        last = bins.pop()
        bins[-1] = bins[-1] + last
    # rounded, because between two places that differ by next to nothing the fit would divide by zero
    x = np.array([round(sum(p for p, _ in b) / len(b), PLACES) for b in bins])
    y = np.array([(sum(r for _, r in b) + 0.5) / (len(b) + 1) for b in bins])
    weights = [len(b) for b in bins]
    rising = IsotonicRegression(y_min=FLOOR, y_max=CEILING).fit(x, y, sample_weight=weights).predict(x)
    if not np.isfinite(rising).all():
        raise ValueError(f"no curve through {len(points)} points: {x.tolist()}")
    made: list[list[float]] = []
    for a, b in zip(x, rising, strict=True):
        a, b = round(float(a), PLACES), round(float(b), 3)
        if made and a <= made[-1][0]:  # probabilities that cannot be told apart
            made[-1][1] = b
            continue
        if len(made) > 1 and made[-1][1] == made[-2][1] == b:
            made[-1][0] = a  # of a level stretch, its two ends are enough
        else:
            made.append([a, b])
    return made


def fit_row(features: Sequence[Mapping[str, float]], perfect: Sequence[bool]) -> dict[str, Any]:
    """Weights of a row's features, with their usual values; they apply to the features as they are."""
    counts: dict[str, int] = {}
    for found in features:
        for name in found:
            counts[name] = counts.get(name, 0) + 1
    names = sorted(name for name, n in counts.items() if n >= LEAST_ROWS * len(features))
    matrix = np.array([[found.get(name, 0.0) for name in names] for found in features])
    usual, spread = matrix.mean(axis=0), matrix.std(axis=0)
    spread[spread < 1e-9] = 1.0
    model = LogisticRegression(C=RESTRAINT, max_iter=3000, tol=1e-6).fit((matrix - usual) / spread, perfect)
    weights = model.coef_[0] / spread
    table = {
        name: [round(float(w), 4), round(float(u), 4)]
        for name, w, u in zip(names, weights, usual, strict=True)
        if abs(w) >= 0.0001
    }
    return {"intercept": round(float(model.intercept_[0] - weights @ usual), 4), "ask_below": 0.0, "features": table}


def _find_features(decided: Decided, calibration: Calibration) -> list[dict[str, float]]:
    _, sets = build_routine(decided.context, calibration)
    return gather_doubts(decided.context, sets)


def _as_weights(row: dict[str, Any]) -> RowWeights:
    weights = parse_calibration({"fields": {}, "row": row}).row
    assert weights is not None
    return weights


def _choose_threshold(
    decided: Sequence[Decided], features: Sequence[list[dict[str, float]]], curves: Mapping[str, Any]
) -> float:
    """The least threshold (in hundredths) with which queries reach ``REACH`` of the wrong rows of unseen classes."""
    folds = _split_names(decided)
    rated: list[tuple[float, Decided, int]] = []
    for fold in folds:
        known = [
            (f, p)
            for d, fs in zip(decided, features, strict=True)
            if d.name not in fold
            for f, p in zip(fs, d.perfect, strict=True)
        ]
        weights = _as_weights(fit_row([f for f, _ in known], [p for _, p in known]))
        for d, fs in zip(decided, features, strict=True):
            if d.name in fold:
                rated += [(rate_row(f, weights), d, at) for at, f in enumerate(fs)]
    wrong = sorted(rate for rate, d, at in rated if not d.perfect[at])
    if not wrong:
        return 0.5
    return math.ceil(wrong[min(int(REACH * len(wrong)), len(wrong) - 1)] * 100) / 100


def _split_names(decided: Sequence[Decided]) -> list[frozenset[str]]:
    names = sorted({d.name for d in decided})
    return [frozenset(names[k::FOLDS]) for k in range(FOLDS)]


def judge_decided(decided: Sequence[Decided], table: dict[str, Any]) -> Trust:
    """What confidences and queries of these classes are worth under a calibration."""
    calibration = parse_calibration(table)
    out = []
    for d in decided:
        routine, sets = build_routine(d.context, calibration)
        doubts = rate_rows(d.context, sets, calibration)
        routine.queries = ask_about_rows(sets, raise_queries(d.context, sets), doubts, calibration.row)
        rows = routine_to_rows(routine)
        out.append(judge_rows(d.gold, rows, score_rows(d.gold, rows)[1], mark_routine(routine)))
    return total_trust(out)


def print_trust(decided: Sequence[Decided]) -> None:
    """Cross-validated: every class is judged with what was learned from the others."""
    judged: dict[str, list[Trust]] = {}
    for fold in _split_names(decided):
        table = fit_calibration([d for d in decided if d.name not in fold])
        for style in dict.fromkeys(d.style for d in decided):
            own = [d for d in decided if d.name in fold and d.style == style]
            judged.setdefault(style, []).append(judge_decided(own, table))
    for style, trusts in judged.items():
        for line in format_trust(total_trust(trusts)):
            print(f"{style:14} {line}")
