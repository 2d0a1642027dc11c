"""What the checks of the lexicon share: findings, tables read without stopping at faults, checks of the text itself."""

from __future__ import annotations

import csv
import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Finding:
    """Something wrong or doubtful in the lexicon's data.

    ``file`` is relative to the folder, ``line`` counts from 1, ``column`` is the name of a column or empty for the row.
    """

    file: str
    line: int
    column: str
    problem: str
    hint: str = ""

    def __str__(self) -> str:
        column = f" {self.column}:" if self.column else ""
        hint = f". {self.hint}" if self.hint else ""
        return f"{self.file}:{self.line}:{column} {self.problem}{hint}"


@dataclass(frozen=True, slots=True)
class Row:
    """One row: where it stands, and its cells by column."""

    file: str
    line: int
    cells: dict[str, str]

    def find(self, column: str, problem: str, hint: str = "") -> Finding:
        """A finding about one cell of this row."""
        return Finding(self.file, self.line, column, problem, hint)

    def values(self, column: str) -> list[str]:
        """The values of a cell that holds several, as they stand."""
        return self.cells[column].split(";") if self.cells[column] else []


@dataclass(frozen=True, slots=True)
class Sheet:
    """The well-formed rows of one file."""

    file: str
    rows: list[Row]


def read_sheet(path: Path, file: str, columns: Sequence[str]) -> tuple[Sheet, list[Finding]]:
    """The rows of a table that have the right number of cells, and a finding for whatever else there is."""
    rows: list[Row] = []
    findings: list[Finding] = []
    try:
        with path.open(encoding="utf-8-sig", newline="") as stream:
            reader = csv.reader(stream, strict=True)
            heading = next(reader, [])
            if heading != list(columns):
                findings.append(Finding(file, 1, "", "wrong heading", f"It must be {','.join(columns)}"))
            for cells in reader:
                if len(cells) == len(columns):
                    rows.append(Row(file, reader.line_num, dict(zip(columns, cells, strict=True))))
                elif cells:
                    problem = f"{len(cells)} cells where the heading has {len(columns)}"
                    findings.append(
                        Finding(file, reader.line_num, "", problem, "A cell with a comma in it needs quotes")
                    )
                else:
                    findings.append(Finding(file, reader.line_num, "", "empty line", "Take it out"))
    except (OSError, UnicodeDecodeError, csv.Error) as error:
        findings.append(Finding(file, 1, "", f"not a readable table: {error}", "Save it as UTF-8 CSV"))
    return Sheet(file, rows), findings


def list_rows(sheets: dict[str, list[Sheet]], table: str) -> list[Row]:
    """All rows of a table, over its files."""
    return [row for sheet in sheets[table] for row in sheet.rows]


def check_text(sheets: dict[str, list[Sheet]]) -> Iterator[Finding]:
    """Characters that no one types on purpose, stray blanks, capitals, and empty values in lists."""
    for table, of_table in sheets.items():
        for row in (row for sheet in of_table for row in sheet.rows):
            for column, cell in row.cells.items():
                for character in sorted(
                    {c for c in cell if not c.isascii() and not unicodedata.category(c).startswith("L")}
                ):
                    name = unicodedata.name(character, "a control character").lower()
                    problem = f"odd character {character!r} (U+{ord(character):04X}, {name})"
                    yield row.find(column, problem, "Write it in plain ASCII")
                if cell != cell.strip() or "  " in cell or "\t" in cell or "\n" in cell:
                    yield row.find(column, "stray blanks", "One space between words, none at the ends")
                if cell != cell.lower() and not (table == "muscles" and column == "uberon"):
                    yield row.find(column, "capital letters", "Names are lower case, as captions have them")
                if column not in ("keywords", "si") and ";" in cell:
                    values = cell.split(";")
                    if any(not value.strip() for value in values):
                        yield row.find(column, "an empty value between semicolons", "Take the extra semicolon out")
                    if any(value != value.strip() for value in values):
                        yield row.find(column, "blanks beside a semicolon", "Take them out")


def check_ids(rows: Sequence[Row], shape: str, what: str) -> Iterator[Finding]:
    """Ids that are missing, of the wrong shape, or there twice."""
    first: dict[str, Row] = {}
    for row in rows:
        ident = row.cells["id"]
        if not re.fullmatch(shape, ident):
            yield row.find(
                "id", f"{ident!r} is no id", "Lower-case words joined by hyphens" if ident else "Give it one"
            )
        elif ident in first:
            there = f"{first[ident].file}:{first[ident].line}"
            yield row.find("id", f"{what} {ident!r} stands twice", f"The first is at {there}: merge the two")
        else:
            first[ident] = row


def check_choice(row: Row, column: str, choices: Sequence[str]) -> Iterator[Finding]:
    """A cell that must be one of a few words."""
    if row.cells[column] not in choices:
        problem = f"{row.cells[column]!r} is not known" if row.cells[column] else "empty"
        yield row.find(column, problem, f"One of: {', '.join(choice or '(empty)' for choice in choices)}")


def check_known(row: Row, column: str, known: dict[str, Row] | set[str], what: str) -> Iterator[Finding]:
    """A cell whose values must be ids of another table."""
    for ident in row.values(column):
        if ident not in known:
            yield row.find(column, f"no {what} has the id {ident!r}", f"Use an id of the {what} table, or add it there")
