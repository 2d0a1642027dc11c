"""The class as a time line: a row for each exercise, a bar for each set with the number of its round."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from setdown.measure.figure.canvas import Form, count_in_integers, draw, make_patch, new_figure, shorten
from setdown.measure.figure.palette import FAINT, GRID, INK, SHADE, paint_section
from setdown.model.routine import Routine
from setdown.model.timecode import format_clock

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

ROW = 0.2  # inches
ROUND_FITS = 0.011  # of the whole time: a bar that a digit fits on
LEGEND = {"warm_up": "warm-up", "main": "main part", "cool_down": "cool-down"}


def draw_time_line(routine: Routine, form: Form = "svg") -> bytes:
    """The time line. Raises SetdownError without Matplotlib."""
    title = f"Time line of {routine.title}"
    return draw("timeline", lambda: _build(routine), form, title, describe_time_line(routine))


def describe_time_line(routine: Routine) -> str:
    """The time line in words: the sections with their times, and what was done in each."""
    parts = []
    for section in routine.sections:
        sets = [one for group in section.groups for one in group.sets]
        kind = section.kind.replace("_", " ")
        when = f"{format_clock(round(section.start * 1000))} to {format_clock(round(section.end * 1000))}"
        count = f"{len(sets)} {'set' if len(sets) == 1 else 'sets'}"
        names = ", ".join(dict.fromkeys(shorten(one.exercise.name) for one in sets))
        parts.append(f"{kind} {when}" + (f", {count}: {names}" if sets else ""))
    return "Time line. " + "; ".join(parts) + "." if parts else "Time line without sections."


def _build(routine: Routine) -> Figure:
    sets = routine.iter_sets()
    rows = {key: at for at, key in enumerate(dict.fromkeys(_key(one.exercise) for _, _, one in sets))}
    names = {_key(one.exercise): shorten(one.exercise.name) for _, _, one in sets}
    figure = new_figure(1.15 + ROW * max(len(rows), 1))
    axes = figure.add_subplot()
    last = max([routine.source.duration_s, *(section.end for section in routine.sections)], default=1.0) or 1.0
    axes.set_xlim(0, last / 60)
    axes.set_ylim(max(len(rows), 1) - 0.4, -0.6)
    _mark_sections(axes, routine, last)
    _shade_groups(axes, routine, rows)
    for section, group, one in sets:
        paint = paint_section(section.kind)
        length = max(one.end - one.start, last / 600)  # a set is always to be seen
        axes.barh(
            rows[_key(one.exercise)],
            length / 60,
            left=one.start / 60,
            height=0.62,
            facecolor=paint.fill,
            hatch=paint.hatch,
            edgecolor=INK,
            linewidth=0.5,
        )
        if group.rounds > 1 and length > last * ROUND_FITS and not paint.hatch:  # no figure is read on hatching
            middle = (one.start + length / 2) / 60
            row = rows[_key(one.exercise)]
            axes.text(middle, row, str(one.round), ha="center", va="center_baseline", fontsize=6.5, color=paint.text)
    axes.set_yticks(range(len(rows)), [names[key] for key in rows])
    axes.tick_params(axis="y", length=0)
    axes.set_xlabel("minutes")
    count_in_integers(axes.xaxis)
    axes.grid(axis="y", color=GRID, linewidth=0.5)
    axes.spines["left"].set_visible(False)
    _add_legend(figure, [section.kind for section, _, _ in sets])
    return figure


def _mark_sections(axes: Axes, routine: Routine, last: float) -> None:
    for section in routine.sections:
        if last * 0.02 < section.start < last * 0.995:
            axes.axvline(section.start / 60, color=FAINT, linewidth=0.7, linestyle=(0, (4, 3)))


def _shade_groups(axes: Axes, routine: Routine, rows: Mapping[str, int]) -> None:
    """A shade behind each group of several exercises: what is done in turns is seen to belong together."""
    from matplotlib.patches import Rectangle

    for section in routine.sections:
        for group in section.groups:
            mine = sorted({rows[_key(one.exercise)] for one in group.sets})
            if len(mine) < 2 or group.arrangement == "flow":
                continue
            start, end = min(one.start for one in group.sets) / 60, max(one.end for one in group.sets) / 60
            low, high = mine[0] - 0.46, mine[-1] + 0.46
            axes.add_patch(Rectangle((start, low), end - start, high - low, facecolor=SHADE, zorder=0))


def _add_legend(figure: Figure, kinds: list[str]) -> None:
    handles = [make_patch(paint_section(kind), LEGEND.get(kind, kind)) for kind in dict.fromkeys(kinds)]
    if handles:
        figure.legend(handles=handles, loc="outside upper left", ncols=len(handles), frameon=False, handlelength=2.4)


def _key(exercise: object) -> str:
    return getattr(exercise, "id", "") or str(getattr(exercise, "name", "")).strip().lower()
