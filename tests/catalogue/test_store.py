"""The catalogue's file: opening, migrations, damage."""

from __future__ import annotations

import re
import sqlite3
from contextlib import closing

import pytest

from setdown.catalogue.add import add_classes, list_sources
from setdown.catalogue.migrations import MIGRATIONS, apply_migrations, list_applied, split_statements
from setdown.catalogue.store import open_store, write
from setdown.catalogue.verify import check_catalogue
from setdown.catalogue.work import Job, index_class, load_own
from setdown.catalogue.write import put_class
from setdown.errors import SetdownError


def test_settings(tmp_path):
    """Write-ahead log, references enforced, all migrations applied in order, the file marked as a catalogue."""
    with closing(open_store(tmp_path / "c", create=True)) as store:
        assert store.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert store.execute("PRAGMA foreign_keys").fetchone() == (1,)
        assert list_applied(store) == [name for name, _ in MIGRATIONS]
        assert store.execute("PRAGMA application_id").fetchone() == (0x53444354,)
        with pytest.raises(sqlite3.IntegrityError):
            store.execute("INSERT INTO document VALUES (99, x'00')")


def test_opening_again_applies_nothing(tmp_path):
    """Migrations are applied once."""
    with closing(open_store(tmp_path / "c", create=True)) as store:
        assert apply_migrations(store) == []


def test_an_older_catalogue_is_brought_up_to_date(tmp_path, few):
    """One with the first migration only gets the others, and keeps what is in it."""
    lexicon = load_own(()).fingerprint
    made = [index_class(Job(files, "", lexicon)).entry for files in list_sources([str(few)])]
    with closing(open_store(tmp_path / "c", create=True, migrations=MIGRATIONS[:1])) as store, write(store):
        assert [put_class(store, entry) for entry in made] == ["added"] * 12
    with closing(open_store(tmp_path / "c")) as store:
        assert list_applied(store) == [name for name, _ in MIGRATIONS]
        assert store.execute("SELECT count(*) FROM class").fetchone() == (12,)
        assert check_catalogue(store) == []


def test_a_migration_that_fails_leaves_no_trace(tmp_path):
    """All of it is taken back, and the catalogue still opens."""
    broken = (*MIGRATIONS, ("9999-broken", "CREATE TABLE half (x);\nINSERT INTO nowhere VALUES (1);\n"))
    open_store(tmp_path / "c", create=True).close()
    with pytest.raises(SetdownError, match="nowhere"):
        open_store(tmp_path / "c", migrations=broken)
    with closing(open_store(tmp_path / "c")) as store:
        assert store.execute("SELECT count(*) FROM sqlite_master WHERE name = 'half'").fetchone() == (0,)


def test_a_later_version_is_refused(tmp_path):
    """A catalogue with a migration that is not known here is not touched."""
    later = (*MIGRATIONS, ("9999-later", "CREATE TABLE later (x);"))
    open_store(tmp_path / "c", create=True, migrations=later).close()
    with pytest.raises(SetdownError, match="later version") as refused:
        open_store(tmp_path / "c")
    assert "9999-later" in refused.value.problem


def test_what_is_no_catalogue(tmp_path):
    """Another database, another file, a folder, nothing: each is told apart and left as it is."""
    with closing(sqlite3.connect(tmp_path / "other")) as other:
        other.execute("CREATE TABLE mine (x)")
        other.commit()
    before = (tmp_path / "other").read_bytes()
    (tmp_path / "text").write_text("not a database at all, but long enough to be looked at " * 30)
    for name, problem in (
        ("other", "another program"),
        ("text", "no catalogue"),
        (".", "folder"),
        ("none", "no catalogue"),
    ):
        with pytest.raises(SetdownError, match=problem):
            open_store(tmp_path / name)
    with pytest.raises(SetdownError, match="folder does not exist"):
        open_store(tmp_path / "no" / "c", create=True)
    assert (tmp_path / "other").read_bytes() == before
    assert not (tmp_path / "none").exists()


@pytest.mark.parametrize(
    ("damage", "problem"),
    [
        ("DELETE FROM performed WHERE position = 3 AND class_id = 2", "another number of sets"),
        ("UPDATE class_movement SET sets = sets + 1 WHERE class_id = 4", "other movements"),
        ("DELETE FROM document WHERE class_id = 1", "no routine"),
        ("DELETE FROM profile WHERE class_id = 1", "no profile"),
        ("UPDATE profiles_together SET lengths = zeroblob(length(lengths))", "copy of what all classes train"),
        ("DELETE FROM spoken WHERE class_id = 1", "no speech"),
        ("INSERT INTO words (rowid, text) VALUES (99, 'x')", "a class too many"),
        ("UPDATE performed SET end_ms = start_ms - 1 WHERE class_id = 3 AND position = 0", "ends before"),
        ("DELETE FROM class WHERE id = 5", "belongs to nothing"),
        ("INSERT INTO words (words) VALUES ('delete-all')", "not in the index|not found by"),
        ("DELETE FROM migration WHERE id = 2", "its tables are"),
    ],
)
def test_the_check_finds_damage(few, tmp_path, damage, problem):
    """Each kind of damage is named; a sound catalogue has none."""
    with closing(open_store(tmp_path / "c", create=True)) as store:
        add_classes(store, list_sources([str(few)]))
        assert check_catalogue(store) == []
        store.execute("PRAGMA foreign_keys = OFF")
        store.execute(damage)
        found = "\n".join(check_catalogue(store))
    assert re.search(problem, found), found


def test_bytes_overwritten_in_the_file_are_found(few, tmp_path):
    """A page of the file with something else in it: the check says so and does not break down."""
    with closing(open_store(tmp_path / "c", create=True)) as store:
        add_classes(store, list_sources([str(few)]))
        store.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        size = store.execute("PRAGMA page_size").fetchone()[0]
        [(page,)] = store.execute("SELECT rootpage FROM sqlite_master WHERE name = 'performed'").fetchall()
    with (tmp_path / "c").open("r+b") as file:
        file.seek((page - 1) * size + 8)
        file.write(b"\xff" * 200)
    with closing(open_store(tmp_path / "c")) as store:
        assert any("damaged" in problem for problem in check_catalogue(store))


def test_a_transaction_is_all_or_nothing(tmp_path):
    """After an exception nothing of it is there."""
    with closing(open_store(tmp_path / "c", create=True)) as store:
        with pytest.raises(ZeroDivisionError), write(store):
            store.execute("INSERT INTO dimension (name) VALUES ('x')")
            raise ZeroDivisionError
        assert store.execute("SELECT count(*) FROM dimension").fetchone() == (0,)


def test_statements_are_cut_at_their_ends():
    """A semicolon in a text is none."""
    assert split_statements("CREATE TABLE a (x);\nINSERT INTO a\nVALUES (';');\n") == [
        "CREATE TABLE a (x);",
        "INSERT INTO a\nVALUES (';');",
    ]
