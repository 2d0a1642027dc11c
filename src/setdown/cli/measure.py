"""``setdown measure``: what a class amounts to."""

from __future__ import annotations

import json
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING, Annotated

import typer

from setdown.cli.outcome import DONE, FINDINGS, UNUSABLE
from setdown.cli.terminal import clean_text, write_result
from setdown.files import write_file

if TYPE_CHECKING:
    from setdown.measure import Measures, Row, Units

WIDTH = 100  # characters of the sentences


def measure(
    files: Annotated[
        list[str], typer.Argument(metavar="ROUTINE...", help="Routines, or transcripts to extract first.")
    ],
    as_json: Annotated[bool, typer.Option("--json", help="JSON, with every figure and both units.")] = False,
    units: Annotated[str, typer.Option(metavar="lb|kg|both", help="Units of the table.")] = "both",
    body_mass: Annotated[
        str | None, typer.Option(metavar="KG", help="Body mass, to estimate energy for: 70, 70kg or 154lb.")
    ] = None,
    own: Annotated[
        list[str] | None,
        typer.Option(metavar="SET", help="A hard set of your own, to scale loads by: 'goblet squat=20kg x 8'."),
    ] = None,
    secondary: Annotated[
        str, typer.Option(metavar="0..1", help="What a set counts for a muscle that only helps.")
    ] = "0.5",
    sections: Annotated[
        str, typer.Option(metavar="KINDS", help="Sections whose sets count for muscles: main, warm_up,main or all.")
    ] = "main",
    output: Annotated[str | None, typer.Option("-o", "--output", metavar="FILE", help="Write it to a file.")] = None,
    replace: Annotated[bool, typer.Option("--replace", help="Write over a file that is there already.")] = False,
    lexicon: Annotated[list[str] | None, typer.Option(metavar="FILE", help="Movements of your own.")] = None,
) -> int:
    """Count and reckon what was done: work and rest, sets per muscle, balance, volume load, energy, rep-max estimates.

    What is not known is counted and said, not guessed. Nothing of it is advice. Several classes are added up.

    \b
    Examples:
      setdown measure class.routine.json
      setdown measure class.routine.json --body-mass 70 --own "goblet squat=20kg x 8"
      setdown measure class.routine.json recordings/kettlebell.srt --json
    """
    from setdown.cli.measuring import measure_files, parse_body_mass, parse_conventions, parse_units
    from setdown.measure import add_measures

    shown = parse_units(units)
    mass = parse_body_mass(body_mass)
    found, failed = measure_files(files, lexicon or (), parse_conventions(secondary, sections), mass, own or ())
    if not found:
        return UNUSABLE
    together = add_measures(found) if len(found) > 1 else None
    if as_json:
        both = {"routines": [one.as_dict() for one in found], "together": together.as_dict() if together else None}
        text = json.dumps(both, indent=1, ensure_ascii=False) + "\n"
    else:
        text = render_measures(found, shown)
    if output is None:
        write_result(text)
    else:
        write_file(Path(output), text.encode("utf-8"), replace=replace)
    return FINDINGS if failed else DONE


def render_measures(found: list[Measures], units: Units) -> str:
    """A table for each class, all of them together, and below it what the figures rest on."""
    from setdown.measure import add_measures, list_rows, list_together

    parts = []
    for one in found:
        state = "" if one.status == "published" else f" ({one.status})"
        gaps = "".join(f"  {gap}\n" for gap in one.gaps)
        text = clean_text(f"{one.title}{state}") + "\n\n" + _lay_out_rows(list_rows(one, units))
        parts.append(text + (f"\nnot known\n{gaps}" if gaps else ""))
    if len(found) > 1:
        parts.append(f"All {len(found)} classes\n\n" + _lay_out_rows(list_together(add_measures(found), units)))
    first = found[0]
    counted = "".join(f"  {sentence}\n" for sentence in first.conventions)
    cautions = "\n".join(fill(sentence, WIDTH) for sentence in first.cautions)
    return "\n\n".join([*parts, f"how it was counted\n{counted}", cautions]) + "\n"


def _lay_out_rows(rows: list[Row]) -> str:
    from setdown.cli.measuring import lay_out

    return lay_out([(row.label, [row.value]) for row in rows], [row.heading for row in rows])
