"""``setdown check``: what is wrong with a routine, and what it still asks."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from setdown.cli.outcome import DONE, FINDINGS, UNUSABLE, describe_failure, format_failure
from setdown.cli.progress import iterate_files
from setdown.cli.terminal import say, warn
from setdown.errors import SetdownError

if TYPE_CHECKING:
    from setdown.check import Finding
    from setdown.model.routine import Query, Routine
    from setdown.model.transcript import Transcript

SEVERITIES = ("must", "should", "note")


def check(
    files: Annotated[list[str], typer.Argument(metavar="ROUTINE", help="Routine files.", show_default=False)],
    transcript: Annotated[
        str | None, typer.Option(metavar="FILE", help="The transcript, when it is not beside its routine.")
    ] = None,
    quiet: Annotated[bool, typer.Option("-q", "--quiet", help="Leave out notes and queries that can wait.")] = False,
) -> int:
    """List what is wrong with each routine, and its open queries.

    Checked are the schema, the times, the ids, where every value comes from, and, when the transcript is given or lies
    beside the routine, that every quoted word is really there. Unlikely numbers are notes. The exit code is 1 when
    there is a finding other than a note, or an open query that must be answered.

    \b
    Examples:
      setdown check class.routine.json
      setdown check *.routine.json --quiet
    """
    if transcript and len(files) > 1:
        raise SetdownError("--transcript is for one routine", hint="Or put each transcript beside its routine")
    codes = [_check_file(file, transcript, quiet) for file in iterate_files(files)]
    if all(code == UNUSABLE for code in codes):
        return UNUSABLE
    return DONE if not any(codes) else FINDINGS


def _check_file(file: str, transcript_file: str | None, quiet: bool) -> int:
    from setdown.check import check_document, find_transcript
    from setdown.files import read_text
    from setdown.read import read_transcript

    def find(routine: Routine) -> Transcript | None:
        beside = transcript_file or find_transcript(Path(file), routine)
        return read_transcript(beside) if beside else None

    try:
        checked = check_document(read_text(Path(file)), file, find)
    except (SetdownError, OSError) as error:
        warn(format_failure(describe_failure(error, file)))
        return UNUSABLE
    routine, findings = checked.routine, checked.findings
    for finding in sorted(findings, key=lambda f: (SEVERITIES.index(f.severity), f.line or 0)):
        if not quiet or finding.severity != "note":
            say(_format_finding(file, finding))
    queries = [q for q in routine.queries if q.state == "open"] if routine else []
    for query in queries:
        if not quiet or query.severity == "must":
            say(_format_query(file, query, routine))
    serious = sum(f.severity != "note" for f in findings)
    pending = sum(q.severity == "must" for q in queries)
    quotes = "quotes compared" if checked.compared else "no transcript, quotes not compared"
    sets = f"{len(routine.iter_sets())} sets" if routine else "no routine"
    notes = len(findings) - serious
    say(
        f"{file}: {sets}, {serious} findings, {notes} notes, "
        f"{len(queries)} open queries ({pending} must be answered), {quotes}"
    )
    return FINDINGS if serious or pending else DONE


def _format_finding(file: str, finding: Finding) -> str:
    where = f"{file}:{finding.line}" if finding.line else file
    text = f"{where}: {finding.severity} {finding.code}: {finding.problem}  [{finding.path}]"
    return f"{text}\n  hint: {finding.hint}" if finding.hint else text


def _format_query(file: str, query: Query, routine: Routine | None) -> str:
    from setdown.model.timecode import format_clock

    text = f"{file}: query {query.severity} {query.code}"
    for _, _, one in routine.iter_sets() if routine else []:
        if one.id == query.set:
            text += f" at {format_clock(round(one.start * 1000))} ({one.exercise.name})"
    text += f": {query.message}"
    return text + (f"  [{' | '.join(query.suggestions)}]" if query.suggestions else "")
