"""Is a catalogue sound? What SQLite can tell, and what must hold between its tables."""

from __future__ import annotations

import sqlite3

import numpy as np

from setdown.catalogue.migrations import MIGRATIONS, list_applied
from setdown.catalogue.together import KINDS, collect_profiles, read_profiles
from setdown.catalogue.write import join_captions

SHOWN = 20  # problems of one kind
_SETS = "SELECT movement_id, count(*) FROM performed WHERE class_id = class.id GROUP BY movement_id"
_TALLIES = "SELECT movement_id, sets FROM class_movement WHERE class_id = class.id"
_OTHER_MOVEMENTS = (
    f"SELECT location FROM class WHERE EXISTS ({_SETS} EXCEPT {_TALLIES}) OR EXISTS ({_TALLIES} EXCEPT {_SETS})"
)
# Each selects (what is wrong); no row when all is well.
RULES: tuple[tuple[str, str], ...] = (
    (
        "a class has another number of sets than it says",
        "SELECT location FROM class WHERE sets <> (SELECT count(*) FROM performed WHERE class_id = class.id)",
    ),
    (
        "a class counts other movements than its sets have",
        _OTHER_MOVEMENTS,
    ),
    ("a class has no routine", "SELECT location FROM class WHERE id NOT IN (SELECT class_id FROM document)"),
    ("a class has no speech", "SELECT location FROM class WHERE id NOT IN (SELECT class_id FROM spoken)"),
    ("a class has no profile", "SELECT location FROM class WHERE id NOT IN (SELECT class_id FROM profile)"),
    ("a class is not in the index of words", "SELECT location FROM class WHERE id NOT IN (SELECT rowid FROM words)"),
    (
        "the index of words has a class too many",
        "SELECT rowid FROM words WHERE rowid NOT IN (SELECT id FROM class)",
    ),
    ("a set ends before it starts", "SELECT class_id || ':' || position FROM performed WHERE end_ms < start_ms"),
)


def check_catalogue(connection: sqlite3.Connection) -> list[str]:
    """What is wrong, each in a sentence; nothing when the catalogue is sound.

    A damaged file can be so broken that SQLite gives up on the way: that, too, is told as a problem.
    """
    problems: list[str] = []
    steps = (_check_file, _check_references, _check_migrations, _check_rules, _check_together, _check_index)
    for step in steps:
        try:
            problems += step(connection)
        except sqlite3.DatabaseError as error:
            problems.append(f"the file is damaged: {error}")
    return problems


def _check_file(connection: sqlite3.Connection) -> list[str]:
    told = [text for (text,) in connection.execute(f"PRAGMA integrity_check({SHOWN})")]
    return [] if told == ["ok"] else [f"the file is damaged: {text}" for text in told]


def _check_references(connection: sqlite3.Connection) -> list[str]:
    rows = connection.execute("PRAGMA foreign_key_check").fetchmany(SHOWN)
    return [f"a row of {table} belongs to nothing in {parent}" for table, _, parent, _ in rows]


def _check_migrations(connection: sqlite3.Connection) -> list[str]:
    applied = list_applied(connection)
    wanted = [name for name, _ in MIGRATIONS]
    return [] if applied == wanted else [f"its tables are {', '.join(applied)}, not {', '.join(wanted)}"]


def _check_rules(connection: sqlite3.Connection) -> list[str]:
    return [
        f"{problem}: {what}"
        for problem, sql in RULES
        for (what,) in connection.execute(f"SELECT * FROM ({sql}) LIMIT {SHOWN}")
    ]


def _check_together(connection: sqlite3.Connection) -> list[str]:
    """The copy of all profiles, where there is one, is what the classes have."""
    kept, own = read_profiles(connection), collect_profiles(connection)
    same = all(np.array_equal(getattr(kept, name), getattr(own, name)) for name in KINDS)
    return [] if same else ["the copy of what all classes train is not what they train"]


def _check_index(connection: sqlite3.Connection) -> list[str]:
    """The full-text index by its own check, and whether some class is found by words that it says."""
    try:
        connection.execute("INSERT INTO words (words) VALUES ('integrity-check')")
    except sqlite3.DatabaseError as error:
        return [f"the index of words is damaged: {error}"]
    problems = []
    for class_id, location, captions in connection.execute(
        "SELECT class.id, location, captions FROM class JOIN spoken ON class_id = class.id ORDER BY class.id LIMIT 200"
    ):
        said = [word for word in join_captions(captions).split() if word.isalnum() and word.isascii()][:3]
        if (
            said
            and not connection.execute(
                "SELECT 1 FROM words WHERE words MATCH ? AND rowid = ?", (" ".join(f'"{w}"' for w in said), class_id)
            ).fetchone()
        ):
            problems.append(f"a class is not found by what it says: {location}")
    return problems
