"""The set sheet: a routine as a table, one row a set, to be opened in a spreadsheet and scored.

Columns (``COLUMNS``), every cell text:

- ``start``, ``end``: seconds with one decimal; ``section``: its kind; ``group``: counts up through the class;
  ``arrangement``; ``round``; ``exercise``: its name; ``side``: left, right, each or empty;
- ``reps``: an integer, ``8-10`` or ``max``; ``work_s``: seconds; ``load``: a number; ``unit``, ``basis``, ``rel``;
  ``finisher``: its kind;
- ``confidence``: how likely nothing in the row has to be corrected, two decimals (where that is not known, the least
  confidence of its values); ``queries``: codes of the row's open
  queries, joined by ``;``.

The CSV form is RFC 4180 (commas, CRLF, UTF-8). No cell can start a formula in a spreadsheet.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Mapping
from decimal import Decimal
from pathlib import Path

from setdown.errors import SetdownError
from setdown.files import Outcome, read_text, write_file
from setdown.model.routine import Group, Routine, Section, Set

COLUMNS = (
    "start",
    "end",
    "section",
    "group",
    "arrangement",
    "round",
    "exercise",
    "side",
    "reps",
    "work_s",
    "load",
    "unit",
    "basis",
    "rel",
    "finisher",
    "confidence",
    "queries",
)
NEEDED = ("start", "end", "section", "group", "exercise")  # without these a row is of no use

# Characters that make a spreadsheet read a cell as a formula (OWASP, "CSV Injection": = + - @ tab CR LF and the
# full-width forms). Spaces before them are taken off by some spreadsheets.
FORMULA = re.compile(r"\s*[=+\-@＝＋－＠]|[\t\r\n]")
PLAIN_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?")
CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]")


def routine_to_rows(routine: Routine) -> list[dict[str, str]]:
    """One row a set, in the order of the document; cells are not yet escaped for a spreadsheet."""
    codes: dict[str, list[str]] = {}
    for query in routine.queries:
        if query.state == "open" and query.code not in codes.setdefault(query.set, []):
            codes[query.set].append(query.code)
    numbers = {id(group): n for n, group in enumerate((g for s in routine.sections for g in s.groups), 1)}
    return [
        _describe_set(section, group, numbers[id(group)], one, codes.get(one.id, []))
        for section, group, one in routine.iter_sets()
    ]


def format_sheet_csv(rows: Iterable[Mapping[str, str]]) -> str:
    """The rows as CSV text; cells that a spreadsheet would take for a formula get a leading apostrophe."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(COLUMNS)
    writer.writerows([escape_cell(row[column]) for column in COLUMNS] for row in rows)
    return text.getvalue()


def write_sheet_csv(routine: Routine, path: Path, *, replace: bool = False) -> Outcome:
    """Write the routine's sheet. Raises what ``setdown.files.write_file`` raises."""
    return write_file(path, format_sheet_csv(routine_to_rows(routine)).encode("utf-8"), replace=replace)


def read_sheet_csv(path: Path) -> list[dict[str, str]]:
    """The rows of a sheet, empty cells for columns it does not have; an escaping apostrophe is taken off.

    Raises:
        SetdownError: not a set sheet, with the line to blame.
        OSError: the file cannot be read.
    """
    reader = csv.DictReader(io.StringIO(read_text(path), newline=""))
    rows = []
    try:
        lacking = [column for column in NEEDED if column not in (reader.fieldnames or ())]
        if lacking:
            expected = "a heading with " + ", ".join(NEEDED)
            problem = f"no column {', '.join(lacking)}"
            raise SetdownError(f"this is not a set sheet: {problem}", source=str(path), line=1, expected=expected)
        for row in reader:
            rows.append(_read_row(row, str(path), reader.line_num))
    except csv.Error as error:
        raise SetdownError(f"broken CSV: {error}", source=str(path), line=reader.line_num) from error
    return rows


def escape_cell(text: str) -> str:
    """The cell as it is safe in a spreadsheet: ``=1+1`` -> ``'=1+1``; plain numbers stay; control characters go."""
    text = CONTROL.sub("\ufffd", text)
    return "'" + text if FORMULA.match(text) and not PLAIN_NUMBER.fullmatch(text) else text


def unescape_cell(text: str) -> str:
    """Undo ``escape_cell`` for what it put before a formula character."""
    return text[1:] if text.startswith("'") and FORMULA.match(text[1:]) else text


def format_number(value: float | Decimal | None) -> str:
    """``12.0`` -> ``12``, ``2.50`` -> ``2.5``, at most three decimals, never an exponent; empty for ``None``."""
    if value is None:
        return ""
    text = f"{Decimal(str(value)):.3f}"
    return text.rstrip("0").rstrip(".")


def _describe_set(section: Section, group: Group, number: int, one: Set, codes: list[str]) -> dict[str, str]:
    load = one.load
    return {
        "start": f"{one.start:.1f}",
        "end": f"{one.end:.1f}",
        "section": section.kind,
        "group": str(number),
        "arrangement": group.arrangement,
        "round": str(one.round),
        "exercise": one.exercise.name,
        "side": one.side or "",
        "reps": str(one.reps) if one.reps else "",
        "work_s": format_number(one.work_s),
        "load": format_number(load.value) if load else "",
        "unit": (load and load.unit) or "",
        "basis": (load and load.basis) or "",
        "rel": (load and load.rel) or "",
        "finisher": one.finisher.kind if one.finisher else "",
        "confidence": f"{one.confidence.get('row', min(one.confidence.values())):.2f}" if one.confidence else "",
        "queries": ";".join(codes),
    }


def _read_row(row: Mapping[str | None, object], source: str, line: int) -> dict[str, str]:
    if None in row:
        raise SetdownError("a row has more cells than the heading", source=source, line=line)
    cells = {str(column): unescape_cell(str(cell or "")) for column, cell in row.items()}
    for column in ("start", "end"):
        if not re.fullmatch(r"\s*(\d+:){0,2}\d+(\.\d+)?\s*", cells[column]):
            problem = f"{column} is {cells[column]!r}"
            raise SetdownError(problem, source=source, line=line, expected="seconds (95.5) or a time (1:35)")
    return dict.fromkeys(COLUMNS, "") | cells
