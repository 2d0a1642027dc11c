"""Calibration error, reliability tables and triage against hand-worked examples, numpy and scikit-learn."""

from __future__ import annotations

import random

import numpy as np
import pytest
from sklearn.calibration import calibration_curve

from make_routine import make_routine
from setdown.evaluate import (
    RowMarks,
    describe_trust,
    format_reliability,
    format_trust,
    judge_rows,
    mark_routine,
    mark_sheet,
    measure_calibration,
    score_rows,
    total_trust,
)
from setdown.evaluate.calibration import Judged, bin_values
from setdown.model.routine import Query

# By hand: bin (0.8, 0.9] holds .85 .85 .9 .9 (mean .875) with three right (.75): 4 * .125; bin (0.2, 0.3] holds .25
# wrong: 1 * .25; bin (0, 0.1] holds 0 wrong and .1 right (mean .05, right .5): 2 * .45. In all (.5 + .25 + .9) / 7.
BY_HAND = [(0.85, 1), (0.85, 1), (0.9, 1), (0.9, 0), (0.25, 0), (0.0, 0), (0.1, 1)]
BY_HAND_ERROR = (0.5 + 0.25 + 0.9) / 7


def make_values(n: int, seed: int) -> list[Judged]:
    """Confidences with two decimals, edges of bins among them, right somewhat less often than they say."""
    rng = random.Random(seed)
    drawn = [round(rng.random(), 2) for _ in range(n)]
    return [Judged(c, rng.random() < 0.9 * c) for c in drawn]


def make_row(start: float, exercise: str, **cells: str) -> dict[str, str]:
    fixed = {"section": "main", "group": "1", "round": "1"}
    return {"start": str(start), "end": str(start + 30), "exercise": exercise} | fixed | cells


def test_error_worked_by_hand():
    """Seven values in three bins."""
    values = [Judged(c, bool(r)) for c, r in BY_HAND]
    assert measure_calibration(values) == pytest.approx(BY_HAND_ERROR, abs=1e-12)
    assert [(b.size, b.confidence, b.right) for b in bin_values(values) if b.size] == [
        (2, pytest.approx(0.05), 0.5),
        (1, 0.25, 0.0),
        (4, pytest.approx(0.875), 0.75),
    ]


def test_extremes():
    """Sure and always right errs by nothing, sure and always wrong by everything; nothing has no error."""
    assert measure_calibration([Judged(1.0, True)] * 5) == 0
    assert measure_calibration([Judged(1.0, False)] * 5) == 1
    assert measure_calibration([Judged(0.0, False)] * 5) == 0
    assert measure_calibration([]) is None


@pytest.mark.parametrize("seed", range(5))
def test_error_as_numpy_works_it_out(seed):
    """The definition written with ``numpy.digitize`` (bins closed on the right), over confidences on edges too."""
    values = make_values(400, seed)
    confidence, right = (np.array(column, dtype=float) for column in zip(*values, strict=True))
    place = np.clip(np.digitize(confidence, np.arange(1, 10) / 10 + 1e-12, right=True), 0, 9)
    wanted = sum(
        (place == b).mean() * abs(confidence[place == b].mean() - right[place == b].mean()) for b in set(place)
    )
    assert measure_calibration(values) == pytest.approx(wanted, abs=1e-12)


@pytest.mark.parametrize("seed", range(5))
def test_bins_as_scikit_learn_makes_them(seed):
    """The means of every bin are those of ``sklearn.calibration.calibration_curve`` with ten uniform bins."""
    rng = random.Random(seed)
    values = [Judged(c, rng.random() < c) for c in (rng.random() for _ in range(300))]
    right, confidence = calibration_curve([v.right for v in values], [v.confidence for v in values], n_bins=10)
    made = [b for b in bin_values(values) if b.size]
    assert [b.right for b in made] == pytest.approx(right.tolist())
    assert [b.confidence for b in made] == pytest.approx(confidence.tolist())


