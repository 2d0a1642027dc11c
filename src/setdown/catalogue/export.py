"""The catalogue as three tables for a notebook: classes, sets, movements. As CSV, or as Parquet with the extra.

Columns are the same in both forms; ``TABLES`` has them with their types. Times are seconds. ``class`` is the location
of a class, which is unique; ``movement`` is the lexicon's id, or the name in lower case of a movement it does not know.
Lists in a cell are joined by ``;``. In CSV no cell can start a formula; in Parquet texts stay as they are.
"""

from __future__ import annotations

import csv
import importlib
import sqlite3
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from setdown.catalogue.needs import list_kit, read_needs
from setdown.catalogue.store import read
from setdown.errors import SetdownError
from setdown.files import Outcome, put_file
from setdown.sheet import escape_cell, format_number

Kind = Literal["text", "whole", "number", "yes"]
Form = Literal["csv", "parquet"]
FORMS: tuple[Form, ...] = ("csv", "parquet")
ROWS = 20_000  # of a table that are held at a time


@dataclass(frozen=True, slots=True)
class Table:
    """One table: its name, its columns with their kinds, and the SQL that gives its rows in order."""

    name: str
    columns: tuple[tuple[str, Kind], ...]
    sql: str


TABLES: tuple[Table, ...] = (
    Table(
        "classes",
        (
            ("class", "text"),
            ("title", "text"),
            ("instructor", "text"),
            ("date", "text"),
            ("status", "text"),
            ("language", "text"),
            ("duration_s", "number"),
            ("sets", "whole"),
            ("warm_up", "yes"),
            ("cool_down", "yes"),
            ("open_queries", "whole"),
            ("kit", "text"),
            ("media", "text"),
            ("transcript", "text"),
            ("routine", "text"),
            ("lexicon", "text"),
            ("version", "text"),
        ),
        "SELECT location, title, instructor, date, status, language, duration_ms / 1000.0, sets, warm_up, cool_down, "
        "queries, kit_need_id, media, transcript, routine, lexicon, version FROM class ORDER BY location",
    ),
    Table(
        "sets",
        (
            ("class", "text"),
            ("number", "whole"),
            ("start_s", "number"),
            ("end_s", "number"),
            ("section", "text"),
            ("group", "whole"),
            ("arrangement", "text"),
            ("round", "whole"),
            ("movement", "text"),
            ("name", "text"),
            ("side", "text"),
            ("reps_lo", "whole"),
            ("reps_hi", "whole"),
            ("to_failure", "yes"),
            ("work_s", "number"),
            ("load", "number"),
            ("unit", "text"),
            ("basis", "text"),
            ("rel", "text"),
            ("load_kg", "number"),
            ("finisher", "text"),
            ("confidence", "number"),
        ),
        "SELECT location, position + 1, start_ms / 1000.0, end_ms / 1000.0, section, group_number, arrangement, round, "
        "key, name, side, reps_lo, reps_hi, to_failure, work_s, load, unit, basis, rel, load_kg, finisher, confidence "
        "FROM class JOIN performed ON class_id = class.id JOIN movement ON movement.id = movement_id "
        "ORDER BY location, position",
    ),
    Table(
        "movements",
        (
            ("movement", "text"),
            ("name", "text"),
            ("family", "text"),
            ("pattern", "text"),
            ("first", "text"),
            ("helping", "text"),
            ("known", "yes"),
            ("classes", "whole"),
            ("sets", "whole"),
            ("last", "text"),
        ),
        "SELECT key, name, family, pattern, "
        "(SELECT group_concat(muscle, ';') FROM (SELECT muscle FROM movement_muscle WHERE movement_id = movement.id "
        "AND grouped = 0 AND first = 1 ORDER BY muscle)), "
        "(SELECT group_concat(muscle, ';') FROM (SELECT muscle FROM movement_muscle WHERE movement_id = movement.id "
        "AND grouped = 0 AND first = 0 ORDER BY muscle)), "
        "known, count(*), SUM(class_movement.sets), max(date) FROM movement "
        "JOIN class_movement ON movement_id = movement.id JOIN class ON class.id = class_id "
        "GROUP BY movement.id ORDER BY key, definition",
    ),
)


