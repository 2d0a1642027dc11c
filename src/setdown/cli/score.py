"""``setdown score``: a set sheet against a gold sheet, or a folder against a folder."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from setdown.cli.batch import run_jobs
from setdown.cli.load import load_routine
from setdown.cli.outcome import DONE, FINDINGS, describe_failure, format_failure
from setdown.cli.progress import show_progress
from setdown.cli.terminal import say, warn, write_result
from setdown.errors import SetdownError

if TYPE_CHECKING:
    from setdown.evaluate import Measures, RowMarks, Trust

GOLD = ".gold.csv"
Rows = list[dict[str, str]]
Results = dict[str, dict[str, "tuple[Measures, Trust]"]]  # by suffix, by class


@dataclass(frozen=True, slots=True)
class LoadedRows:
    """The rows of a file with what it says of them, or why there are none."""

    rows: Rows
    error: SetdownError | None = None
    marks: list[RowMarks] = field(default_factory=list)


Answers = dict[tuple[str, str], LoadedRows | None]  # by suffix and class


def score(
    gold: Annotated[str, typer.Argument(metavar="GOLD", help="A gold sheet, or a folder of NAME.gold.csv.")],
    pred: Annotated[str, typer.Argument(metavar="PRED", help="A sheet, routine or transcript, or a folder of them.")],
    suffix: Annotated[
        list[str] | None,
        typer.Option(
            metavar="TEXT", help="With folders: NAME + this is the file to score; may be given several times."
        ),
    ] = None,
    tol: Annotated[float, typer.Option(metavar="SECONDS", help="How far apart the starts of one set may lie.")] = 30.0,
    as_json: Annotated[bool, typer.Option("--json", help="Every measure, as JSON.")] = False,
    rows: Annotated[bool, typer.Option("--rows", help="With two files: every gold row and what answers it.")] = False,
    detail: Annotated[
        bool, typer.Option("--detail", help="How often each confidence is right, in ten bins a field.")
    ] = False,
    jobs: Annotated[int, typer.Option(min=1, max=64, help="Transcripts to extract at the same time.")] = 1,
    history: Annotated[
        str | None, typer.Option(metavar="FILE.csv", help="With folders: add the totals to a history of scores.")
    ] = None,
    what: Annotated[str, typer.Option(help="What the row of the history is called, e.g. a version.")] = "",
) -> int:
    """Score set sheets against gold sheets, field by field.

    A transcript is extracted on the way. With folders, one suffix gives a line a class and one for all of them; several
    suffixes give a table with a line for each. Routines and transcripts also tell how sure they are: then follow the
    calibration error (0: of the values given at 0.9, nine in ten are right) of every field and of the row, and on how
    many of the wrong and of the right rows a must or should query stands.

    \b
    Examples:
      setdown sheet class.routine.json --csv -o class.gold.csv
      setdown score class.gold.csv class.csv
      setdown score class.gold.csv class.vtt --rows --detail
      setdown score . . --suffix .routine.json
      setdown score . . --suffix .vtt --suffix .csv --jobs 2 --history scores.csv --what 0.2.0
    """
    if not tol > 0:
        raise SetdownError(f"--tol {tol:g} is too small", expected="more than 0 seconds")
    if Path(gold).is_dir() != Path(pred).is_dir():
        raise SetdownError("a folder can only be scored against a folder", source=gold if Path(gold).is_dir() else pred)
    if not Path(gold).is_dir():
        if suffix or history:
            raise SetdownError("--suffix and --history are for folders")
        return _score_file(gold, pred, tol, as_json, rows, detail)
    if not suffix:
        raise SetdownError("which files are to be scored?", hint="Add --suffix .csv, or --suffix .vtt")
    if history and not what:
        raise SetdownError("a row of the history needs a name", hint="Add --what, e.g. a version")
    answers = _load_folder(Path(gold), Path(pred), suffix, jobs)
    results = _score_folder(Path(gold), answers, suffix, tol)
    _report_folder(results, as_json, detail, history, what)
    missing = sum(loaded is None for loaded in answers.values())
    if missing:
        warn(f"setdown: {missing} of {len(answers)} files are missing and count as empty")
    return DONE if all(loaded and not loaded.error for loaded in answers.values()) else FINDINGS


def load_rows(file: str) -> LoadedRows:
    """The rows of a sheet, a routine or a transcript; a failure is part of the answer."""
    from setdown.evaluate import mark_routine, mark_sheet
    from setdown.sheet import read_sheet_csv, routine_to_rows

    try:
        if file.lower().endswith(".csv"):
            rows = read_sheet_csv(Path(file))
            return LoadedRows(rows, marks=mark_sheet(rows))
        routine = load_routine(file)
        return LoadedRows(routine_to_rows(routine), marks=mark_routine(routine))
    except Exception as error:
        return LoadedRows([], describe_failure(error, file))


def judge_loaded(gold: Rows, loaded: LoadedRows, tol: float = 30.0) -> tuple[Measures, Trust]:
    """The measures of loaded rows, and what their confidences and queries are worth."""
    from setdown.evaluate import judge_rows, score_rows

    measures, pairs = score_rows(gold, loaded.rows, tol)
    return measures, judge_rows(gold, loaded.rows, pairs, loaded.marks)


def _say_trust(trust: Trust, detail: bool) -> None:
    from setdown.evaluate import format_reliability, format_trust

    for line in [*format_trust(trust), *(format_reliability(trust) if detail else [])]:
        say(line)


def _score_file(gold: str, pred: str, tol: float, as_json: bool, rows: bool, detail: bool) -> int:
    from setdown.evaluate import align_rows, describe_rows, describe_trust, format_line

    sides = [load_rows(gold), load_rows(pred)]
    for side in sides:
        if side.error:
            raise side.error
    measures, trust = judge_loaded(sides[0].rows, sides[1], tol)
    if as_json:
        told = measures | (describe_trust(trust) if trust.judged else {})
        write_result(json.dumps(told, indent=1) + "\n")
    else:
        say(format_line(Path(gold).stem, measures))
        _say_trust(trust, detail)
    if rows:
        for line in describe_rows(sides[0].rows, sides[1].rows, align_rows(sides[0].rows, sides[1].rows, tol)):
            say(line)
    return DONE


def _load_folder(gold: Path, pred: Path, suffixes: list[str], jobs: int) -> Answers:
    """What answers each gold sheet under each suffix; ``None`` for a file that is not there."""
    names = sorted(path.name.removesuffix(GOLD) for path in gold.glob("*" + GOLD))
    if not names:
        raise SetdownError(f"no {GOLD[1:]} files here", source=str(gold), expected="NAME.gold.csv")
    answers: Answers = {(suffix, name): None for suffix in suffixes for name in names}
    wanted = [(suffix, name) for suffix, name in answers if (pred / (name + suffix)).exists()]
    if not wanted:
        raise SetdownError("none of the files is here", source=str(pred), expected=f"{names[0]}{suffixes[0]}")
    files = [str(pred / (name + suffix)) for suffix, name in wanted]
    with show_progress(len(wanted), wanted=True) as advance:
        for key, file, loaded in zip(wanted, files, run_jobs(load_rows, files, jobs), strict=True):
            advance(Path(file).name)
            answers[key] = loaded
            if loaded.error:
                warn(format_failure(loaded.error))
    return answers


def _score_folder(gold: Path, answers: Answers, suffixes: list[str], tol: float) -> Results:
    from setdown.sheet import read_sheet_csv

    results: Results = {suffix: {} for suffix in suffixes}
    sheets: dict[str, Rows] = {}
    for (suffix, name), loaded in answers.items():
        if name not in sheets:
            sheets[name] = read_sheet_csv(gold / (name + GOLD))
        results[suffix][name] = judge_loaded(sheets[name], loaded or LoadedRows([]), tol)
    return results


def _report_folder(results: Results, as_json: bool, detail: bool, history: str | None, what: str) -> None:
    from setdown.evaluate import append_history, describe_trust, format_line, format_table, total_measures, total_trust

    totals = {suffix: total_measures([m for m, _ in by_name.values()]) for suffix, by_name in results.items()}
    trusts = {suffix: total_trust(t for _, t in by_name.values()) for suffix, by_name in results.items()}
    if as_json:
        told = {
            suffix: {"classes": {name: m for name, (m, _) in by_name.items()}, "total": totals[suffix]}
            | (describe_trust(trusts[suffix]) if trusts[suffix].judged else {})
            for suffix, by_name in results.items()
        }
        write_result(json.dumps(told, indent=1) + "\n")
    elif len(results) == 1:
        [(suffix, by_name)] = results.items()
        for name, (measures, _) in by_name.items():
            say(format_line(name, measures))
        say(format_line("ALL", totals[suffix]))
        _say_trust(trusts[suffix], detail)
    else:
        say(format_table(totals))
        for suffix, trust in trusts.items():
            if trust.judged:
                say(suffix)
                _say_trust(trust, detail)
    if history:
        append_history(Path(history), what, totals)
