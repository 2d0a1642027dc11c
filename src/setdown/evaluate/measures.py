"""The measures of one sheet against its gold sheet, and their totals over many classes.

Field accuracies (``acc_``) are over all gold rows, a missing row counting as wrong; ``rec_`` is over the gold rows
that state the field. ``effort_saved`` is 1 minus the edits that the sheet still needs over the cells that typing it
from scratch would take. A measure is ``None`` where there is nothing to measure.
"""

from __future__ import annotations

from collections.abc import Sequence

from setdown.evaluate.align import Row, align_rows, parse_number, parse_seconds
from setdown.evaluate.names import is_same_name

Measures = dict[str, float | None]
Pairs = list[tuple[int, int]]

FIELDS = ("section", "round", "side", "reps", "work_s", "load", "unit", "basis", "finisher")
EDITABLE = ("round", "side", "reps", "work_s", "load", "basis", "finisher")
COUNTS = ("gold", "pred", "found", "segments", "edits", "scratch")


def read_cell(row: Row, field: str) -> str:
    """The cell without surrounding space, empty when the row has none."""
    return (row.get(field) or "").strip()


def is_same_value(field: str, gold: Row, pred: Row) -> bool:
    """Whether a field agrees: numbers within 0.01, words regardless of case."""
    wanted, got = read_cell(gold, field).lower(), read_cell(pred, field).lower()
    if field == "round":  # a round that is not numbered is the first
        wanted, got = wanted or "1", got or "1"
    if field == "basis" and not wanted:  # not decided in gold: nothing to get wrong
        return True
    a, b = parse_number(wanted), parse_number(got)
    if a is not None and b is not None:
        return abs(a - b) < 0.01
    return wanted == got


def score_rows(gold: Sequence[Row], pred: Sequence[Row], tol: float = 30.0) -> tuple[Measures, Pairs]:
    """Every measure of ``pred`` against ``gold``, and the alignment they rest on. ``tol``: see ``score_pair``."""
    pairs = align_rows(gold, pred, tol)
    named = [(i, j) for i, j in pairs if is_same_name(gold[i]["exercise"], pred[j]["exercise"])]
    either = max(len(gold) + len(pred), 1)
    r: Measures = {"gold": len(gold), "pred": len(pred), "found": len(named), "segments": len(pairs)}
    r["row_p"] = len(named) / max(len(pred), 1)
    r["row_r"] = len(named) / max(len(gold), 1)
    r["row_f1"] = 2 * len(named) / either
    r["seg_f1"] = 2 * len(pairs) / either
    for field in FIELDS:
        r["acc_" + field] = sum(is_same_value(field, gold[i], pred[j]) for i, j in named) / max(len(gold), 1)
        r["rec_" + field] = _recall_stated(field, gold, pred, named)
    r["group_f1"] = _score_grouping(gold, pred, named)
    errors = sorted(abs(parse_seconds(gold[i]["start"]) - parse_seconds(pred[j]["start"])) for i, j in named)
    r["start_err_median"] = errors[len(errors) // 2] if errors else None
    r["start_within_5s"] = sum(e <= 5 for e in errors) / max(len(gold), 1)
    wrong = [count_wrong(gold[i], pred[j]) for i, j in pairs]
    hit = {i for i, _ in pairs}
    missing = sum(_count_typed(g) for i, g in enumerate(gold) if i not in hit)
    scratch = sum(_count_typed(g) for g in gold)
    edits = sum(wrong) + missing + len(pred) - len(pairs)
    r |= {"edits": edits, "scratch": scratch, "effort_saved": 1 - edits / max(scratch, 1)}
    r["perfect_rows"] = sum(w == 0 for w in wrong) / max(len(gold), 1)
    return r, pairs


def total_measures(results: Sequence[Measures]) -> Measures:
    """Counts are summed, ratios weighted by the gold rows of the classes that have them, medians by their median.

    Raises:
        ValueError: no results.
    """
    if not results:
        raise ValueError("nothing to total")
    out: Measures = {k: sum(_known(r, k) for r in results) for k in COUNTS}
    either = max(_known(out, "gold") + _known(out, "pred"), 1)
    out["row_f1"] = 2 * _known(out, "found") / either
    out["seg_f1"] = 2 * _known(out, "segments") / either
    for key in results[0]:
        if key.startswith(("acc_", "rec_")) or key in ("group_f1", "start_within_5s", "perfect_rows"):
            have = [r for r in results if r[key] is not None]
            rows = max(sum(_known(r, "gold") for r in have), 1)
            out[key] = sum(_known(r, key) * _known(r, "gold") for r in have) / rows if have else None
    medians = sorted(_known(r, "start_err_median") for r in results if r["start_err_median"] is not None)
    out["start_err_median"] = medians[len(medians) // 2] if medians else None
    out["effort_saved"] = 1 - _known(out, "edits") / max(_known(out, "scratch"), 1)
    return out


def _known(measures: Measures, key: str) -> float:
    value = measures[key]
    assert value is not None, key
    return value


def _recall_stated(field: str, gold: Sequence[Row], pred: Sequence[Row], named: Pairs) -> float | None:
    stated = {i for i, g in enumerate(gold) if read_cell(g, field)}
    if not stated:
        return None
    return sum(is_same_value(field, gold[i], pred[j]) for i, j in named if i in stated) / len(stated)


def _score_grouping(gold: Sequence[Row], pred: Sequence[Row], named: Pairs) -> float | None:
    """F1 over pairs of main-section rows that share a group."""
    main = [(i, j) for i, j in named if gold[i]["section"] == "main"]
    both = [(a, b) for x, a in enumerate(main) for b in main[x + 1 :]]
    in_gold = {(a, b) for a, b in both if gold[a[0]]["group"] == gold[b[0]]["group"]}
    in_pred = {(a, b) for a, b in both if pred[a[1]]["group"] == pred[b[1]]["group"]}
    if not in_gold and not in_pred:
        return None
    return 2 * len(in_gold & in_pred) / max(len(in_gold) + len(in_pred), 1)


def count_wrong(gold: Row, pred: Row) -> int:
    """Cells of an aligned row that the user would have to correct."""
    wrong = sum(not is_same_value(field, gold, pred) for field in EDITABLE)
    return wrong + (not is_same_name(gold["exercise"], pred["exercise"]))


def _count_typed(gold: Row) -> int:
    """Cells that typing a gold row from scratch takes: the exercise and every stated field."""
    return 1 + sum(bool(read_cell(gold, field)) for field in EDITABLE)