def export_tables(
    connection: sqlite3.Connection, folder: Path, form: Form, *, replace: bool = False
) -> list[tuple[Path, Outcome]]:
    """Write the tables into a folder, which is made; the files and what became of each.

    Raises:
        SetdownError: a file is there and differs and ``replace`` is not set, or pyarrow is not installed.
        OSError: a file cannot be written.
    """
    arrow: Any = None
    if form == "parquet":
        try:
            arrow = importlib.import_module("pyarrow"), importlib.import_module("pyarrow.parquet")
        except ImportError as error:
            hint = 'pip install "setdown[parquet]" brings it; CSV works without'
            raise SetdownError("Parquet needs pyarrow, which is not installed", hint=hint) from error
    if folder.exists() and not folder.is_dir():
        raise SetdownError("this is a file", source=str(folder), expected="a folder")
    folder.mkdir(parents=True, exist_ok=True)
    done = []
    with read(connection):  # one state of the catalogue for all three
        for table in TABLES:
            target = folder / f"{table.name}.{form}"
            with tempfile.TemporaryDirectory(prefix=".setdown-", dir=folder) as aside:
                made = Path(aside) / target.name
                if form == "csv":
                    _write_csv(connection, table, made)
                else:
                    _write_parquet(connection, table, made, *arrow)
                done.append((target, put_file(made, target, replace=replace)))
    return done


def read_table(connection: sqlite3.Connection, table: Table) -> Iterator[tuple[Any, ...]]:
    """The rows of a table, as Python values of the kinds of its columns."""
    needs = read_needs(connection)
    kinds = [kind for _, kind in table.columns]
    kit = next((at for at, (name, _) in enumerate(table.columns) if name == "kit"), None)
    for row in connection.execute(table.sql):
        values = list(row)
        if kit is not None:
            values[kit] = ";".join(list_kit(needs[values[kit]]))
        yield tuple(_convert(value, kind) for value, kind in zip(values, kinds, strict=True))


def _convert(value: Any, kind: Kind) -> Any:
    if kind == "text":
        return "" if value is None else str(value)
    if kind == "yes":
        return bool(value)
    return value


def _write_csv(connection: sqlite3.Connection, table: Table, path: Path) -> None:
    with path.open("w", encoding="utf-8", errors="backslashreplace", newline="") as stream:
        writer = csv.writer(stream)
        writer.writerow([name for name, _ in table.columns])
        writer.writerows([_write_cell(value) for value in row] for row in read_table(connection, table))


def _write_cell(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return format_number(value)
    return escape_cell(value or "")


def _write_parquet(connection: sqlite3.Connection, table: Table, path: Path, arrow: Any, parquet: Any) -> None:
    types = {"text": arrow.string(), "whole": arrow.int64(), "number": arrow.float64(), "yes": arrow.bool_()}
    schema = arrow.schema([(name, types[kind]) for name, kind in table.columns])
    with parquet.ParquetWriter(path, schema, compression="zstd") as writer:
        for rows in _cut(read_table(connection, table), ROWS):
            columns = [
                arrow.array([_tidy(row[at]) for row in rows], types[kind]) for at, (_, kind) in enumerate(table.columns)
            ]
            writer.write_table(arrow.Table.from_arrays(columns, schema=schema))


def _tidy(value: Any) -> Any:
    """A lone surrogate, which JSON may hold, is no UTF-8."""
    return value.encode("utf-8", "backslashreplace").decode() if isinstance(value, str) else value


def _cut(rows: Iterator[tuple[Any, ...]], size: int) -> Iterator[Sequence[tuple[Any, ...]]]:
    piece: list[tuple[Any, ...]] = []
    for row in rows:
        piece.append(row)
        if len(piece) == size:
            yield piece
            piece = []
    if piece:
        yield piece
