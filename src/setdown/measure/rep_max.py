"""What somebody could lift once, estimated from what they lifted several times: formulas, and a printed table.

The estimates are for a set taken until no further repetition was possible, in one movement, by one person. They are
good up to ten repetitions; beyond that they drift apart, and leg presses allow more repetitions at every load than
bench presses do (Nuzzo et al., Sports Medicine 2024;54:303-321). Formulas as printed in later comparisons of them
(Whisenant et al., J Strength Cond Res 2003;17(2):221-227; Mayhew et al., J Strength Cond Res 2008;22(5):1570-1577),
not read in the original works.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from setdown.errors import SetdownError

GOOD_UP_TO = 10  # repetitions
ROUGH_UP_TO = 15  # beyond, no estimate is given
VALID = "sets of up to 10 repetitions that could not have gone on; 11 to 15 are rough; beyond that there is no estimate"

# How many times the load one repetition is, for r repetitions.
FACTORS: MappingProxyType[str, Callable[[int], float]] = MappingProxyType(
    {
        "Epley 1985": lambda r: 1 + r / 30,
        "Brzycki 1993": lambda r: 36 / (37 - r),
        "Lander 1985": lambda r: 100 / (101.3 - 2.67123 * r),
        "Lombardi 1989": lambda r: r**0.10,
        "Mayhew 1992": lambda r: 100 / (52.2 + 41.9 * math.exp(-0.055 * r)),
        "O'Conner 1989": lambda r: 1 + 0.025 * r,
        "Wathan 1994": lambda r: 100 / (48.8 + 53.8 * math.exp(-0.075 * r)),
    }
)

# Per cent of a one-repetition maximum that allows so many repetitions: NSCA, 'Training Load Chart', from Haff and
# Triplett (eds.), Essentials of Strength Training and Conditioning; read in copies. At 12 repetitions the chart prints
# 70 per cent; the textbook's table may print 67.
LOAD_CHART = MappingProxyType({1: 100, 2: 95, 3: 93, 4: 90, 5: 87, 6: 85, 7: 83, 8: 80, 9: 77, 10: 75, 12: 70})
LOAD_CHART_SOURCE = "NSCA, Training Load Chart (12 repetitions = 70 per cent; the textbook's table may print 67)"


@dataclass(frozen=True, slots=True)
class RepMax:
    """Estimates of one repetition, in the unit of ``load``; ``rough`` above ten repetitions."""

    load: Fraction
    reps: int
    by_formula: tuple[tuple[str, float], ...]
    lo: float
    hi: float
    rough: bool


def estimate_rep_max(load: Fraction | int, reps: int) -> RepMax:
    """One repetition by every formula. A single repetition is itself: formulas that say otherwise are not asked.

    Raises:
        SetdownError: no load, or repetitions outside 1 to 15.
    """
    _refuse_reps(reps)
    if load <= 0:
        raise SetdownError("a rep-max needs a load above zero")
    found = tuple((name, float(load) * (factor(reps) if reps > 1 else 1.0)) for name, factor in FACTORS.items())
    values = [value for _, value in found]
    return RepMax(Fraction(load), reps, found, min(values), max(values), reps > GOOD_UP_TO)


def scale_load(load: Fraction | int, reps: int, wanted: int) -> tuple[float, float]:
    """The load for ``wanted`` repetitions of somebody who did ``reps`` with ``load``: lowest and highest by formula.

    Each formula is used both ways, so that the same repetitions give the same load back.

    Raises:
        SetdownError: repetitions outside 1 to 15, or no load.
    """
    _refuse_reps(wanted)
    estimates = dict(estimate_rep_max(load, reps).by_formula)
    loads = [one / (FACTORS[name](wanted) if wanted > 1 else 1.0) for name, one in estimates.items()]
    return min(loads), max(loads)


def make_load_table(rep_max: Fraction | int) -> tuple[tuple[int, Fraction], ...]:
    """Repetitions and load by the chart, for a known one-repetition maximum in any unit."""
    return tuple((reps, Fraction(rep_max) * share / 100) for reps, share in LOAD_CHART.items())


def find_intensity(volume: Fraction, reps: Fraction, rep_max: Fraction) -> tuple[Fraction, Fraction]:
    """Load of the mean repetition, and its share of the one-repetition maximum (0 to 1).

    Source: BMJ Military Health 2022;168(4):314-319, Table 1. Raises ZeroDivisionError without repetitions or maximum.
    """
    mean = volume / reps
    return mean, mean / rep_max


def _refuse_reps(reps: int) -> None:
    if not 1 <= reps <= ROUGH_UP_TO:
        raise SetdownError(f"no rep-max estimate for {reps} repetitions", expected="1 to 15 repetitions")
