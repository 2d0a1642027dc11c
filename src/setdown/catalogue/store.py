"""The catalogue's file: one SQLite database, opened so that several processes may read and write it at once."""

from __future__ import annotations

import contextlib
import sqlite3
from collections.abc import Iterator
from pathlib import Path

from setdown.catalogue.migrations import MIGRATIONS, apply_migrations, list_applied
from setdown.errors import SetdownError

BUSY_MS = 60_000  # how long one process waits for another's transaction, which takes milliseconds
APPLICATION_ID = 0x53_44_43_54  # 'SDCT': tells the file apart from any other SQLite database
CACHE_KB = 16_384


def open_store(
    path: Path, *, create: bool = False, migrations: tuple[tuple[str, str], ...] = MIGRATIONS
) -> sqlite3.Connection:
    """A connection to the catalogue in autocommit mode, its tables up to date. ``create`` makes a missing one.

    Raises:
        SetdownError: there is no catalogue, the file is no catalogue, it is broken, or it was made by a later version.
        OSError: its folder cannot be written.
    """
    if "\0" in str(path):
        raise SetdownError("a file name cannot hold NUL", source=repr(str(path)))
    if path.is_dir():
        raise SetdownError("this is a folder", source=str(path), expected="the file of a catalogue")
    if not path.exists() and not create:
        hint = "'setdown catalogue add FOLDER' makes one; --catalogue FILE names another"
        raise SetdownError("there is no catalogue", source=str(path), hint=hint)
    if not path.parent.is_dir():
        raise SetdownError("its folder does not exist", source=str(path), hint=f"Make {path.parent} first")
    connection = sqlite3.connect(path, timeout=BUSY_MS / 1000, isolation_level=None)
    try:
        _prepare(connection, path, migrations)
    except sqlite3.DatabaseError as error:
        connection.close()
        raise describe_trouble(error, path) from error
    except BaseException:
        connection.close()
        raise
    return connection


def _prepare(connection: sqlite3.Connection, path: Path, migrations: tuple[tuple[str, str], ...]) -> None:
    connection.execute(f"PRAGMA busy_timeout = {BUSY_MS}")
    connection.execute("PRAGMA foreign_keys = ON")
    connection.execute(f"PRAGMA cache_size = -{CACHE_KB}")
    connection.execute("PRAGMA mmap_size = 268435456")
    connection.execute("PRAGMA temp_store = MEMORY")
    # In one statement: another process may be making this very catalogue, its mark first and then its tables.
    look = "SELECT (SELECT application_id FROM pragma_application_id), (SELECT count(*) FROM sqlite_master)"
    mark, tables = connection.execute(look).fetchone()
    if mark != APPLICATION_ID and tables:
        expected = "a catalogue that setdown made"
        raise SetdownError("this is another program's database", source=str(path), expected=expected)
    unknown = [name for name in list_applied(connection) if name not in dict(migrations)]
    if unknown:
        hint = "Install that version, or make a new catalogue"
        raise SetdownError(
            f"a later version of setdown made this catalogue ({unknown[-1]})", source=str(path), hint=hint
        )
    if mark != APPLICATION_ID:
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    if connection.execute("PRAGMA journal_mode").fetchone()[0] != "wal":
        _switch_to_wal(connection)
    connection.execute("PRAGMA synchronous = NORMAL")  # a power cut may lose the last commits, never the file
    apply_migrations(connection, migrations)


def _switch_to_wal(connection: sqlite3.Connection) -> None:
    """SQLite does not wait by itself where two connections switch at once; the one that loses finds it switched."""
    for _ in range(200):
        try:
            connection.execute("PRAGMA journal_mode = WAL")
            return
        except sqlite3.OperationalError:
            connection.execute("BEGIN IMMEDIATE")  # waits for the other one
            connection.execute("ROLLBACK")
    connection.execute("PRAGMA journal_mode = WAL")


@contextlib.contextmanager
def write(connection: sqlite3.Connection) -> Iterator[None]:
    """One transaction that writes: all of it or, after any exception, nothing."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
    except BaseException:
        connection.execute("ROLLBACK")
        raise
    connection.execute("COMMIT")


@contextlib.contextmanager
def read(connection: sqlite3.Connection) -> Iterator[None]:
    """Several questions about one state of the catalogue, whatever others write meanwhile. May be nested."""
    if connection.in_transaction:
        yield
        return
    connection.execute("BEGIN")
    try:
        yield
    finally:
        connection.execute("COMMIT")


def describe_trouble(error: sqlite3.Error, path: Path) -> SetdownError:
    """An error of SQLite in the form in which it is shown."""
    text = str(error)
    hint = "'setdown catalogue check' says more; 'add' into a new file makes it again"
    if "not a database" in text:
        return SetdownError("this is no catalogue", source=str(path), expected="a catalogue that setdown made")
    if "locked" in text or "busy" in text:
        hint = "Another process has been writing for a minute: try again when it is done"
    return SetdownError(f"the catalogue cannot be used: {text}", source=str(path), hint=hint)
