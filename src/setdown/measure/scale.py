"""The class with the reader's own loads: from one hard set of theirs to a range for each set that was done."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from setdown.errors import SetdownError
from setdown.lexicon import Lexicon
from setdown.measure.performed import Performed
from setdown.measure.rep_max import GOOD_UP_TO, LOAD_CHART, ROUGH_UP_TO, estimate_rep_max, scale_load
from setdown.measure.units import MassUnit, format_amount
from setdown.measure.volume import describe_load

OWN = re.compile(
    r"(?P<name>[^=]+)=\s*(?P<load>\d{1,4}(?:\.\d{1,3})?)\s*(?P<unit>lbs?|kgs?)\s*[x×*]\s*(?P<reps>\d{1,2})\s*"
)


@dataclass(frozen=True, slots=True)
class Own:
    """A set of the reader's that could not have gone on: ``reps`` with ``load``, held the way the class holds it."""

    exercise: str
    load: Fraction
    unit: MassUnit
    reps: int


@dataclass(frozen=True, slots=True)
class ChartLine:
    """So many repetitions at so many per cent of one: the reader's load for the lowest and the highest estimate."""

    reps: int
    per_cent: int
    lo: float
    hi: float


@dataclass(frozen=True, slots=True)
class OwnMax:
    """The reader's estimated one repetition of an exercise, by every formula, and what the chart makes of it."""

    exercise: str
    name: str
    own: str
    unit: MassUnit
    by_formula: tuple[tuple[str, float], ...]
    lo: float
    hi: float
    rough: bool
    chart: tuple[ChartLine, ...]


@dataclass(frozen=True, slots=True)
class ScaledLoad:
    """One exercise at one number of repetitions: what the class used, and the reader's range in ``unit``.

    ``lo`` and ``hi`` are None where no estimate holds, and ``why`` says so. ``rough``: more than ten repetitions, asked
    or done.
    """

    exercise: str
    name: str
    reps: int | None
    used: tuple[str, ...]
    own: str
    unit: MassUnit
    lo: float | None
    hi: float | None
    rough: bool
    why: str


def parse_own(text: str, lexicon: Lexicon) -> Own:
    """``goblet squat=20kg x 8`` -> the reader's set.

    Raises:
        SetdownError: another form, an unknown movement, or repetitions outside 1 to 15.
    """
    match = OWN.fullmatch(text.strip().lower())
    if match is None:
        raise SetdownError(f"cannot read {text!r}", expected="MOVEMENT=LOAD x REPS, such as 'goblet squat=20kg x 8'")
    movement = lexicon.look_up(match["name"].strip())
    if movement is None:
        hint = "setdown lexicon find WORDS shows what comes close"
        raise SetdownError(f"no movement is called {match['name'].strip()!r}", hint=hint)
    unit: MassUnit = "lb" if match["unit"].startswith("lb") else "kg"
    own = Own(movement.id, Fraction(match["load"]), unit, int(match["reps"]))
    estimate_rep_max(own.load, own.reps)  # refuses what no formula holds for
    return own


def list_own_maxima(own: Iterable[Own], lexicon: Lexicon) -> tuple[OwnMax, ...]:
    """The rep-max estimates for the reader's sets."""
    found = []
    for one in own:
        best = estimate_rep_max(one.load, one.reps)
        name = lexicon.movements[one.exercise].name if one.exercise in lexicon.movements else one.exercise
        chart = tuple(
            ChartLine(reps, share, best.lo * share / 100, best.hi * share / 100) for reps, share in LOAD_CHART.items()
        )
        found.append(
            OwnMax(
                one.exercise, name, describe_own(one), one.unit, best.by_formula, best.lo, best.hi, best.rough, chart
            )
        )
    return tuple(found)


def scale_class(sets: Sequence[Performed], own: Iterable[Own]) -> tuple[ScaledLoad, ...]:
    """A line for each exercise that the reader has a set of, at each number of repetitions the class asked for."""
    found = []
    for mine in own:
        done = [one for one in sets if one.one.exercise.id == mine.exercise]
        for reps in dict.fromkeys(_reps_asked(one) for one in done):
            used = tuple(dict.fromkeys(filter(None, (describe_load(one) for one in done if _reps_asked(one) == reps))))
            found.append(_scale(mine, done[0].name, reps, used))
    return tuple(found)


def describe_own(own: Own) -> str:
    """``20 kg x 8``."""
    return f"{format_amount(own.load, 3)} {own.unit} x {own.reps}"


def _reps_asked(one: Performed) -> int | None:
    reps = one.one.reps
    return reps.hi if reps is not None else None  # of a range the higher one: the lighter load


def _scale(own: Own, name: str, reps: int | None, used: tuple[str, ...]) -> ScaledLoad:
    lo = hi = None
    why = ""
    if reps is None:
        why = "no number of repetitions"
    elif reps > ROUGH_UP_TO:
        why = f"no estimate above {ROUGH_UP_TO} repetitions"
    else:
        lo, hi = scale_load(own.load, own.reps, reps)
    rough = reps is not None and max(reps, own.reps) > GOOD_UP_TO
    return ScaledLoad(own.exercise, name, reps, used, describe_own(own), own.unit, lo, hi, rough, why)
