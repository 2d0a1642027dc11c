"""Score a set sheet against a gold sheet: names, alignment of rows, measures, reports.

A *row* is one line of a set sheet (see ``setdown.sheet``): text cells by column name. Nothing here reads
transcripts or routines, so that what is scored is exactly what a user would get in the sheet.
"""

from setdown.evaluate.align import Row, align_rows
from setdown.evaluate.history import append_history
from setdown.evaluate.measures import Measures, score_rows, total_measures
from setdown.evaluate.names import is_same_name
from setdown.evaluate.report import describe_rows, format_line, format_table

__all__ = [
    "Measures",
    "Row",
    "align_rows",
    "append_history",
    "describe_rows",
    "format_line",
    "format_table",
    "is_same_name",
    "score_rows",
    "total_measures",
]
