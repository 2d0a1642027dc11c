"""What several packages of tests share."""

from __future__ import annotations

from pathlib import Path

import pytest

from gold.compile_class import write_class

TESTS = Path(__file__).parent


@pytest.fixture(scope="session")
def repository() -> Path:
    """The root of the checkout that the tests are in."""
    return TESTS.parent


@pytest.fixture(scope="session")
def gold_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Every annotated class, compiled: NAME.gold.csv and its transcript in each caption style."""
    folder = tmp_path_factory.mktemp("gold")
    for script in sorted((TESTS / "gold" / "scripts").glob("*.script")):
        write_class(script, folder)
    return folder
