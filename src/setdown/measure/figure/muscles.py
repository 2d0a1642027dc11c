"""Sets for each group of muscles, as bars."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from setdown.measure.figure.canvas import Form, count_in_integers, draw, make_patch, new_figure, shorten
from setdown.measure.figure.palette import INK, LIGHT, PALE, STRONG, Paint
from setdown.measure.muscles import MuscleCount
from setdown.measure.report import Measures
from setdown.measure.units import format_amount

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

ROW = 0.23  # inches


def draw_muscles(measures: Measures, form: Form = "svg") -> bytes:
    """Sets for each group of muscles. Raises SetdownError without Matplotlib."""
    title = f"Sets for each muscle group in {measures.title}"
    return draw("muscles", lambda: _build(measures), form, title, describe_muscles(measures))


def describe_muscles(measures: Measures) -> str:
    """The figure in words: the groups with their sets, the most worked first."""
    worked = [f"{one.name} {format_amount(one.sets, 2)}" for one in measures.muscle_groups if one.sets]
    eased = [f"{one.name} {format_amount(one.eased, 2)}" for one in measures.muscle_groups if one.eased]
    parts = []
    if worked:
        parts.append("Sets of work for each muscle group: " + ", ".join(worked) + ".")
    if eased:
        parts.append("Sets of stretch, pose and mobility: " + ", ".join(eased) + ".")
    return " ".join(parts) or "No sets for any muscle group."


def _build(measures: Measures) -> Figure:
    counts = [one for one in measures.muscle_groups if one.sets or one.eased]
    share = measures.counting.secondary
    figure = new_figure(0.95 + ROW * max(len(counts), 1))
    axes = figure.add_subplot()
    layers = (
        ("works first", STRONG, [one.primary for one in counts]),
        (f"helps (a set counts {format_amount(share, 2)})", LIGHT, [one.secondary * share for one in counts]),
        ("stretch, pose, mobility", PALE, [one.eased for one in counts]),
    )
    starts, handles = [Fraction(0)] * len(counts), []
    for label, paint, widths in layers:
        if any(widths):
            _add_bars(axes, starts, widths, paint)
            handles.append(make_patch(paint, label))
            starts = [start + width for start, width in zip(starts, widths, strict=True)]
    for row, (one, end) in enumerate(zip(counts, starts, strict=True)):
        axes.annotate(_label(one), (float(end), row), xytext=(4, 0), textcoords="offset points", va="center")
    axes.set_ylim(max(len(counts), 1) - 0.4, -0.6)
    axes.set_xlim(0, float(max(starts, default=Fraction(1))) * 1.08 or 1)
    axes.set_yticks(range(len(counts)), [shorten(one.name) for one in counts])
    axes.tick_params(axis="y", length=0)
    axes.set_xlabel("sets")
    count_in_integers(axes.xaxis)
    if handles:
        figure.legend(handles=handles, loc="outside upper left", ncols=3, frameon=False, handlelength=2.4)
    return figure


def _add_bars(axes: Axes, starts: Sequence[Fraction], widths: Sequence[Fraction], paint: Paint) -> None:
    axes.barh(
        range(len(widths)),
        [float(width) for width in widths],
        left=[float(start) for start in starts],
        height=0.66,
        facecolor=paint.fill,
        hatch=paint.hatch,
        edgecolor=INK,
        linewidth=[0.5 if width else 0 for width in widths],
    )


def _label(one: MuscleCount) -> str:
    if one.sets and one.eased:
        return f"{format_amount(one.sets, 2)} + {format_amount(one.eased, 2)}"
    return format_amount(one.sets or one.eased, 2)
