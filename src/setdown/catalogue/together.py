"""What all classes train, as arrays: each class has a row of its own, and a copy of all of them lies in one row.

The copy is made at the end of an ``add``, a removal or a renewal, so that likeness need not read a row for each class.
Triggers throw it away when any profile changes; where there is none, the rows are read: slower, the same.
"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

PARTS = np.dtype([("dimension", "<u2"), ("sets", "<f4")])  # as write.PAIR packs them
_READ = "SELECT ids, sizes, lengths, parts FROM profiles_together"


@dataclass(frozen=True, slots=True)
class Profiles:
    """``ids`` of the classes, going up; of each how many ``parts`` it has and the Euclidean ``lengths`` of its sets.

    ``parts`` are those of all classes one after the other, in structured elements ``PARTS``.
    """

    ids: NDArray[np.int64]
    sizes: NDArray[np.uint16]
    lengths: NDArray[np.float64]
    parts: NDArray[np.void]


def read_profiles(connection: sqlite3.Connection) -> Profiles:
    """The profiles of all classes."""
    row = connection.execute(_READ).fetchone()
    if row is None:
        return collect_profiles(connection)
    ids, sizes, lengths, parts = row
    return Profiles(
        np.frombuffer(ids, dtype="<i8"),
        np.frombuffer(sizes, dtype="<u2"),
        np.frombuffer(lengths, dtype="<f8"),
        np.frombuffer(parts, dtype=PARTS),
    )


def collect_profiles(connection: sqlite3.Connection) -> Profiles:
    """The same from the rows of the classes."""
    rows = connection.execute("SELECT class_id, vector FROM profile ORDER BY class_id").fetchall()
    ids = np.array([id for id, _ in rows], dtype="<i8")
    sizes = np.array([len(vector) // PARTS.itemsize for _, vector in rows], dtype="<u2")
    parts = np.frombuffer(b"".join(vector for _, vector in rows), dtype=PARTS)
    squares = parts["sets"].astype(np.float64) ** 2
    lengths = np.sqrt(np.bincount(np.repeat(np.arange(len(ids)), sizes), squares, len(ids)))
    return Profiles(ids, sizes, lengths.astype("<f8"), parts)


def keep_together(connection: sqlite3.Connection) -> None:
    """Make the copy, if there is none. The caller holds a transaction."""
    if connection.execute("SELECT 1 FROM profiles_together").fetchone() is None:
        made = collect_profiles(connection)
        blobs = (made.ids.tobytes(), made.sizes.tobytes(), made.lengths.tobytes(), made.parts.tobytes())
        connection.execute("INSERT INTO profiles_together VALUES (1, ?, ?, ?, ?)", blobs)
