"""``setdown sheet``: the routine as a table."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from setdown.cli.load import load_routine
from setdown.cli.terminal import clean_text, is_terminal, write_result
from setdown.errors import SetdownError

if TYPE_CHECKING:
    from setdown.model.routine import Routine


def sheet(
    file: Annotated[str, typer.Argument(metavar="FILE", help="A routine, or a transcript to extract first.")],
    csv: Annotated[bool, typer.Option("--csv", help="CSV, one row a set (the default for a file or a pipe).")] = False,
    table: Annotated[bool, typer.Option("--table", help="A table to read (the default on a terminal).")] = False,
    output: Annotated[str | None, typer.Option("-o", "--output", metavar="FILE", help="Write it to a file.")] = None,
    replace: Annotated[bool, typer.Option("--replace", help="Write over a file that is there already.")] = False,
    lexicon: Annotated[
        list[str] | None, typer.Option(metavar="FILE", help="Movements of your own, for a transcript.")
    ] = None,
) -> None:
    """Print the set sheet: one row for each set that was performed.

    The CSV has a fixed heading and opens in any spreadsheet; no cell can start a formula.

    \b
    Examples:
      setdown sheet class.routine.json
      setdown sheet class.vtt -o new.csv
      setdown sheet class.routine.json --csv | sort -t, -k7
    """
    from setdown.files import write_file
    from setdown.sheet import format_sheet_csv, routine_to_rows

    if csv and table:
        raise SetdownError("--csv and --table cannot be had together")
    routine = load_routine(file, tuple(Path(own) for own in lexicon or ()))
    as_table = table or (not csv and output is None and is_terminal())
    text = render_table(routine) if as_table else format_sheet_csv(routine_to_rows(routine))
    if output is None:
        write_result(text)
    else:
        write_file(Path(output), text.encode("utf-8"), replace=replace)


def render_table(routine: Routine) -> str:
    """The sheet for reading: times as a clock, one heading a section, columns as wide as they need to be."""
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    from setdown.model.timecode import format_clock
    from setdown.sheet import routine_to_rows

    grid = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="")
    right = ("at", "group", "round", "reps", "seconds", "sure")
    for heading in ("at", "section", "group", "round", "exercise", "side", "reps", "seconds", "load", "finish", "sure"):
        grid.add_column(heading, justify="right" if heading in right else "left", no_wrap=True)
    grid.add_column("queries")
    last = ""
    for row, (section, _, one) in zip(routine_to_rows(routine), routine.iter_sets(), strict=True):
        shown = "" if section.id == last else section.kind.replace("_", " ")
        last = section.id
        load = " ".join(filter(None, (row["load"], row["unit"], row["basis"].replace("_", " "), row["rel"])))
        cells = [format_clock(round(one.start * 1000)), shown, row["group"], row["round"], row["exercise"]]
        cells += [row["side"], row["reps"], row["work_s"], load, row["finisher"], row["confidence"]]
        cells.append(row["queries"].replace(";", " "))
        grid.add_row(*(Text(clean_text(cell)) for cell in cells))
    console = Console(width=10_000, color_system=None, legacy_windows=False)
    with console.capture() as capture:
        console.print(grid)
    return "".join(line.rstrip() + "\n" for line in capture.get().splitlines())
