"""``setdown schema``: the published form of a routine."""

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
    replace: Annotated[bool, typer.Option("--replace", help="Write over a file that is there already.")] = False,
) -> None:
    """Print the JSON Schema (draft 2020-12) of a routine.

    \b
    Example:
      setdown schema -o routine.schema.json
    """
    from setdown.check import format_schema, read_published_schema, routine_schema
    from setdown.files import write_file

    text = format_schema(routine_schema()) if from_model else read_published_schema()
    if output is None:
        write_result(text)
    else:
        write_file(Path(output), text.encode("utf-8"), replace=replace)
