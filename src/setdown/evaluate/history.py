"""One row of scores for each release and caption style, kept in a CSV that only grows."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from pathlib import Path

from setdown.errors import SetdownError
from setdown.evaluate.measures import Measures
from setdown.files import read_text, write_file

KEPT = (
    "gold",
    "pred",
    "row_f1",
    "seg_f1",
    "rec_reps",
    "rec_work_s",
    "rec_load",
    "rec_basis",
    "rec_side",
    "rec_finisher",
    "acc_round",
    "acc_section",
    "group_f1",
    "start_err_median",
    "start_within_5s",
    "perfect_rows",
    "effort_saved",
)
COLUMNS = ("what", "captions", *KEPT)


def append_history(path: Path, what: str, totals: Mapping[str, Measures]) -> None:
    """Add a row for each caption style; a row of the same ``what`` and style is replaced. Ratios to four decimals.

    Raises:
        SetdownError: the file exists and is not such a history.
        OSError: it cannot be read or written.
    """
    rows = _read_history(path) if path.exists() else []
    for style, measures in totals.items():
        rows = [r for r in rows if (r["what"], r["captions"]) != (what, style)]
        rows.append({"what": what, "captions": style} | {key: _format(measures.get(key)) for key in KEPT})
    text = io.StringIO()
    writer = csv.DictWriter(text, COLUMNS, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    write_file(path, text.getvalue().encode("utf-8"), replace=True)


def _format(value: float | None) -> str:
    if value is None:
        return ""
    return str(value) if isinstance(value, int) else f"{value:.4f}"


def _read_history(path: Path) -> list[dict[str, str]]:
    reader = csv.DictReader(io.StringIO(read_text(path)))
    if tuple(reader.fieldnames or ()) != COLUMNS:
        raise SetdownError(
            "this is not a history of scores",
            source=str(path),
            line=1,
            expected=",".join(COLUMNS),
            hint="Give the name of a new file",
        )
    return list(reader)
