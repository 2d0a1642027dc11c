"""What several packages of tests share."""

from __future__ import annotations

import os
import shutil
import signal
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from gold.compile_class import write_class

TESTS = Path(__file__).parent
BROWSERS = ("chromium", "chromium-browser", "google-chrome")
BROWSER_FLAGS = (
    "--disable-gpu --disable-quic --no-first-run --disable-background-networking --disable-component-update "
    "--disable-sync"
)


# A shell starts what runs in the background deaf to Ctrl-C, and so would be every command that a test stops with it.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)


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


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """Debian's chromium under Playwright, one for all tests (there can be only one); nothing is downloaded."""
    api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    found = next(filter(None, map(shutil.which, BROWSERS)), None)
    if found is None:
        pytest.skip("no chromium on this machine; on Debian: apt-get install chromium")
    root = ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    with api.sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=found, args=[*root, *BROWSER_FLAGS.split()])
        yield running
        running.close()
