"""The tables of a catalogue, as migrations: each has a name and is applied once, in one transaction, in this order.

How to change the tables: add a migration at the end. One that has gone out is never edited.

``location`` names a class: the folder and the name that its files share. ``movement`` holds a row for each definition
that a movement has had, so that a class keeps counting as it was counted when the lexicon changes, until it is renewed.
``counted_halves`` are half sets: a set on one side counts one, any other two. ``words`` is an index without content;
the speech itself is in ``spoken``, compressed, with the time of each caption. ``profiles_together`` is a copy of all
profiles in one row, which goes when one of them changes.
"""

from __future__ import annotations

import sqlite3

MIGRATIONS: tuple[tuple[str, str], ...] = (
    (
        "0001-classes-sets-and-words",
        """
        CREATE TABLE kit_need (
            id INTEGER PRIMARY KEY,
            needs TEXT NOT NULL UNIQUE
        );
        CREATE TABLE class (
            id INTEGER PRIMARY KEY,
            location TEXT NOT NULL UNIQUE,
            transcript TEXT NOT NULL,
            routine TEXT NOT NULL,
            fingerprint TEXT NOT NULL,
            lexicon TEXT NOT NULL,
            version TEXT NOT NULL,
            status TEXT NOT NULL,
            title TEXT NOT NULL,
            instructor TEXT NOT NULL,
            date TEXT NOT NULL,
            media TEXT NOT NULL,
            language TEXT NOT NULL,
            duration_ms INTEGER NOT NULL,
            sets INTEGER NOT NULL,
            warm_up INTEGER NOT NULL,
            cool_down INTEGER NOT NULL,
            queries INTEGER NOT NULL,
            kit_need_id INTEGER NOT NULL REFERENCES kit_need (id)
        );
        CREATE INDEX class_by_date ON class (date DESC, location);
        CREATE INDEX class_by_instructor ON class (instructor, date DESC);
        CREATE INDEX class_by_kit ON class (kit_need_id);
        CREATE INDEX class_by_duration ON class (duration_ms);

        CREATE TABLE movement (
            id INTEGER PRIMARY KEY,
            key TEXT NOT NULL,
            definition TEXT NOT NULL,
            name TEXT NOT NULL,
            family TEXT NOT NULL,
            pattern TEXT NOT NULL,
            known INTEGER NOT NULL,
            UNIQUE (key, definition)
        );
        CREATE TABLE movement_muscle (
            movement_id INTEGER NOT NULL REFERENCES movement (id) ON DELETE CASCADE,
            muscle TEXT NOT NULL,
            grouped INTEGER NOT NULL,
            first INTEGER NOT NULL,
            PRIMARY KEY (movement_id, muscle, grouped)
        ) WITHOUT ROWID;

        CREATE TABLE class_movement (
            movement_id INTEGER NOT NULL REFERENCES movement (id),
            class_id INTEGER NOT NULL REFERENCES class (id) ON DELETE CASCADE,
            sets INTEGER NOT NULL,
            counted_halves INTEGER NOT NULL,
            PRIMARY KEY (movement_id, class_id)
        ) WITHOUT ROWID;
        CREATE INDEX class_movement_by_class ON class_movement (class_id);

        CREATE TABLE performed (
            class_id INTEGER NOT NULL REFERENCES class (id) ON DELETE CASCADE,
            position INTEGER NOT NULL,
            movement_id INTEGER NOT NULL REFERENCES movement (id),
            section TEXT NOT NULL,
            arrangement TEXT NOT NULL,
            group_number INTEGER NOT NULL,
            round INTEGER NOT NULL,
            side TEXT NOT NULL,
            reps_lo INTEGER,
            reps_hi INTEGER,
            to_failure INTEGER NOT NULL,
            work_s REAL,
            load REAL,
            unit TEXT NOT NULL,
            basis TEXT NOT NULL,
            rel TEXT NOT NULL,
            load_kg REAL,
            finisher TEXT NOT NULL,
            start_ms INTEGER NOT NULL,
            end_ms INTEGER NOT NULL,
            confidence REAL,
            PRIMARY KEY (class_id, position)
        ) WITHOUT ROWID;

        CREATE TABLE profile (
            class_id INTEGER PRIMARY KEY REFERENCES class (id) ON DELETE CASCADE,
            vector BLOB NOT NULL
        );
        CREATE TABLE dimension (
            id INTEGER PRIMARY KEY,
            name TEXT NOT NULL UNIQUE
        );
        CREATE TABLE document (
            class_id INTEGER PRIMARY KEY REFERENCES class (id) ON DELETE CASCADE,
            routine BLOB NOT NULL
        );
        CREATE TABLE spoken (
            class_id INTEGER PRIMARY KEY REFERENCES class (id) ON DELETE CASCADE,
            captions BLOB NOT NULL
        );
        CREATE VIRTUAL TABLE words USING fts5 (
            text, content = '', tokenize = "unicode61 remove_diacritics 2"
        );
        """,
    ),
    (
        "0002-renewals",
        """
        CREATE TABLE renewal (
            class_id INTEGER PRIMARY KEY REFERENCES class (id) ON DELETE CASCADE,
            fingerprint TEXT NOT NULL,
            lexicon TEXT NOT NULL,
            version TEXT NOT NULL,
            entry BLOB NOT NULL
        );
        """,
    ),
    (
        "0003-profiles-together",
        """
        CREATE TABLE profiles_together (
            id INTEGER PRIMARY KEY CHECK (id = 1),
            ids BLOB NOT NULL,
            sizes BLOB NOT NULL,
            lengths BLOB NOT NULL,
            dimensions BLOB NOT NULL,
            sets BLOB NOT NULL
        );
        CREATE TRIGGER profile_put AFTER INSERT ON profile BEGIN DELETE FROM profiles_together; END;
        CREATE TRIGGER profile_changed AFTER UPDATE ON profile BEGIN DELETE FROM profiles_together; END;
        CREATE TRIGGER profile_taken AFTER DELETE ON profile BEGIN DELETE FROM profiles_together; END;
        """,
    ),
    (
        "0004-classes-by-name",
        """
        CREATE INDEX class_title ON class (title COLLATE NOCASE);
        CREATE INDEX class_transcript ON class (transcript);
        CREATE INDEX class_routine ON class (routine);
        """,
    ),
)


