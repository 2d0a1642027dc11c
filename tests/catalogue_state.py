"""All that is in a catalogue, for comparing one with another."""

from __future__ import annotations

import sqlite3
from typing import Any

TABLES = (
    "class",
    "kit_need",
    "movement",
    "movement_muscle",
    "class_movement",
    "performed",
    "profile",
    "dimension",
    "document",
    "spoken",
)


def read_state(connection: sqlite3.Connection) -> dict[str, Any]:
    """Every row of every table, ids and all, and for some words the classes that say them."""
    state: dict[str, Any] = {name: sorted(connection.execute(f"SELECT * FROM {name}")) for name in TABLES}
    for word in ("squat", "breathe", "left", "hold", "mat", "okay"):
        found = connection.execute("SELECT rowid FROM words WHERE words MATCH ? ORDER BY rowid", (word,))
        state[f"said {word}"] = [id for (id,) in found]
    return state
