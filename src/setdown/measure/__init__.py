"""What a routine amounts to: work and rest, sets per muscle, balance, volume load, energy, rep-max estimates; figures.

``measure_routine`` gives the ``Measures`` of one routine, ``setdown.measure.figure`` draws it.
"""

from __future__ import annotations

from setdown.measure.between import Between
from setdown.measure.compare import ComparedRow, compare_measures
from setdown.measure.conventions import DEFAULT_CONVENTIONS, SECTION_KINDS, Conventions
from setdown.measure.report import Measures, measure_routine
from setdown.measure.scale import Own, parse_own
from setdown.measure.table import Row, list_rows, list_together
from setdown.measure.together import Together, add_measures
from setdown.measure.units import UNITS, Units, convert_mass, format_amount, parse_mass

__all__ = [
    "DEFAULT_CONVENTIONS",
    "SECTION_KINDS",
    "UNITS",
    "Between",
    "ComparedRow",
    "Conventions",
    "Measures",
    "Own",
    "Row",
    "Together",
    "Units",
    "add_measures",
    "compare_measures",
    "convert_mass",
    "format_amount",
    "list_rows",
    "list_together",
    "measure_routine",
    "parse_mass",
    "parse_own",
]
