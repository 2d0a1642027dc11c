"""Classes side by side: their minutes of work and rest, and their sets for each muscle group."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import fill
from typing import TYPE_CHECKING

from setdown.errors import SetdownError
from setdown.measure.figure.canvas import Form, count_in_integers, draw, make_patch, new_figure, shorten
from setdown.measure.figure.palette import BLANK, INK, LIGHT, PALE, STRONG
from setdown.measure.report import Measures
from setdown.measure.units import format_amount

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

MOST = 6  # classes: with more the columns are too narrow to read
ROW = 0.2  # inches


def draw_comparison(measures: Sequence[Measures], form: Form = "svg") -> bytes:
    """The classes side by side.

    Raises:
        SetdownError: fewer than two classes or more than six, or Matplotlib is not installed.
    """
    if not 2 <= len(measures) <= MOST:
        raise SetdownError(f"a picture cannot compare {len(measures)} classes", expected=f"2 to {MOST} classes")
    return draw("compare", lambda: _build(measures), form, "Classes side by side", describe_comparison(measures))


def describe_comparison(measures: Sequence[Measures]) -> str:
    """The picture in words."""
    parts = []
    for one in measures:
        time = one.work_rest
        worked = [f"{m.name} {format_amount(m.sets, 2)}" for m in one.muscle_groups if m.sets]
        minutes = f"{format_amount(time.work_s / 60, 1)} minutes in sets, {format_amount(time.rest_s / 60, 1)} at rest"
        parts.append(f"{shorten(one.title, 60)}: {minutes}; sets of work: {', '.join(worked) or 'none'}.")
    return "Classes side by side. " + " ".join(parts)


def _build(measures: Sequence[Measures]) -> Figure:
    totals: dict[str, float] = {}
    for one in measures:
        for count in one.muscle_groups:
            totals[count.name] = totals.get(count.name, 0.0) + float(count.sets + count.eased)
    muscles = sorted((name for name, total in totals.items() if total), key=lambda name: (-totals[name], name))
    times_height, bars_height = 0.75 + 0.24 * len(measures), 0.9 + ROW * max(len(muscles), 1)
    figure = new_figure(times_height + bars_height)
    grid = figure.add_gridspec(2, len(measures), height_ratios=[times_height, bars_height])
    _draw_times(figure.add_subplot(grid[0, :]), measures)
    longest = max((float(c.sets + c.eased) for one in measures for c in one.muscle_groups), default=1.0) or 1.0
    first: Axes | None = None
    for at, one in enumerate(measures):
        axes = figure.add_subplot(grid[1, at], sharey=first)
        _draw_muscles(axes, one, muscles, longest)
        axes.tick_params(axis="y", length=0, labelleft=first is None)
        first = first or axes
    if first is not None:
        first.set_ylim(max(len(muscles), 1) - 0.4, -0.6)
    share = format_amount(measures[0].counting.secondary, 2)
    labels = (
        (STRONG, "in sets; works first"),
        (LIGHT, f"helps (counts {share})"),
        (PALE, "stretch, pose, mobility"),
        (BLANK, "rest"),
    )
    handles = [make_patch(paint, label) for paint, label in labels]
    figure.legend(handles=handles, loc="outside upper left", ncols=len(handles), frameon=False, handlelength=2.2)
    return figure


def _draw_times(axes: Axes, measures: Sequence[Measures]) -> None:
    for row, one in enumerate(measures):
        work, rest = float(one.work_rest.work_s) / 60, float(one.work_rest.rest_s) / 60
        axes.barh(row, work, height=0.62, facecolor=STRONG.fill, edgecolor=INK, linewidth=0.5)
        axes.barh(row, rest, left=work, height=0.62, facecolor="white", edgecolor=INK, linewidth=0.5)
        density = one.work_rest.density
        text = f"{format_amount(density * 100)} %" if density is not None else ""
        axes.annotate(text, (work + rest, row), xytext=(4, 0), textcoords="offset points", va="center")
    axes.set_yticks(range(len(measures)), [shorten(one.title, 34) for one in measures])
    axes.set_ylim(len(measures) - 0.4, -0.6)
    axes.tick_params(axis="y", length=0)
    axes.margins(x=0.08)
    axes.set_xlim(left=0)
    axes.set_xlabel("minutes from the first set to the last, and the share in sets")


def _draw_muscles(axes: Axes, one: Measures, muscles: Sequence[str], longest: float) -> None:
    counts = {count.name: count for count in one.muscle_groups}
    for row, name in enumerate(muscles):
        count = counts.get(name)
        if count is None or not (count.sets or count.eased):
            continue
        start = 0.0
        helping = count.sets - count.primary
        for width, paint in ((count.primary, STRONG), (helping, LIGHT), (count.eased, PALE)):
            if width:
                look = {"facecolor": paint.fill, "hatch": paint.hatch, "edgecolor": INK, "linewidth": 0.5}
                axes.barh(row, float(width), left=start, height=0.66, **look)  # type: ignore[arg-type]
                start += float(width)
        text = format_amount(count.sets + count.eased, 2)
        axes.annotate(text, (start, row), xytext=(3, 0), textcoords="offset points", va="center", fontsize=7.5)
    axes.set_title(fill(shorten(one.title, 44), 22, max_lines=2, placeholder="…"), fontsize=8.5)
    axes.set_yticks(range(len(muscles)), [shorten(name) for name in muscles])
    axes.set_xlim(0, longest * 1.25)
    axes.set_xlabel("sets")
    count_in_integers(axes.xaxis)
