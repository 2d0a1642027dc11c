"""What a prediction says of itself, row by row: from a routine in full, from a sheet as far as its columns go."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from setdown.evaluate.align import parse_number
from setdown.evaluate.calibration import RowMarks
from setdown.model.routine import Routine

ASKING = ("must", "should")  # severities of a query that a reviewer has to look at


def mark_routine(routine: Routine) -> list[RowMarks]:
    """One mark a set, in the order of ``routine_to_rows``. Queries about the class as a whole mark no row."""
    asked = {q.set for q in routine.queries if q.state == "open" and q.severity in ASKING}
    return [RowMarks(one.confidence, one.id in asked) for _, _, one in routine.iter_sets()]


def mark_sheet(rows: Iterable[Mapping[str, str]]) -> list[RowMarks]:
    """One mark a row of a sheet: its ``confidence`` is that of the row; a sheet does not tell how urgent a query is."""
    marks = []
    for row in rows:
        confidence = parse_number(row.get("confidence"))
        told = confidence is not None and 0 <= confidence <= 1
        marks.append(RowMarks({"row": confidence} if told and confidence is not None else {}, None))
    return marks
