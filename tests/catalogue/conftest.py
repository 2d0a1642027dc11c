"""A catalogue of the annotated classes, and what tests do with catalogues."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from gold_routines import GoldClass, list_gold, write_folder
from setdown.catalogue.add import add_classes, list_sources
from setdown.catalogue.store import open_store


@pytest.fixture(scope="session")
def gold() -> tuple[GoldClass, ...]:
    """Every annotated class with its routine."""
    return list_gold()


@pytest.fixture(scope="session")
def gold_store_file(tmp_path_factory, gold) -> Path:
    """The catalogue of every annotated class; not to be changed."""
    folder = tmp_path_factory.mktemp("catalogue")
    write_folder(folder / "classes", gold)
    with closing(open_store(folder / "gold.setdown", create=True)) as store:
        report = add_classes(store, list_sources([str(folder / "classes")]))
    assert (report.added, report.failed) == (len(gold), [])
    return folder / "gold.setdown"


@pytest.fixture
def store(gold_store_file) -> Iterator[sqlite3.Connection]:
    """A connection to it."""
    with closing(open_store(gold_store_file)) as connection:
        yield connection


@pytest.fixture
def few(tmp_path) -> Path:
    """A folder with twelve annotated classes."""
    return write_folder(tmp_path / "classes", list_gold(12))


@pytest.fixture
def run_setdown():
    """Run a command line in this process; it must be done."""
    from setdown.cli.main import run_command

    def run(*arguments: object) -> None:
        assert run_command([str(one) for one in arguments]) == 0

    return run
