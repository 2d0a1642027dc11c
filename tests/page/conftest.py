"""The page as its user has it: the command in a process of its own, and Debian's chromium in front of it."""

from __future__ import annotations

import shutil
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest


class Served:
    """One run of ``setdown review``."""

    def __init__(self, routine: Path, *options: str) -> None:
        command = [
            sys.executable,
            "-m",
            "setdown",
            "review",
            str(routine),
            "--no-open",
            "--by",
            "Ada Lorrimer",
            *options,
        ]
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, encoding="utf-8")
        self.said: list[str] = []
        assert self.process.stdout
        for line in self.process.stdout:
            self.said.append(line.strip())
            if line.startswith("http"):
                break
        assert self.said and self.said[-1].startswith("http"), self.said
        self.url = self.said[-1]

    def stop(self) -> int:
        """As Ctrl-C does."""
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGINT)
        return self.process.wait(20)

    def kill(self) -> None:
        """As a crash of the machine does, for all that the process knows."""
        self.process.kill()
        self.process.wait(20)


@pytest.fixture
def serve() -> Iterator[Callable[..., Served]]:
    """Starts runs of the command; they are ended with the test."""
    runs: list[Served] = []

    def start(routine: Path, *options: str) -> Served:
        runs.append(Served(routine, *options))
        return runs[-1]

    yield start
    for run in runs:
        run.kill()


@pytest.fixture
def sample(repository, tmp_path) -> Callable[[str], Path]:
    """A copy of a sample's routine, its transcript beside it.

    What a test does with single values is done with the routine in ``classes``: that of the samples as it was extracted
    once, so that the tests of the page do not hang on how well extraction does.
    """

    def copy(name: str) -> Path:
        for folder in (repository / "samples", Path(__file__).parent / "classes"):
            for file in folder.glob(f"{name}.*"):
                shutil.copy(file, tmp_path)
        return next(tmp_path.glob(f"{name}*.routine.json"))

    return copy


@pytest.fixture
def open_page(browser) -> Iterator[Callable]:
    """Opens an address in a window of its own; whatever the page itself reports as wrong fails the test."""
    contexts, wrong = [], []

    def show(url: str, **options):
        context = browser.new_context(viewport={"width": 1440, "height": 900}, **options)
        contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on("console", lambda m: wrong.append(m.text) if "Content Security Policy" in m.text else None)
        page.set_default_timeout(15_000)
        page.goto(url)
        page.wait_for_selector("html[data-ready]")
        return page

    yield show
    for context in contexts:
        context.close()
    assert not wrong
