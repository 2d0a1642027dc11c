"""``setdown compare``: classes side by side."""

from __future__ import annotations

import json
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING, Annotated

import typer

from setdown.cli.outcome import DONE, FINDINGS, UNUSABLE
from setdown.cli.terminal import write_result
from setdown.errors import SetdownError
from setdown.files import write_file

if TYPE_CHECKING:
    from setdown.measure.figure import Form


def compare(
    files: Annotated[
        list[str], typer.Argument(metavar="A B...", help="Routines, or transcripts to extract first; two or more.")
    ],
    as_json: Annotated[bool, typer.Option("--json", help="JSON instead of the table.")] = False,
    units: Annotated[str, typer.Option(metavar="lb|kg|both", help="Units of the table.")] = "both",
    body_mass: Annotated[
        str | None, typer.Option(metavar="KG", help="Body mass, to estimate energy for: 70, 70kg or 154lb.")
    ] = None,
    secondary: Annotated[
        str, typer.Option(metavar="0..1", help="What a set counts for a muscle that only helps.")
    ] = "0.5",
    sections: Annotated[
        str, typer.Option(metavar="KINDS", help="Sections whose sets count for muscles: main, warm_up,main or all.")
    ] = "main",
    output: Annotated[
        str | None, typer.Option("-o", "--output", metavar="FILE", help="Draw a picture: a name in .svg or .png.")
    ] = None,
    replace: Annotated[bool, typer.Option("--replace", help="Write over a file that is there already.")] = False,
    lexicon: Annotated[list[str] | None, typer.Option(metavar="FILE", help="Movements of your own.")] = None,
) -> int:
    """Put classes side by side: a table of their measures, and a picture with -o.

    \b
    Examples:
      setdown compare class.routine.json recordings/kettlebell.srt
      setdown compare class.routine.json recordings/kettlebell.srt -o classes.svg
    """
    from setdown.cli.measuring import lay_out, measure_files, parse_body_mass, parse_conventions, parse_units
    from setdown.measure import compare_measures

    if len(files) < 2:
        raise SetdownError("there is one class only", expected="two or more to compare")
    shown, form = parse_units(units), _choose_form(output)
    counting, mass = parse_conventions(secondary, sections), parse_body_mass(body_mass)
    found, failed = measure_files(files, lexicon or (), counting, mass)
    if len(found) < 2:
        return UNUSABLE
    if form is not None and output is not None:
        from setdown.measure.figure import draw_comparison

        write_file(Path(output), draw_comparison(found, form), replace=replace)
    rows = compare_measures(found, shown)
    if as_json:
        lines = [{"heading": row.heading, "label": row.label, "values": list(row.values)} for row in rows]
        both = {"classes": [one.as_dict() for one in found], "rows": lines}
        text = json.dumps(both, indent=1, ensure_ascii=False) + "\n"
    else:
        titles = [one.title if one.status == "published" else f"{one.title} ({one.status})" for one in found]
        text = lay_out([(row.label, row.values) for row in rows], [row.heading for row in rows], titles)
        text += "\n" + "\n".join(fill(sentence, 100) for sentence in found[0].cautions) + "\n"
    write_result(text)
    return FINDINGS if failed else DONE


def _choose_form(output: str | None) -> Form | None:
    from setdown.measure.figure import FORMS

    if output is None:
        return None
    for form in FORMS:
        if output.lower().endswith(f".{form}"):
            return form
    raise SetdownError("this is not a name for a picture", source=output, expected="a name that ends in .svg or .png")
