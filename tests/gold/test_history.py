"""One row per change with the figures of both parts of the split; older rows stay as they are."""

from __future__ import annotations

import csv
import subprocess
from pathlib import Path

import pytest

from gold import history
from setdown.evaluate import Trust, score_rows, total_measures
from setdown.evaluate.calibration import Judged

ROW = {"start": "0", "end": "30", "section": "main", "group": "1", "round": "1", "exercise": "squat", "reps": "10"}


def read_rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_cells_of_a_part():
    """Percentages with a decimal; of calibration errors the worst; triage over all styles together."""
    measures = total_measures([score_rows([ROW], [ROW | {"reps": "12"}])[0]])
    assert measures["effort_saved"] == pytest.approx(2 / 3)  # of exercise, round and reps typed, one is to be corrected
    trusts = {
        ".vtt": Trust({"reps": [Judged(0.9, True)], "row": [Judged(0.6, True)]}, 1, 2, 0, 1),
        ".txt": Trust({"reps": [Judged(0.7, True)], "side": [Judged(1.0, True)]}, 1, 1, 1, 1),
    }
    assert history.describe_part("tuning", {".vtt": measures}, trusts) == {
        "tuning .vtt F1": "100.0",
        "tuning .vtt perfect": "0.0",
        "tuning .vtt saved": "66.7",
        "tuning calibration error field": "0.300",
        "tuning calibration error row": "0.400",
        "tuning wrong rows asked": "66.7",
        "tuning right rows asked": "50.0",
    }
    nothing = history.describe_part("held back", {}, {})
    assert set(nothing.values()) == {""}


def test_rows_are_added(tmp_path, monkeypatch):
    """The table grows by a row; a column that is new is empty before; commas in what was changed do no harm."""
    monkeypatch.setattr(history, "find_commit", lambda: ("2031-05-06", "abc1234+"))
    path = tmp_path / "HISTORY.csv"
    history.append_row(path, "first, of all", {"tuning .vtt F1": "50.0"})
    history.append_row(path, "second", {"tuning .vtt F1": "51.0", "held back .vtt F1": "40.0"})
    assert read_rows(path) == [
        {"date": "2031-05-06", "commit": "abc1234+", "what": "first, of all", "tuning .vtt F1": "50.0",
         "held back .vtt F1": ""},
        {"date": "2031-05-06", "commit": "abc1234+", "what": "second", "tuning .vtt F1": "51.0",
         "held back .vtt F1": "40.0"},
    ]  # fmt: skip


def test_commit_of_a_tree(tmp_path, monkeypatch):
    """Date and hash of the last commit, a plus when a file differs from it; nothing outside of version control."""
    monkeypatch.setattr(history, "ROOT", tmp_path)
    assert history.find_commit() == ("", "")
    who = ["-c", "user.name=Nobody", "-c", "user.email=nobody@example.org"]

    def git(*arguments: str) -> None:
        subprocess.run(["git", *who, *arguments], cwd=tmp_path, check=True, capture_output=True)

    (tmp_path / "a").write_text("1")
    git("init", "-q")
    git("add", "a")
    git("commit", "-q", "-m", "one", "--date", "2030-01-02T03:04:05Z")
    date, commit = history.find_commit()
    assert len(date) == 10 and commit and "+" not in commit
    (tmp_path / "a").write_text("2")
    assert history.find_commit() == (date, commit + "+")


def test_the_table_of_this_project():
    """Every row says when, of what and what was changed, and has the figures of both parts."""
    rows = read_rows(Path(__file__).with_name("HISTORY.csv"))
    assert rows
    for row in rows:
        assert row["date"] and row["commit"] and row["what"]
        for part in ("tuning", "held back"):
            assert 0 < float(row[f"{part} .vtt saved"]) <= 100
            assert 0 < float(row[f"{part} .txt saved"]) <= 100
