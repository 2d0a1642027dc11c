"""All data of a lexicon in one record, and reading it from a folder."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol, TypeVar

from setdown.errors import SetdownError
from setdown.lexicon.entries import Described, Kit, MisheardRow, Movement, Muscle, Unit
from setdown.lexicon.folder import fingerprint_files
from setdown.lexicon.tables import (
    read_described,
    read_kit,
    read_misheard,
    read_movements,
    read_muscles,
    read_units,
)


@dataclass(frozen=True, slots=True)
class LexiconData:
    """What the files say, unindexed. Of two movements with one name, the one that comes first in ``movements`` has it;
    an entry of ``aliases`` (name -> movement id) goes before any name. ``names_from`` is the fingerprint of the files
    that all names come from, empty when some come from elsewhere."""

    movements: dict[str, Movement]
    muscles: dict[str, Muscle]
    kit: dict[str, Kit]
    units: dict[str, Unit]
    described: tuple[Described, ...]
    misheard: tuple[MisheardRow, ...]
    aliases: dict[str, str]
    fingerprint: str
    names_from: str
    folder: Path


class _HasId(Protocol):
    @property
    def id(self) -> str: ...


_Entry = TypeVar("_Entry", bound=_HasId)
_Record = TypeVar("_Record")


def read_folder(folder: Path) -> LexiconData:
    """The data of one lexicon folder. A table that is not there counts as empty; ``movements/`` must have a file.

    Raises:
        SetdownError: a table cannot be read, has the wrong columns, or an id stands twice.
    """
    files = sorted((folder / "movements").glob("*.csv"))
    if not files:
        raise SetdownError("no movements", source=str(folder), expected="movements/*.csv")
    return LexiconData(
        movements=_by_id(files, read_movements),
        muscles=_by_id([folder / "muscles.csv"], read_muscles),
        kit=_by_id([folder / "kit.csv"], read_kit),
        units=_by_id([folder / "units.csv"], read_units),
        described=tuple(_read_all(sorted((folder / "described").glob("*.csv")), read_described)),
        misheard=tuple(_read_all([folder / "misheard.csv"], read_misheard)),
        aliases={},
        fingerprint=fingerprint_files(folder),
        names_from=fingerprint_files(folder, files),
        folder=folder,
    )


def _read_all(files: Iterable[Path], read: Callable[[Path], Iterator[_Record]]) -> Iterator[_Record]:
    for path in files:
        if path.is_file():
            yield from read(path)


def _by_id(files: Iterable[Path], read: Callable[[Path], Iterator[_Entry]]) -> dict[str, _Entry]:
    found: dict[str, _Entry] = {}
    for path in files:
        if not path.is_file():
            continue
        for entry in read(path):
            if entry.id in found:
                raise SetdownError(f"id {entry.id!r} stands twice", source=str(path), hint="Run 'setdown lexicon lint'")
            found[entry.id] = entry
    return found
