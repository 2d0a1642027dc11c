"""A table that only grows: one row per change of what is extracted, with the figures of tuning and held-back classes.

Columns: date and commit (of the tree that the change was made in, ``+`` when it has changes of its own), what was
changed; then for each part and caption style ``F1``, ``perfect`` and ``saved`` in per cent, and for each part the
worst calibration error of a field and of the row over the styles, and triage over all styles together.
"""

from __future__ import annotations

import csv
import io
import subprocess
from collections.abc import Mapping
from pathlib import Path

from setdown.evaluate import Measures, Trust, measure_calibration, total_trust
from setdown.files import write_file

ROOT = Path(__file__).resolve().parents[2]
FIRST = ("date", "commit", "what")
KEPT = (("F1", "row_f1"), ("perfect", "perfect_rows"), ("saved", "effort_saved"))


def describe_part(part: str, totals: Mapping[str, Measures], trusts: Mapping[str, Trust]) -> dict[str, str]:
    """The cells of one part of the split."""
    cells = {
        f"{part} {style} {label}": _format(100, measures.get(key))
        for style, measures in totals.items()
        for label, key in KEPT
    }
    errors: dict[str, list[float]] = {"field": [], "row": []}
    for trust in trusts.values():
        for name, judged in trust.judged.items():
            error = measure_calibration(judged)
            if error is not None:
                errors["row" if name == "row" else "field"].append(error)
    for kind, found in errors.items():
        cells[f"{part} calibration error {kind}"] = f"{max(found):.3f}" if found else ""
    everything = total_trust(trusts.values())
    cells[f"{part} wrong rows asked"] = _format(100, everything.share_wrong_asked)
    cells[f"{part} right rows asked"] = _format(100, everything.share_right_asked)
    return cells


def append_row(path: Path, what: str, cells: Mapping[str, str]) -> None:
    """Add a row; columns that are new are added at the end, and empty in the rows before.

    Raises:
        OSError: the file cannot be read or written.
    """
    rows: list[dict[str, str]] = []
    columns = [*FIRST]
    if path.exists():
        reader = csv.DictReader(io.StringIO(path.read_text(encoding="utf-8")))
        columns = list(reader.fieldnames or columns)
        rows = list(reader)
    date, commit = find_commit()
    rows.append({"date": date, "commit": commit, "what": what, **cells})
    columns += [c for c in cells if c not in columns]
    text = io.StringIO()
    writer = csv.DictWriter(text, columns, restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    write_file(path, text.getvalue().encode("utf-8"), replace=True)


def find_commit() -> tuple[str, str]:
    """(date, short hash) of the last commit, with ``+`` when files under version control differ from it."""
    told = _run_git("log", "-1", "--format=%cs %h")
    date, _, commit = told.partition(" ")
    return date, commit + ("+" if _run_git("status", "--porcelain", "--untracked-files=no") else "")


def _run_git(*arguments: str) -> str:
    ran = subprocess.run(["git", *arguments], cwd=ROOT, capture_output=True, encoding="utf-8", check=False)
    return ran.stdout.strip() if ran.returncode == 0 else ""


def _format(scale: float, value: float | None) -> str:
    return "" if value is None else f"{scale * value:.1f}"
