"""``setdown signoff``: a routine that was read through goes from draft to reviewed, and then to published."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from setdown.cli.outcome import DONE, FINDINGS
from setdown.cli.terminal import say
from setdown.cli.who import make_mark

if TYPE_CHECKING:
    from setdown.model.routine import Query, Routine
    from setdown.review.signing import SignOffRefusedError


def signoff(
    routine: Annotated[str, typer.Argument(metavar="ROUTINE", help="The routine file.", show_default=False)],
    by: Annotated[str | None, typer.Option("--by", metavar="NAME", help="Who signs.")] = None,
    published: Annotated[bool, typer.Option("--published", help="Mark a reviewed routine as published.")] = False,
) -> int:
    """Sign a routine off: a draft becomes reviewed, and with --published a reviewed routine becomes published.

    Refused, with exit code 1, while a query that must be answered is open or something is wrong with the routine; each
    of them is named. Any later change makes the routine a draft again.

    \b
    Examples:
      setdown signoff class.routine.json --by "Ana Lund"
      setdown signoff class.routine.json --by "Ana Lund" --published
    """
    from setdown.review.signing import SignOffRefusedError, sign_off
    from setdown.review.store import open_routine, save_routine

    mark = make_mark(by)
    opened = open_routine(Path(routine))
    status = "published" if published else "reviewed"
    try:
        signed = sign_off(opened.routine, status, mark)  # type: ignore[arg-type]
    except SignOffRefusedError as error:
        _say_obstacles(routine, error, opened.routine)
        return FINDINGS
    if signed is opened.routine:
        say(f"{routine}: {signed.status} already")
        return DONE
    saved = save_routine(opened, signed, mark, [f"signed off as {status}"])
    say(f"{routine}: {status}, signed by {mark.by} (revision {saved.revision})")
    return DONE


def _say_obstacles(name: str, error: SignOffRefusedError, routine: Routine) -> None:
    for query in error.queries:
        say(f"{name}: query {query.code}{_tell_where(query, routine)}: {query.message}")
    for finding in error.findings:
        say(f"{name}: {finding.code}: {finding.problem}  [{finding.path}]")
    say(f"{name}: {error.problem}" + (f". {error.hint}" if error.hint else ""))


def _tell_where(query: Query, routine: Routine) -> str:
    from setdown.model.timecode import format_clock

    for number, (_, _, one) in enumerate(routine.iter_sets(), 1):
        if one.id == query.set:
            return f" on set {number}, {one.exercise.name} at {format_clock(round(one.start * 1000))}"
    return ""
