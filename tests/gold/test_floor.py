"""Measured quality does not fall: the tuning classes reach at least the figures of ``floor.toml``."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from setdown.evaluate import score_rows, total_measures
from setdown.pipeline import extract
from setdown.sheet import read_sheet_csv, routine_to_rows

GOLD = Path(__file__).parent
FLOOR = tomllib.loads((GOLD / "floor.toml").read_text(encoding="utf-8"))
HELD_BACK = set(tomllib.loads((GOLD / "split.toml").read_text(encoding="utf-8"))["held_back"])
MEASURES = ("row_f1", "effort_saved")


def list_tuning(folder: Path) -> list[str]:
    """Names of the classes that rules and weights were made with."""
    names = sorted(path.name.removesuffix(".gold.csv") for path in folder.glob("*.gold.csv"))
    return [name for name in names if name.split("-")[0] not in HELD_BACK]


def test_the_floor_is_written_down():
    """Both styles, both measures, each a share."""
    assert set(FLOOR) == {".words.json", ".txt"}
    for figures in FLOOR.values():
        assert set(figures) == set(MEASURES)
        assert all(0 <= figure < 1 for figure in figures.values())


@pytest.mark.slow
@pytest.mark.parametrize("style", [*FLOOR])
def test_quality_does_not_fall(gold_folder, style):
    """Rows found and effort saved, over all tuning classes together."""
    names = list_tuning(gold_folder)
    assert len(names) > 40
    results = []
    for name in names:
        rows = routine_to_rows(extract(gold_folder / (name + style)))
        results.append(score_rows(read_sheet_csv(gold_folder / f"{name}.gold.csv"), rows)[0])
    total = total_measures(results)
    figures = {measure: round(total[measure] or 0.0, 3) for measure in MEASURES}
    assert {m: max(figures[m], FLOOR[style][m]) for m in MEASURES} == figures
