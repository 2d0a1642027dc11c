"""Loads over the rounds: a small panel for each exercise that a load was said for."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from textwrap import fill
from typing import TYPE_CHECKING

from setdown.measure.figure.canvas import Form, draw, new_figure, shorten
from setdown.measure.figure.palette import EMPTY, FAINT, INK, STRONG
from setdown.measure.units import MassUnit, convert_mass, format_amount
from setdown.model.routine import Load, Routine

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

COLUMNS = 4
PANEL = 1.45  # inches
TITLE_WIDTH = 20  # letters
LABELLED = 6  # sets: with more, the panel is too narrow for all labels
SIDES = {"left": "L", "right": "R", "each": "", None: ""}
BASIS = {"per_hand": "in each hand", "total": "in all", None: ""}


@dataclass(frozen=True, slots=True)
class Step:
    """One set of an exercise: its label, and the load in the figure's unit, None when no number is known."""

    label: str
    load: Fraction | None


@dataclass(frozen=True, slots=True)
class Panel:
    """One exercise, held in one way."""

    name: str
    basis: str
    steps: tuple[Step, ...]


def draw_loads(routine: Routine, form: Form = "svg", unit: MassUnit | None = None) -> bytes:
    """Loads over the rounds, in ``unit``, or in the one that most loads were said in.

    Raises:
        SetdownError: Matplotlib is not installed.
    """
    unit = unit or choose_unit(routine)
    panels = list_panels(routine, unit)
    alt = describe_loads(routine, unit)
    return draw("loads", lambda: _build(panels, unit), form, f"Loads over the rounds of {routine.title}", alt)


def describe_loads(routine: Routine, unit: MassUnit | None = None) -> str:
    """The figure in words: each exercise with its loads in order."""
    unit = unit or choose_unit(routine)
    parts = []
    for panel in list_panels(routine, unit):
        loads = ", ".join("unknown" if s.load is None else format_amount(s.load, 1) for s in panel.steps)
        parts.append(f"{panel.name}{' ' + panel.basis if panel.basis else ''}: {loads}")
    if not parts:
        return "No loads were said."
    return f"Loads in {unit} as the instructor used them, set by set. " + "; ".join(parts) + "."


def has_loads(routine: Routine) -> bool:
    """Whether there is anything to draw: a load with a number and a unit of mass."""
    return any(_mass(one.load) for _, _, one in routine.iter_sets())


def choose_unit(routine: Routine) -> MassUnit:
    """The unit that most loads were said in; pounds when they are as many."""
    said = [one.load.unit for _, _, one in routine.iter_sets() if one.load is not None]
    return "kg" if said.count("kg") > said.count("lb") else "lb"


def list_panels(routine: Routine, unit: MassUnit) -> tuple[Panel, ...]:
    """The exercises that a load was said for, in order; sets of them without a number are steps of their own."""
    sets = [one for _, _, one in routine.iter_sets()]
    keys = dict.fromkeys(
        (_key(one.exercise.id, one.exercise.name), _basis(one.load)) for one in sets if _mass(one.load)
    )
    panels = []
    for key, basis in keys:
        mine = [
            one for one in sets if _key(one.exercise.id, one.exercise.name) == key and _basis(one.load) in (basis, None)
        ]
        if not any(one.load is not None for one in mine):
            continue
        steps = tuple(Step(f"{at}{SIDES[one.side]}", _convert(one.load, unit)) for at, one in enumerate(mine, 1))
        panels.append(Panel(shorten(mine[0].exercise.name, 40), BASIS[basis], steps))
    return tuple(panels)


def _mass(load: Load | None) -> bool:
    return load is not None and load.value is not None and load.unit in ("lb", "kg")


def _basis(load: Load | None) -> str | None:
    return load.basis if load is not None else None


def _convert(load: Load | None, unit: MassUnit) -> Fraction | None:
    if load is None or load.value is None or load.unit not in ("lb", "kg"):
        return None
    return convert_mass(load.value, "lb" if load.unit == "lb" else "kg", unit)


def _key(id: str, name: str) -> str:
    return id or name.strip().lower()


def _build(panels: Sequence[Panel], unit: MassUnit) -> Figure:
    rows = max(math.ceil(len(panels) / COLUMNS), 1)
    figure = new_figure(0.35 + PANEL * rows)
    highest = max((float(s.load) for panel in panels for s in panel.steps if s.load is not None), default=1.0) or 1.0
    if not panels:
        figure.text(0.5, 0.5, "No loads were said.", ha="center", va="center")
        return figure
    most = max(2, *(len(panel.steps) for panel in panels))
    grid = figure.subplots(rows, COLUMNS, squeeze=False)
    for at, axes in enumerate(grid.flat):
        if at < len(panels):
            _draw_panel(axes, panels[at], highest, most, first=at % COLUMNS == 0, unit=unit)
        else:
            axes.set_visible(False)
    return figure


def _draw_panel(axes: Axes, panel: Panel, highest: float, most: int, *, first: bool, unit: MassUnit) -> None:
    shown = ""
    for at, step in enumerate(panel.steps):
        known = step.load is not None
        height = float(step.load) if step.load is not None else highest * 0.12
        paint = STRONG if known else EMPTY
        axes.bar(at, height, 0.62, facecolor=paint.fill, hatch=paint.hatch, edgecolor=INK, linewidth=0.5)
        text = format_amount(step.load, 1) if step.load is not None else "?"
        if len(panel.steps) > LABELLED and text == shown:
            continue  # narrow bars are labelled where the load changes
        shown = text
        axes.annotate(text, (at, height), xytext=(0, 2), textcoords="offset points", ha="center", va="bottom")
    axes.set_title(fill(panel.name, TITLE_WIDTH, max_lines=2, placeholder="…"), fontsize=8.5)
    every = max(1, math.ceil(len(panel.steps) / LABELLED))
    axes.set_xticks(range(0, len(panel.steps), every), [step.label for step in panel.steps[::every]])
    axes.set_xlim(-0.7, most - 0.3)
    axes.set_ylim(0, highest * 1.22)
    axes.set_xlabel(f"set ({panel.basis})" if panel.basis else "set", color=INK, fontsize=7.5)
    axes.tick_params(axis="x", length=0)
    axes.spines["left"].set_color(FAINT)
    axes.set_ylabel(unit if first else "")
    axes.yaxis.set_tick_params(labelleft=first)
