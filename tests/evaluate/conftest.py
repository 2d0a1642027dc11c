"""The reference scorer, and sheets to score with both."""

from __future__ import annotations

import importlib.util
import random
from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import pytest

Rows = list[dict[str, str]]

NAMES = (
    "goblet squat|squat",
    "Dumbbell Triceps Kick-backs",
    "tricep kickback",
    "push-up|press-up",
    "pushups",
    "lateral raise & hold",
    "child's pose",
    "seated row",
    "row",
    "crunches",
    "",
)


@pytest.fixture(scope="session")
def reference() -> ModuleType:
    """The scorer that the measures were defined by, kept word for word."""
    spec = importlib.util.spec_from_file_location("reference_score", Path(__file__).with_name("reference_score.py"))
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def disturb_rows(gold: Rows, rng: random.Random) -> Rows:
    """A prediction with every kind of mistake: rows lost, made up, moved, renamed, values changed or dropped."""
    pred: Rows = []
    for row in gold:
        if rng.random() < 0.15:
            continue
        made = dict(row, exercise=row["exercise"].split("|")[0])
        shift = rng.gauss(0, 8) if rng.random() < 0.8 else rng.gauss(0, 60)
        made["start"] = f"{max(float(row['start']) + shift, 0):.1f}"
        made["end"] = f"{max(float(row['end']) + shift, float(made['start'])):.1f}"
        for field in row:
            if field not in ("start", "end", "exercise") and rng.random() < 0.2:
                made[field] = rng.choice(
                    ["", "1", "12", "12.0", "left", "each", "main", "per_hand", "pulses", row[field]]
                )
        if rng.random() < 0.1:
            made["exercise"] = rng.choice(NAMES)
        pred.append(made)
        if rng.random() < 0.1:
            pred.append(dict(made, start=f"{float(made['end']) + 1:.1f}", end=f"{float(made['end']) + 30:.1f}"))
    return pred


def make_rows(rng: random.Random) -> Rows:
    """A gold sheet of nonsense, up to 25 rows, with times written in every accepted way."""
    rows: Rows = []
    at = 0.0
    for _ in range(rng.randrange(26)):
        at += rng.uniform(0, 60)
        end = at + rng.choice([0, 5, 45.5, 200])
        clock = rng.random() < 0.2
        rows.append(
            {
                "start": f"{int(at) // 60}:{at % 60:04.1f}" if clock else f"{at:.1f}",
                "end": f"{end:.1f}",
                "section": rng.choice(["warm_up", "main", "cool_down"]),
                "group": str(rng.randrange(1, 5)),
                "round": rng.choice(["", "1", "2"]),
                "exercise": rng.choice(NAMES),
                "side": rng.choice(["", "left", "right", "each"]),
                "reps": rng.choice(["", "10", "8-10", "max"]),
                "work_s": rng.choice(["", "30", "40.0"]),
                "load": rng.choice(["", "12", "12.5"]),
                "unit": rng.choice(["", "lb", "kg"]),
                "basis": rng.choice(["", "per_hand", "total"]),
                "finisher": rng.choice(["", "pulses", "hold"]),
            }
        )
    return rows


@pytest.fixture(scope="session")
def disturb() -> Callable[[Rows, random.Random], Rows]:
    return disturb_rows


@pytest.fixture(scope="session")
def nonsense() -> Callable[[random.Random], Rows]:
    return make_rows
