"""``setdown schema``: the published form of a routine, and of what differs between two."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from setdown.cli.terminal import write_result


def schema(
    output: Annotated[str | None, typer.Option("-o", "--output", metavar="FILE", help="Write it to a file.")] = None,
    from_model: Annotated[
        bool, typer.Option("--from-model", help="Make it anew instead of printing the shipped copy (for developers).")
    ] = False,
    diff: Annotated[bool, typer.Option("--diff", help="The schema of setdown diff --json.")] = False,
    replace: Annotated[bool, typer.Option("--replace", help="Write over a file that is there already.")] = False,
) -> None:
    """Print the JSON Schema (draft 2020-12) of a routine, or of the differences that setdown diff --json writes.

    \b
    Examples:
      setdown schema -o routine.schema.json
      setdown schema --diff
    """
    from setdown.check import format_schema, read_published_schema, routine_schema
    from setdown.files import write_file

    if diff:
        from setdown.review.diff_schema import difference_schema, read_difference_schema

        text = format_schema(difference_schema()) if from_model else read_difference_schema()
    else:
        text = format_schema(routine_schema()) if from_model else read_published_schema()
    if output is None:
        write_result(text)
    else:
        write_file(Path(output), text.encode("utf-8"), replace=replace)
