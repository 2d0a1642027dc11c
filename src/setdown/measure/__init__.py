"""What a routine amounts to: work and rest, sets per muscle, balance, volume load, energy, rep-max estimates; figures.

``measure_routine`` gives the ``Measures`` of one routine, ``setdown.measure.figure`` draws it.
"""

from __future__ import annotations

from setdown.measure.between import Between
from setdown.measure.conventions import DEFAULT_CONVENTIONS, Conventions
from setdown.measure.report import Measures, measure_routine
from setdown.measure.scale import Own, parse_own
from setdown.measure.units import convert_mass, format_amount, parse_mass

__all__ = [
    "DEFAULT_CONVENTIONS",
    "Between",
    "Conventions",
    "Measures",
    "Own",
    "convert_mass",
    "format_amount",
    "measure_routine",
    "parse_mass",
    "parse_own",
]
