"""Score a set sheet against a gold sheet: names, alignment of rows, measures, trust in confidences, reports.

A *row* is one line of a set sheet (see ``setdown.sheet``): text cells by column name. Nothing here reads
transcripts or routines, so that what is scored is exactly what a user would get in the sheet.
"""

from setdown.evaluate.align import Row, align_rows
from setdown.evaluate.calibration import RowMarks, Trust, judge_rows, measure_calibration, total_trust
from setdown.evaluate.history import append_history
from setdown.evaluate.marks import mark_routine, mark_sheet
from setdown.evaluate.measures import Measures, score_rows, total_measures
from setdown.evaluate.names import is_same_name
from setdown.evaluate.report import (
    describe_rows,
    describe_trust,
    format_line,
    format_reliability,
    format_table,
    format_trust,
)

__all__ = [
    "Measures",
    "Row",
    "RowMarks",
    "Trust",
    "align_rows",
    "append_history",
    "describe_rows",
    "describe_trust",
    "format_line",
    "format_reliability",
    "format_table",
    "format_trust",
    "is_same_name",
    "judge_rows",
    "mark_routine",
    "mark_sheet",
    "measure_calibration",
    "score_rows",
    "total_measures",
    "total_trust",
]
