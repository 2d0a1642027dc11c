"""``setdown diff``: what differs between two routines, in the words of the trade."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from setdown.cli.load import load_routine
from setdown.cli.outcome import DONE, FINDINGS
from setdown.cli.terminal import clean_text, write_result
from setdown.errors import SetdownError


def diff(
    old: Annotated[str, typer.Argument(metavar="OLD", help="A routine, or a transcript.", show_default=False)],
    new: Annotated[str, typer.Argument(metavar="NEW", help="Another one.", show_default=False)],
    as_json: Annotated[bool, typer.Option("--json", help="As JSON (its schema: setdown schema --diff).")] = False,
    as_html: Annotated[bool, typer.Option("--html", help="As a page that needs nothing else.")] = False,
    noise: Annotated[
        bool, typer.Option("--noise", help="Also ids, confidences, evidence and the wording of notes.")
    ] = False,
    output: Annotated[str | None, typer.Option("-o", "--output", metavar="FILE", help="Write it to a file.")] = None,
    replace: Annotated[bool, typer.Option("--replace", help="Write over a file that is there already.")] = False,
) -> int:
    """Show what differs between two routines: values, sets that came or went, groups, queries.

    The sets of the two are paired by identity, time and movement. The exit code is 0 when the routines are the same,
    1 when they differ, 2 when one of them cannot be used.

    \b
    Examples:
      setdown diff class.routine.json class.vtt
      setdown diff class.routine.json class.vtt --html -o changes.html
    """
    from setdown.files import write_file
    from setdown.review.compare import compare_routines
    from setdown.review.diff_page import render_difference
    from setdown.review.diff_schema import format_difference
    from setdown.review.wording import describe_difference

    if as_json and as_html:
        raise SetdownError("--json and --html cannot be had together")
    first, second = load_routine(old), load_routine(new)
    found = compare_routines(first, second, with_noise=noise)
    if as_json:
        text = format_difference(found)
    elif as_html:
        text = render_difference(found, first, second, names=(Path(old).name, Path(new).name))
    else:
        text = "".join(clean_text(line).replace("\n", " ") + "\n" for line in describe_difference(found))
    if output is None:
        write_result(text)
    else:
        write_file(Path(output), text.encode("utf-8"), replace=replace)
    return DONE if found.same else FINDINGS