def list_applied(connection: sqlite3.Connection) -> list[str]:
    """The names of the migrations that a database has, in the order in which it got them; none for a new one."""
    known = connection.execute("SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = 'migration'").fetchone()
    if known is None:
        return []
    return [name for (name,) in connection.execute("SELECT name FROM migration ORDER BY id")]


def apply_migrations(connection: sqlite3.Connection, migrations: tuple[tuple[str, str], ...] = MIGRATIONS) -> list[str]:
    """Apply what is missing, each in one transaction of its own; the names of those applied.

    Of two processes that open a new catalogue at once, the second waits and finds the work done.
    """
    done = []
    for name, script in migrations:
        if name in list_applied(connection):
            continue
        connection.execute("BEGIN IMMEDIATE")
        try:
            if name not in list_applied(connection):
                connection.execute("CREATE TABLE IF NOT EXISTS migration (id INTEGER PRIMARY KEY, name TEXT UNIQUE)")
                for statement in split_statements(script):
                    connection.execute(statement)
                connection.execute("INSERT INTO migration (name) VALUES (?)", (name,))
                done.append(name)
        except BaseException:
            connection.execute("ROLLBACK")
            raise
        connection.execute("COMMIT")
    return done


def split_statements(script: str) -> list[str]:
    """The statements of a script; ``executescript`` would commit before the first."""
    statements, current = [], ""
    for line in script.splitlines(keepends=True):
        current += line
        if current.strip() and sqlite3.complete_statement(current):
            statements.append(current.strip())
            current = ""
    if current.strip():
        statements.append(current.strip())
    return statements
