"""Putting classes into the catalogue and taking them out. Callers hold a transaction (``store.write``)."""

from __future__ import annotations

import sqlite3
import struct
from collections.abc import Sequence
from typing import cast

from setdown.catalogue.describe import hash_movement, unpack
from setdown.catalogue.entry import ClassEntry, MovementRow

PAIR = struct.Struct("<Hf")  # one part of a profile: number of the dimension, sets
_CLASS = (
    "location", "transcript", "routine", "fingerprint", "lexicon", "version", "status", "title", "instructor", "date",
    "media", "language", "duration_ms", "sets", "warm_up", "cool_down", "queries", "kit_need_id",
)  # fmt: skip
_INSERT_CLASS = f"INSERT INTO class (id, {', '.join(_CLASS)}) VALUES (?{', ?' * len(_CLASS)})"
_INSERT_SET = f"INSERT INTO performed VALUES (?, ?{', ?' * 19})"


def put_class(connection: sqlite3.Connection, entry: ClassEntry) -> str:
    """Put a class in, or in the place of what is there: ``added``, ``replaced``, or ``unchanged`` if it is the same."""
    there = connection.execute(
        "SELECT id, fingerprint, lexicon, version FROM class WHERE location = ?", (entry.location,)
    ).fetchone()
    if there is not None:
        if tuple(there[1:]) == (entry.fingerprint, entry.lexicon, entry.version):
            return "unchanged"  # another process was quicker
        remove_class(connection, there[0])
    class_id = _insert_class(connection, entry, there[0] if there else None)
    movements = [put_movement(connection, row) for row in entry.movements]
    connection.executemany(
        _INSERT_SET, [(class_id, at, movements[one.movement], *one[1:]) for at, one in enumerate(entry.sets)]
    )
    connection.executemany(
        "INSERT INTO class_movement VALUES (?, ?, ?, ?)",
        [(movements[tally.movement], class_id, tally.sets, tally.counted_halves) for tally in entry.tallies],
    )
    connection.execute("INSERT INTO profile VALUES (?, ?)", (class_id, _pack_profile(connection, entry.profile)))
    connection.execute("INSERT INTO document VALUES (?, ?)", (class_id, entry.document))
    connection.execute("INSERT INTO spoken VALUES (?, ?)", (class_id, entry.captions))
    connection.execute("INSERT INTO words (rowid, text) VALUES (?, ?)", (class_id, join_captions(entry.captions)))
    return "replaced" if there else "added"


def remove_class(connection: sqlite3.Connection, class_id: int) -> None:
    """Take a class out with everything that belongs to it."""
    row = connection.execute("SELECT captions FROM spoken WHERE class_id = ?", (class_id,)).fetchone()
    if row is not None:  # an index without content must be told what it forgets
        connection.execute(
            "INSERT INTO words (words, rowid, text) VALUES ('delete', ?, ?)", (class_id, join_captions(row[0]))
        )
    connection.execute("DELETE FROM class WHERE id = ?", (class_id,))


def remove_unused(connection: sqlite3.Connection) -> None:
    """Forget definitions of movements and needs of kit that no class has any more."""
    connection.execute("DELETE FROM movement WHERE id NOT IN (SELECT movement_id FROM class_movement)")
    connection.execute("DELETE FROM kit_need WHERE id NOT IN (SELECT kit_need_id FROM class)")


def put_movement(connection: sqlite3.Connection, row: MovementRow) -> int:
    """The id of this definition of a movement, which is put in when it is new."""
    definition = hash_movement(row)
    there = connection.execute(
        "SELECT id FROM movement WHERE key = ? AND definition = ?", (row.key, definition)
    ).fetchone()
    if there is not None:
        return int(there[0])
    cursor = connection.execute(
        "INSERT INTO movement (key, definition, name, family, pattern, known) VALUES (?, ?, ?, ?, ?, ?)",
        (row.key, definition, row.name, row.family, row.pattern, row.known),
    )
    number = cast(int, cursor.lastrowid)
    connection.executemany(
        "INSERT INTO movement_muscle VALUES (?, ?, ?, ?)", [(number, *muscle) for muscle in row.muscles]
    )
    return number


def join_captions(captions: bytes) -> str:
    """The speech of a class as one text."""
    return " ".join(text for _, text in cast("list[tuple[int, str]]", unpack(captions)))


def _insert_class(connection: sqlite3.Connection, entry: ClassEntry, class_id: int | None) -> int:
    connection.execute("INSERT OR IGNORE INTO kit_need (needs) VALUES (?)", (entry.kit_need,))
    (need,) = connection.execute("SELECT id FROM kit_need WHERE needs = ?", (entry.kit_need,)).fetchone()
    own = {"sets": len(entry.sets), "kit_need_id": need}
    values = [own[name] if name in own else getattr(entry, name) for name in _CLASS]
    return cast(int, connection.execute(_INSERT_CLASS, (class_id, *values)).lastrowid)


def _pack_profile(connection: sqlite3.Connection, profile: Sequence[tuple[str, float]]) -> bytes:
    parts = []
    for name, sets in profile:
        there = connection.execute("SELECT id FROM dimension WHERE name = ?", (name,)).fetchone()
        if there is None:
            there = (connection.execute("INSERT INTO dimension (name) VALUES (?)", (name,)).lastrowid,)
        parts.append(PAIR.pack(there[0], sets))
    return b"".join(parts)
