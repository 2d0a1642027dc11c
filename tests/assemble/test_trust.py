"""How likely a row needs no correction, why not in words, and which queries that leaves to be looked at."""

from __future__ import annotations

import math
from typing import Any

import pytest

from assemble.plain_class import PLAIN
from make_class import assemble_class, settle_class
from setdown.assemble.build import build_routine
from setdown.assemble.confidence import Calibration, RowWeights, load_calibration
from setdown.assemble.doubts import gather_doubts
from setdown.assemble.trust import TOPICS, ask_about_rows, explain_doubt, rate_row, rate_rows
from setdown.model.routine import Query, Reps

SQUAT: dict[str, Any] = {"exercise": "goblet-squat"}
SET = "squats ready _2 [ and down _20 last one ] and rest "
TEN = Reps(lo=10, hi=10)
WEIGHTS = RowWeights(1.0, 0.5, {"side: uneven": (-2.0, 0.25), "reps: unsure": (-1.0, 0.1), "place: main": (0.5, 0.8)})


def see(text: str, *sets: dict[str, Any]) -> list[dict[str, float]]:
    """The doubts about a class settled by hand."""
    context = settle_class(text, *sets)
    return gather_doubts(context, build_routine(context)[1])


def make_query(code: str, set_id: str, severity: str) -> Query:
    return Query.model_validate({"id": code, "code": code, "severity": severity, "set": set_id, "message": "?"})


def test_rating_worked_by_hand():
    """1 - 2 - 0.3 = -1.3 in log-odds; unknown features say nothing."""
    features = {"side: uneven": 1.0, "reps: unsure": 0.3, "something else": 9.0}
    assert rate_row(features, WEIGHTS) == pytest.approx(1 / (1 + math.exp(1.3)))
    assert rate_row({}, WEIGHTS) == pytest.approx(1 / (1 + math.exp(-1)))


def test_reasons_in_words():
    """The strongest pull below the usual row comes first; what pulls up, or hardly, is no reason; nor is the place."""
    features = {"side: uneven": 1.0, "reps: unsure": 1.0}
    assert explain_doubt(features, WEIGHTS) == [TOPICS["side"], TOPICS["reps"]]
    assert explain_doubt({"reps: unsure": 0.2, "place: main": 0.0}, WEIGHTS) == []


def test_one_side_only_is_a_doubt():
    """A left without a right is uneven, both are not."""
    left, right = (SQUAT | {"side": side, "reps": TEN} for side in ("left", "right"))
    [alone] = see(SET, left)
    assert alone["side: no other side"] == alone["side: uneven"] == 1.0
    for found in see(SET * 2, left, right):
        assert "side: no other side" not in found
        assert "side: uneven" not in found


def test_a_row_is_compared_with_its_fellows():
    """Two of three sets have ten reps: the third lacks what the others have."""
    first, second, third = see(
        SET * 3, *(SQUAT | {"reps": reps, "round": n} for n, reps in enumerate((TEN, TEN, None), 1))
    )
    assert third["reps: none, but other sets of the move have it"] == 1.0
    assert first["reps: as in other sets of the move"] == 0.5
    assert second["round: a later one"] == 1.0
    assert third["round: a later one"] == 2.0


def test_a_class_of_nothing():
    """No sets, no doubts."""
    context = settle_class("hello everybody nothing happens here")
    assert gather_doubts(context, []) == []


def test_rows_are_rated_in_the_routine():
    """Every set of an assembled class has a confidence as a whole, and a doubtful one is asked about."""
    routine, sets, context = assemble_class(PLAIN)
    weights = load_calibration().row
    assert weights is not None
    asked = {q.set for q in routine.queries if q.severity != "note"}
    for one in sets:
        assert 0 < one.confidence["row"] < 1
        assert one.id in asked or one.confidence["row"] >= weights.ask_below
    rated = [one.confidence["row"] for one in sets]
    rate_rows(context, sets, load_calibration())
    assert [one.confidence["row"] for one in sets] == rated


def test_doubtful_rows_are_asked_about_once():
    """Below the threshold with the reason, unless another query asks already; above it, not."""
    context = settle_class(SET * 3, *[SQUAT] * 3)
    _, sets = build_routine(context)
    for one, sure in zip(sets, (0.4, 0.4, 0.5), strict=True):
        one.confidence["row"] = sure
    doubts = [{"side: uneven": 1.0}] * 3
    standing = [make_query("names-differ", sets[1].id, "should")]
    made = ask_about_rows(sets, standing, doubts, WEIGHTS)
    assert [(q.code, q.set, q.severity) for q in made] == [
        ("names-differ", sets[1].id, "should"),
        ("check-row", sets[0].id, "should"),
    ]
    assert TOPICS["side"] in made[1].message
    assert "40%" in made[1].message
    assert made[1].id == f"check-row:{sets[0].id}:"


def test_small_doubts_about_a_likely_row_are_notes():
    """An unsure value, or an unlikely length, is worth a look where the row is doubtful; a missing unit always."""
    context = settle_class(SET * 2, *[SQUAT] * 2)
    _, sets = build_routine(context)
    sets[0].confidence["row"], sets[1].confidence["row"] = 0.9, 0.1
    codes = [("unsure", "must"), ("span-long", "should"), ("load-without-unit", "must"), ("name-repaired", "note")]
    queries = [make_query(code, one.id, severity) for one in sets for code, severity in codes]
    made = ask_about_rows(sets, queries, [{}, {}], WEIGHTS)
    assert [q.severity for q in made] == ["note", "note", "must", "note", "must", "should", "must", "note"]
    assert [q.severity for q in queries] == [severity for _ in sets for _, severity in codes]  # left as they were


def test_without_weights_nothing_changes():
    """A calibration without row weights rates no row and leaves the queries."""
    context = settle_class(SET, SQUAT)
    _, sets = build_routine(context)
    assert rate_rows(context, sets, Calibration()) == [{}]
    assert "row" not in sets[0].confidence
    query = make_query("unsure", sets[0].id, "should")
    assert ask_about_rows(sets, [query], [{}], None) == [query]