def test_what_is_judged_where():
    """Fields on rows that answer a gold row, the span on all, the row by whether anything is left to correct."""
    gold = [
        make_row(0, "squat", reps="10", load="12", unit="kg", basis="per_hand"),
        make_row(100, "plank", work_s="30"),
        make_row(200, "row", load="12", unit="kg"),  # basis not decided
    ]
    pred = [
        make_row(1, "squat", reps="12", load="12", unit="kg", basis="total"),
        make_row(101, "plank", work_s="30"),
        make_row(202, "press", load="12", unit="kg", basis="total"),
        make_row(400, "curl", reps="10"),  # nothing of that kind was done
    ]
    sure = {"exercise": 0.9, "reps": 0.8, "work_s": 0.7, "basis": 0.6, "span": 0.5, "row": 0.4, "tempo": 0.3}
    marks = [RowMarks(sure, asked) for asked in (True, False, False, True)]
    trust = judge_rows(gold, pred, score_rows(gold, pred)[1], marks)
    judged = {name: [v.right for v in values] for name, values in trust.judged.items()}
    assert judged == {
        "exercise": [True, True, False],
        "reps": [False, True, True],
        "work_s": [True, True, True],
        "basis": [False],
        "span": [True, True, True, False],
        "row": [False, True, False, False],
    }
    assert {v.confidence for v in trust.judged["row"]} == {0.4}
    assert (trust.wrong, trust.wrong_asked, trust.right, trust.right_asked) == (3, 2, 1, 0)
    assert (trust.share_wrong_asked, trust.share_right_asked) == (pytest.approx(2 / 3), 0.0)
    both = total_trust([trust, trust])
    assert (both.wrong, len(both.judged["span"]), both.share_wrong_asked) == (6, 8, pytest.approx(2 / 3))


def test_marks_belong_to_rows():
    """As many marks as rows, or nothing can be said."""
    with pytest.raises(ValueError, match="1 marks for 0 rows"):
        judge_rows([], [], [], [RowMarks({}, False)])


def test_marks_of_a_routine():
    """Open must and should queries ask; notes and settled ones do not; a query about the class marks no row."""
    routine = make_routine()
    sets = [one for _, _, one in routine.iter_sets()]
    assert len(sets) > 1

    def asked(**query: str) -> list[bool | None]:
        fields = {"id": "q", "code": "unsure", "message": "?", "severity": "should", "set": sets[0].id} | query
        changed = routine.model_copy(update={"queries": [Query.model_validate(fields)]})
        return [mark.asked for mark in mark_routine(changed)]

    others = [False] * (len(sets) - 1)
    assert asked() == asked(severity="must") == [True, *others]
    assert asked(severity="note") == asked(state="dismissed") == asked(set="") == [False, *others]
    assert [dict(m.confidence) for m in mark_routine(routine)] == [one.confidence for one in sets]


def test_marks_of_a_sheet():
    """A sheet has the row's confidence and no severities, so that it is judged for calibration but not for triage."""
    rows = [{"confidence": "0.75"}, {"confidence": ""}, {"confidence": "high"}, {"confidence": "7"}, {}]
    assert [(dict(m.confidence), m.asked) for m in mark_sheet(rows)] == [({"row": 0.75}, None)] + [({}, None)] * 4
    gold = [make_row(0, "squat")]
    trust = judge_rows(gold, gold, [(0, 0)], mark_sheet([{"confidence": "0.75"}]))
    assert trust.judged == {"row": [Judged(0.75, True)]}
    assert (trust.wrong, trust.right) == (0, 0)


def test_report():
    """One line for the errors, one for triage, a table on request; nothing where nothing was judged."""
    gold = [make_row(0, "squat"), make_row(100, "plank")]
    pred = [make_row(0, "squat"), make_row(100, "row")]
    trust = judge_rows(gold, pred, score_rows(gold, pred)[1], [RowMarks({"exercise": 0.9, "row": 0.8}, False)] * 2)
    assert format_trust(trust) == [
        "calibration error  exercise 0.400  row 0.300",
        "triage  a must or should query stands on 0 % of 1 wrong rows and on 0 % of 1 right rows",
    ]
    assert format_reliability(trust) == [
        "exercise: 2 values, calibration error 0.400",
        "  0.8-0.9      2  confidence 0.90  right 0.50",
        "row: 2 values, calibration error 0.300",
        "  0.7-0.8      2  confidence 0.80  right 0.50",
    ]
    assert describe_trust(trust) == {
        "calibration_error": {"exercise": pytest.approx(0.4), "row": pytest.approx(0.3)},
        "triage": {"wrong_rows": 1, "wrong_rows_asked": 0.0, "right_rows": 1, "right_rows_asked": 0.0},
    }
    nothing = total_trust([])
    assert format_trust(nothing) == format_reliability(nothing) == []
