"""A small lexicon of its own for tests of the code, and the shipped one for tests of the data."""

from __future__ import annotations

from pathlib import Path

import pytest

from setdown.lexicon import Lexicon, load_lexicon
from setdown.lexicon.data import read_folder

HERE = Path(__file__).parent


@pytest.fixture(scope="session")
def small() -> Lexicon:
    return Lexicon(read_folder(HERE / "small"))


@pytest.fixture(scope="session")
def real() -> Lexicon:
    return load_lexicon()
