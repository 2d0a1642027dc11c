"""The CSV tables of the lexicon, read into records.

Reading is strict about what the rest of the code relies on (the columns are there) and leaves everything else to
``lint_lexicon``, which names every doubtful cell instead of stopping at the first.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from setdown.errors import SetdownError
from setdown.lexicon.entries import Described, Kit, MisheardRow, Movement, Muscle, Unit
from setdown.lexicon.normal import normalise_word

MOVEMENT_COLUMNS = (
    "id",
    "name",
    "names",
    "family",
    "pattern",
    "primary",
    "secondary",
    "kit",
    "sided",
    "counted",
    "basis",
)
DESCRIBED_COLUMNS = ("id", "keywords")
COACHED_COLUMNS = ("id", "text")
MISHEARD_COLUMNS = ("heard", "said")
MUSCLE_COLUMNS = ("id", "name", "names", "uberon", "group")
KIT_COLUMNS = ("id", "name", "names", "loaded")
UNIT_COLUMNS = ("id", "name", "names", "kind", "si")


class Row(NamedTuple):
    """One row of a table: the line in the file on which it ends, and its cells in the order of the columns."""

    line: int
    cells: list[str]


def split_cell(cell: str) -> tuple[str, ...]:
    """The values of a cell: separated by semicolons, trimmed, empty ones left out."""
    if not cell:
        return ()
    return tuple([value for part in cell.split(";") if (value := part.strip())])


@lru_cache(maxsize=1 << 12)
def _split_ids(cell: str) -> tuple[str, ...]:
    """``split_cell`` for cells that recur in many rows."""
    return split_cell(cell)


def read_rows(path: Path, columns: tuple[str, ...]) -> Iterator[Row]:
    """The rows below the heading; blank rows are left out.

    Raises:
        SetdownError: the file cannot be read as UTF-8 CSV, its heading or the number of cells in a row is wrong.
    """
    try:
        with path.open(encoding="utf-8-sig", newline="") as stream:
            reader = csv.reader(stream, strict=True)
            heading = tuple(next(reader, ()))
            if heading != columns:
                raise SetdownError("wrong heading", source=str(path), line=1, expected=",".join(columns))
            for cells in reader:
                if not cells:
                    continue
                if len(cells) != len(columns):
                    raise SetdownError(
                        f"row of {len(cells)} cells",
                        source=str(path),
                        line=reader.line_num,
                        expected=f"{len(columns)}: {','.join(columns)}",
                        hint="A cell with a comma in it needs quotes",
                    )
                yield Row(reader.line_num, cells)
    except (OSError, UnicodeDecodeError, csv.Error) as error:
        raise SetdownError(f"not a readable table: {error}", source=str(path)) from error


def split_names(name: str, names: str) -> tuple[str, tuple[str, ...], frozenset[str]]:
    """The usual name, the others, and which of them are weak, from the two cells; the question marks are gone."""
    first = name.strip()
    others = split_cell(names)
    if "?" not in first and "?" not in names:
        return first, others, frozenset()
    weak = [n.rstrip("?").rstrip() for n in (first, *others) if n[-1:] == "?"]
    bare = [n.rstrip("?").rstrip() if n[-1] == "?" else n for n in others]
    return first.rstrip("?").rstrip(), tuple(bare), frozenset(weak)


def read_movements(path: Path) -> Iterator[Movement]:
    """The movements of one file of ``movements/``."""
    for _, (ident, name, names, family, pattern, primary, secondary, kit, sided, counted, basis) in read_rows(
        path, MOVEMENT_COLUMNS
    ):
        first, others, weak = split_names(name, names)
        yield Movement(
            ident,
            first,
            others,
            weak,
            family or ident,
            pattern,
            _split_ids(primary),
            _split_ids(secondary),
            _split_ids(kit),
            sided or "both",
            _split_ids(counted) or ("reps",),
            basis,
        )


def read_muscles(path: Path) -> Iterator[Muscle]:
    """The rows of ``muscles.csv``."""
    for _, (ident, name, names, uberon, group) in read_rows(path, MUSCLE_COLUMNS):
        yield Muscle(ident, *split_names(name, names), uberon, group)


def read_kit(path: Path) -> Iterator[Kit]:
    """The rows of ``kit.csv``."""
    for _, (ident, name, names, loaded) in read_rows(path, KIT_COLUMNS):
        yield Kit(ident, *split_names(name, names), loaded.strip() == "yes")


def read_units(path: Path) -> Iterator[Unit]:
    """The rows of ``units.csv``."""
    for line, (ident, name, names, kind, si) in read_rows(path, UNIT_COLUMNS):
        try:
            factor = float(si)
        except ValueError as error:
            raise SetdownError(f"si {si!r} is not a number", source=str(path), line=line) from error
        yield Unit(ident, *split_names(name, names), kind, factor)


def read_described(path: Path) -> Iterator[Described]:
    """The rows of one file of ``described/``; the words of the slots in normal form."""
    for _, (ident, keywords) in read_rows(path, DESCRIBED_COLUMNS):
        yield Described(ident.strip(), tuple([_read_slot(slot) for slot in keywords.split()]))


@lru_cache(maxsize=1 << 12)
def _read_slot(slot: str) -> frozenset[str]:
    """The words of one slot in normal form; many rows have slots in common."""
    return frozenset([form for choice in slot.split("|") for form in normalise_word(choice)])


def read_misheard(path: Path) -> Iterator[MisheardRow]:
    """The rows of ``misheard.csv``."""
    for _, (heard, said) in read_rows(path, MISHEARD_COLUMNS):
        yield MisheardRow(heard.strip(), said.strip())
