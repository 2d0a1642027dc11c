"""What all classes train, as arrays: each class has a row of its own, and a copy of all of them lies in one row.

The copy is made at the end of an ``add``, a removal or a renewal, so that likeness need not read a row for each class.
Triggers throw it away when any profile changes; where there is none, the rows are read: slower, the same.
"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

PARTS = np.dtype([("dimension", "<u2"), ("sets", "<f4")])  # as write.PAIR packs them
KINDS = {"ids": "<i8", "sizes": "<u2", "lengths": "<f8", "dimensions": "<u2", "sets": "<f4"}


@dataclass(frozen=True, slots=True)
class Profiles:
    """``ids`` of the classes, going up; of each how many parts it has (``sizes``) and the Euclidean ``lengths``.

    ``dimensions`` and ``sets`` are the parts of all classes, one class after the other.
    """

    ids: NDArray[np.int64]
    sizes: NDArray[np.uint16]
    lengths: NDArray[np.float64]
    dimensions: NDArray[np.uint16]
    sets: NDArray[np.float32]

    def sum_parts(self, values: NDArray[np.float64]) -> NDArray[np.float64]:
        """A value for each part -> their sum for each class."""
        sums = np.zeros(len(self.ids))
        some = np.flatnonzero(self.sizes)
        if len(some):
            starts = np.cumsum(self.sizes[some], dtype=np.int64) - self.sizes[some]
            sums[some] = np.add.reduceat(values, starts)
        return sums


def read_profiles(connection: sqlite3.Connection) -> Profiles:
    """The profiles of all classes."""
    row = connection.execute(f"SELECT {', '.join(KINDS)} FROM profiles_together").fetchone()
    if row is None:
        return collect_profiles(connection)
    columns: dict[str, Any] = {
        name: np.frombuffer(data, dtype=kind) for (name, kind), data in zip(KINDS.items(), row, strict=True)
    }
    return Profiles(**columns)


def collect_profiles(connection: sqlite3.Connection) -> Profiles:
    """The same from the rows of the classes."""
    rows = connection.execute("SELECT class_id, vector FROM profile ORDER BY class_id").fetchall()
    ids = np.array([id for id, _ in rows], dtype="<i8")
    sizes = np.array([len(vector) // PARTS.itemsize for _, vector in rows], dtype="<u2")
    parts = np.frombuffer(b"".join(vector for _, vector in rows), dtype=PARTS)
    dimensions, sets = (np.ascontiguousarray(parts[name]) for name in ("dimension", "sets"))
    made = Profiles(ids, sizes, np.zeros(len(ids), dtype="<f8"), dimensions, sets)
    return replace(made, lengths=np.sqrt(made.sum_parts(sets.astype(np.float64) ** 2)))


def keep_together(connection: sqlite3.Connection) -> None:
    """Make the copy, if there is none. The caller holds a transaction."""
    if connection.execute("SELECT 1 FROM profiles_together").fetchone() is None:
        made = collect_profiles(connection)
        blobs = [getattr(made, name).tobytes() for name in KINDS]
        connection.execute(
            f"INSERT INTO profiles_together (id, {', '.join(KINDS)}) VALUES (1{', ?' * len(KINDS)})", blobs
        )
