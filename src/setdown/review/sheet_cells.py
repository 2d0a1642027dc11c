"""A set sheet as spreadsheets save it: rows of cells with the place of each in the file."""

from __future__ import annotations

import csv
import io
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from setdown.errors import SetdownError
from setdown.sheet import COLUMNS, NEEDED, unescape_cell

DELIMITERS = ",;\t"
ENCODINGS = ("utf-8-sig", "cp1252")  # what spreadsheets save as "CSV UTF-8" and as "CSV"
NO_BREAK = dict.fromkeys(map(ord, "\u00a0\u202f\u2007"), " ")


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One row: ``number`` is the one that a spreadsheet shows beside it, ``line`` where it begins in the file, both
    from 1; ``cells`` by name of the column, trimmed.
    """

    number: int
    line: int
    cells: dict[str, str]


@dataclass(frozen=True, slots=True)
class EditedSheet:
    """The rows of a sheet that hold anything, and the columns it has, in its own order."""

    source: str
    columns: tuple[str, ...]
    rows: tuple[SheetRow, ...]

    def locate(self, row: SheetRow, column: str) -> str:
        """``row 7, column load (K)``: the row and the letter as a spreadsheet shows them."""
        letter = name_column(self.columns.index(column)) if column in self.columns else ""
        return f"row {row.number}, column {column}" + (f" ({letter})" if letter else "")


def read_edited_sheet(path: Path) -> EditedSheet:
    """A sheet whatever wrote it: byte order mark, comma, semicolon or tab, any line ends, columns in any order.

    Raises:
        SetdownError: not a set sheet, a column twice or unknown, a row longer than the heading; with the line.
        OSError: the file cannot be read.
    """
    if path.is_dir():
        raise SetdownError("this is a folder", source=str(path), expected="a set sheet (CSV)")
    return parse_edited_sheet(path.read_bytes(), str(path))


def parse_edited_sheet(data: bytes, source: str) -> EditedSheet:
    """As ``read_edited_sheet``, from the bytes of the file."""
    text = _decode(data, source)
    first, rest = [*text.split("\n", 1), ""][:2]
    if first.strip().lower().startswith("sep="):  # a line that tells a spreadsheet what separates cells
        delimiter, text, offset = first.strip(" \r")[4:5] or ",", rest, 1
    else:
        heading = first.strip()
        delimiter, offset = max(DELIMITERS, key=heading.count), 0
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    try:
        columns = _read_heading(next(reader, []), source)
        rows = []
        line = reader.line_num + offset + 1
        for number, cells in enumerate(reader, 2):
            if any(cell.strip() for cell in cells):
                rows.append(_read_row(cells, columns, source, number, line))
            line = reader.line_num + offset + 1
    except csv.Error as error:
        raise SetdownError(f"broken CSV: {error}", source=source, line=reader.line_num + offset) from error
    return EditedSheet(source, tuple(c for c in columns if c), tuple(rows))


def name_column(position: int) -> str:
    """0 -> ``A``, 25 -> ``Z``, 26 -> ``AA``."""
    letters = ""
    position += 1
    while position:
        position, rest = divmod(position - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def _decode(data: bytes, source: str) -> str:
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data.decode("utf-16")
    if b"\0" in data:
        raise SetdownError("this is not text", source=source, expected="a set sheet (CSV)")
    for encoding in ENCODINGS:
        try:
            return data.decode(encoding)
        except UnicodeDecodeError:
            continue
    return data.decode("latin-1")


def _read_heading(cells: list[str], source: str) -> list[str]:
    columns = [unescape_cell(cell.strip()).strip().lower() for cell in cells]
    while columns and not columns[-1]:
        columns.pop()
    unknown = [c for c in columns if c not in COLUMNS]
    lacking = [c for c in NEEDED if c not in columns and c != "section" and c != "group"]
    twice = [c for c, n in Counter(columns).items() if n > 1]
    if lacking:
        problem = f"this is not a set sheet: no column {', '.join(lacking)}"
        raise SetdownError(problem, source=source, line=1, expected=f"the columns {', '.join(COLUMNS)}")
    if unknown or twice:
        problem = f"column {unknown[0]!r} is not one of a set sheet" if unknown else f"column {twice[0]!r} stands twice"
        raise SetdownError(problem, source=source, line=1, expected=f"the columns {', '.join(COLUMNS)}")
    return columns


def _read_row(cells: list[str], columns: list[str], source: str, number: int, line: int) -> SheetRow:
    if any(cell.strip() for cell in cells[len(columns) :]):
        raise SetdownError("a row has more cells than the heading", source=source, line=line)
    read = {column: _clean(cell) for column, cell in zip(columns, cells, strict=False)}
    return SheetRow(number, line, dict.fromkeys(columns, "") | read)


def _clean(cell: str) -> str:
    return unescape_cell(" ".join(cell.translate(NO_BREAK).split()))
