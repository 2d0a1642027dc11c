"""The text of a routine file: read back into a routine, or into findings with the lines of what is wrong."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from setdown.check.finding import Finding, format_path
from setdown.check.lines import locate_values
from setdown.check.run import check_content
from setdown.check.schema import check_schema
from setdown.errors import SetdownError
from setdown.model.routine import Routine
from setdown.model.transcript import Transcript

TranscriptFinder = Callable[[Routine], Transcript | None]


@dataclass(frozen=True, slots=True)
class CheckedDocument:
    """``routine`` is ``None`` when the document does not hold one; the findings then say why.

    ``compared`` says whether there was a transcript to compare the quotes with.
    """

    routine: Routine | None
    findings: list[Finding]
    compared: bool


def parse_json(text: str, source: str) -> Any:
    """The JSON value of a text.

    Raises:
        SetdownError: broken JSON (with the line), ``NaN`` or ``Infinity``, or nested beyond reason.
    """

    def refuse(word: str) -> Any:
        line = text.count("\n", 0, max(text.find(word), 0)) + 1
        raise SetdownError(f"{word} is not JSON", source=source, line=line, expected="a number")

    try:
        return json.loads(text, parse_constant=refuse)
    except json.JSONDecodeError as error:
        raise SetdownError(f"broken JSON: {error.msg}", source=source, line=error.lineno) from error
    except RecursionError as error:
        raise SetdownError("the JSON is nested too deeply", source=source) from error
    except ValueError as error:  # an integer of thousands of digits
        raise SetdownError(f"broken JSON: {error}", source=source) from error


def check_document(text: str, source: str = "", find: TranscriptFinder = lambda routine: None) -> CheckedDocument:
    """Check the text of a routine file; ``find`` gives the transcript of the routine, when there is one.

    Raises:
        SetdownError: the text is not JSON at all.
    """
    document = parse_json(text, source)
    where = locate_values(text)
    findings = check_schema(document)
    routine = transcript = None
    if not findings:
        routine = Routine.model_validate(document)
        transcript = find(routine)
        findings = check_content(routine, transcript)
    lines = {format_path(path): line for path, line in where.lines.items()} if findings else {}
    twice = [
        Finding("key-twice", format_path(path), "the same key stands twice; only the last counts", line=line)
        for path, line in where.twice
    ]
    findings = twice + [replace(f, line=_find_line(f.path, lines)) for f in findings]
    return CheckedDocument(routine, findings, compared=transcript is not None)


def parse_routine(text: str, source: str = "") -> Routine:
    """The routine in a text.

    Raises:
        SetdownError: not JSON, or not a routine: says the first finding of the schema, with its line.
    """
    document = parse_json(text, source)
    sound = _read_sound(text, document)
    if sound is not None:
        return sound
    shape = check_schema(document)
    if not shape:
        return Routine.model_validate(document)
    lines = {format_path(path): line for path, line in locate_values(text).lines.items()}
    first = shape[0]
    more = f" (and {len(shape) - 1} more)" if len(shape) > 1 else ""
    raise SetdownError(
        f"this is not a routine: {first.path}: {first.problem}{more}",
        source=source,
        line=_find_line(first.path, lines),
        hint="setdown check lists everything that is wrong with it",
    )


def _read_sound(text: str, document: Any) -> Routine | None:
    """The routine, when the model takes the text at its strictest; it then has nothing left for the schema to refuse.

    The schema alone takes seconds for a long class. ``None`` says nothing: the schema is to be asked.
    """
    try:
        routine = Routine.model_validate_json(text, strict=True)
    except ValueError:
        return None
    # The one thing that the model takes even so: a number that is written as text.
    loads = [
        one["load"]
        for s in document["sections"]
        for g in s.get("groups", ())
        for one in g.get("sets", ())
        if one.get("load")
    ]
    loads += [load for part in document.get("equipment", ()) for load in part.get("loads", ())]
    return None if any(isinstance(load.get("value"), str) for load in loads) else routine


def find_transcript(routine_file: Path, routine: Routine) -> Path | None:
    """The transcript beside the routine file, when it has the recorded name and exactly the recorded bytes."""
    beside = routine_file.parent / Path(routine.source.name).name
    if not beside.is_file():
        return None
    return beside if hashlib.sha256(beside.read_bytes()).hexdigest() == routine.source.sha256 else None


def _find_line(path: str, lines: dict[str, int]) -> int | None:
    """The line of a path, or of the nearest part around it that the file holds."""
    while path not in lines and path != "$":
        path = path[: max(path.rfind("."), path.rfind("["), 1)]
    return lines.get(path)
