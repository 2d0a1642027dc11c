"""The heat map of a balance: a row for each group of muscles, a column for each week, darker for more sets.

White is none at all: the least that was done already has a tint.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from setdown.catalogue.balance import Balance
from setdown.errors import SetdownError
from setdown.measure import format_amount
from setdown.measure.figure import Form
from setdown.measure.figure.canvas import draw, new_figure, shorten
from setdown.measure.figure.palette import GRID, INK, STRONG

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

ROW = 0.24  # inches
MOST_WEEKS = 104  # columns that can still be told apart on a page
TINT = "#dbe8f0"
LEAST = 1e-6  # sets: everything above none
NUMBERED = 20  # weeks up to which every cell has its number


def draw_heat_map(balance: Balance, form: Form = "svg") -> bytes:
    """Sets for each group of muscles and week.

    Raises:
        SetdownError: Matplotlib is not installed, or no class has a date.
    """
    if not balance.weeks:
        problem = "no class has a date, so there is nothing to draw over weeks"
        raise SetdownError(problem, hint="Add date = 2024-05-14 to NAME.meta.toml beside each transcript")
    title = f"Sets for each muscle group, {balance.weeks[0]} to {balance.weeks[-1]}"
    return draw("weeks", lambda: _build(balance, title), form, title, describe_heat_map(balance))


def describe_heat_map(balance: Balance) -> str:
    """The picture in words: for each group its sets, its strongest week, and in how many weeks it was worked."""
    parts = []
    for name, weekly in _list_rows(balance):
        worked = [sets for sets in weekly if sets]
        best = max(range(len(weekly)), key=lambda n: weekly[n])
        parts.append(
            f"{name}: {format_amount(sum(weekly, Fraction(0)), 2)} sets in {len(worked)} of {len(weekly)} weeks, "
            f"most in {balance.weeks[best]} ({format_amount(weekly[best], 2)})."
        )
    return " ".join(parts) or "No sets for any muscle group."


def _list_rows(balance: Balance) -> list[tuple[str, list[Fraction]]]:
    """Groups with the most sets first, and their sets week by week; of very long times the latest part."""
    return [
        (name, [balance.muscles_by_week.get((name, week), Fraction(0)) for week in balance.weeks])
        for name in balance.muscles
        if any((name, week) in balance.muscles_by_week for week in balance.weeks)
    ]


def _build(balance: Balance, title: str) -> Figure:
    from matplotlib.colors import LinearSegmentedColormap

    rows = [(name, weekly[-MOST_WEEKS:]) for name, weekly in _list_rows(balance)]
    weeks = balance.weeks[-MOST_WEEKS:]
    figure = new_figure(1.5 + ROW * max(len(rows), 1))
    axes = figure.add_subplot()
    colours = LinearSegmentedColormap.from_list("sets", [TINT, STRONG.fill]).with_extremes(under="white")
    values = [[float(sets) for sets in weekly] for _, weekly in rows] or [[0.0] * len(weeks)]
    most = max(map(max, values)) or 1.0
    image = axes.imshow(values, cmap=colours, vmin=LEAST, vmax=most, aspect="auto", interpolation="nearest")
    axes.set_title(title)
    axes.set_yticks(range(len(rows)), [shorten(name) for name, _ in rows])
    step = max(1, -(-len(weeks) // 13))
    axes.set_xticks(range(0, len(weeks), step), weeks[::step], rotation=60, ha="right", rotation_mode="anchor")
    axes.set_xticks([n - 0.5 for n in range(1, len(weeks))], minor=True)
    axes.set_yticks([n - 0.5 for n in range(1, len(rows))], minor=True)
    axes.grid(which="minor", color=GRID, linewidth=0.4)
    axes.tick_params(which="both", length=0)
    if len(weeks) <= NUMBERED:
        _write_numbers(axes, rows, most)
    figure.colorbar(image, ax=axes, label="sets in a week", pad=0.01)
    return figure


def _write_numbers(axes: Axes, rows: list[tuple[str, list[Fraction]]], most: float) -> None:
    for row, (_, weekly) in enumerate(rows):
        for column, sets in enumerate(weekly):
            if sets:
                colour = STRONG.text if float(sets) > 0.55 * most else INK
                text = format_amount(sets, 1)
                axes.text(column, row, text, ha="center", va="center", color=colour, fontsize=6.5)
