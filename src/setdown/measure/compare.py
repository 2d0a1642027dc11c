"""Several classes side by side: one line a measure, one column a class."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from setdown.measure.report import Measures
from setdown.measure.table import list_rows
from setdown.measure.units import Units

NONE = "-"  # the class has nothing there


@dataclass(frozen=True, slots=True)
class ComparedRow:
    """One measure with its value in each class, in the order of the classes."""

    heading: str
    label: str
    values: tuple[str, ...]


def compare_measures(measures: Sequence[Measures], units: Units = "both") -> list[ComparedRow]:
    """The lines that make sense side by side; the order is that of the first class, new lines of later ones after."""
    tables = [{(row.heading, row.label): row.value for row in list_rows(one, units) if row.shared} for one in measures]
    headings = dict.fromkeys(heading for table in tables for heading, _ in table)
    keys = dict.fromkeys(key for table in tables for key in table)
    return [
        ComparedRow(heading, label, tuple(table.get((heading, label), NONE) for table in tables))
        for wanted in headings
        for heading, label in keys
        if heading == wanted
    ]
