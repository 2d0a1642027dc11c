"""``setdown extract``: transcripts in, routines out."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from setdown.cli.batch import ExtractJob, ExtractResult, extract_job, run_jobs
from setdown.cli.naming import plan_targets
from setdown.cli.outcome import DONE, FINDINGS, UNUSABLE, format_failure
from setdown.cli.progress import show_progress
from setdown.cli.terminal import say, warn, write_result
from setdown.errors import SetdownError
from setdown.model.transcript import ClassInfo


def extract(
    files: Annotated[list[str], typer.Argument(metavar="FILE", help="Timed transcripts.", show_default=False)],
    output: Annotated[
        str | None, typer.Option("-o", "--output", metavar="FILE|FOLDER", help="Where to write; a folder for many.")
    ] = None,
    format: Annotated[
        str | None, typer.Option(metavar="NAME", help="Format of the transcripts, when it is not recognised.")
    ] = None,
    lexicon: Annotated[
        list[str] | None,
        typer.Option(metavar="FILE", help="Movements of your own; may be given several times."),
    ] = None,
    jobs: Annotated[int, typer.Option(min=1, max=64, help="Transcripts to work on at the same time.")] = 1,
    quiet: Annotated[bool, typer.Option("-q", "--quiet", help="No progress bar and no result lines.")] = False,
    replace: Annotated[bool, typer.Option("--replace", help="Write over routines that are there already.")] = False,
    title: Annotated[str, typer.Option(help="Title of the class (one transcript only).")] = "",
    instructor: Annotated[str, typer.Option(help="Who teaches.")] = "",
    date: Annotated[str, typer.Option(metavar="YYYY-MM-DD", help="Day of the recording.")] = "",
    media: Annotated[str, typer.Option(help="Path or address of the recording (one transcript only).")] = "",
    tag: Annotated[
        list[str] | None, typer.Option(help="A word to find the class by; may be given several times.")
    ] = None,
) -> int:
    """Set down the routine of each transcript as JSON.

    One transcript without -o goes to standard output. With -o FOLDER, NAME.vtt becomes FOLDER/NAME.routine.json, with
    one line a transcript: name, sets, open queries, minutes. A transcript that cannot be used does not stop the others.
    A file that is there already is written over only with --replace; one that would not change is left untouched.

    \b
    Examples:
      setdown extract class.vtt
      setdown extract class.vtt -o tuesday.routine.json --title "Tuesday Strength" --instructor "Ada Quill"
      setdown extract recordings/*.srt recordings/*.txt -o routines --jobs 2
    """
    targets = plan_targets(files, output)
    info = _read_info(files, title=title, instructor=instructor, day=date, media=media, tags=tag or [])
    if (output is not None and len(targets) > 1) or (output or "").endswith("/"):
        _make_folder(Path(output or ""))
    own = tuple(Path(file) for file in lexicon or ())
    work = [
        ExtractJob(source, target, format, info, own, replace) for source, target in zip(files, targets, strict=True)
    ]
    failed = 0
    with show_progress(len(work), wanted=not quiet and len(work) > 1) as advance:
        for result in run_jobs(extract_job, work, jobs):
            advance(Path(result.source).name)
            failed += result.error is not None
            _report(result, quiet)
    if failed and len(work) > 1:
        warn(f"setdown: {failed} of {len(work)} transcripts gave no routine")
    return DONE if not failed else UNUSABLE if failed == len(work) else FINDINGS


def _report(result: ExtractResult, quiet: bool) -> None:
    if result.error:
        warn(format_failure(result.error))
        return
    line = f"{Path(result.source).name}  {result.sets} sets  {result.queries} queries  {result.minutes:.1f} min"
    if result.target is None:
        write_result(result.text)
        if not quiet:
            warn(line)
    elif not quiet:
        say(f"{line}  {result.target}" + (" (unchanged)" if result.outcome == "unchanged" else ""))


def _read_info(
    files: list[str], *, title: str, instructor: str, day: str, media: str, tags: list[str]
) -> ClassInfo | None:
    if len(files) > 1 and (title or media):
        option = "--title" if title else "--media"
        raise SetdownError(f"{option} is for one transcript", hint="Write NAME.meta.toml beside each transcript")
    if day:
        try:
            date.fromisoformat(day)
        except ValueError as error:
            raise SetdownError(f"--date {day} is no day", expected="YYYY-MM-DD, such as 2024-03-05") from error
    info = ClassInfo(title=title, instructor=instructor, date=day, media=media, tags=tuple(tags))
    return None if info == ClassInfo() else info


def _make_folder(folder: Path) -> None:
    if folder.exists() and not folder.is_dir():
        raise SetdownError("this is a file", source=str(folder), expected="a folder for the routines")
    folder.mkdir(parents=True, exist_ok=True)
