"""Every example in the help of every command works in the folder that the demonstration leaves."""

from __future__ import annotations

import os
import shlex
import shutil
import signal
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest

from setdown.cli.main import COMMANDS, GROUPS
from setdown.cli.reference import Described, describe_commands

DESCRIBED = describe_commands()
# Examples that end with findings rather than with 0, as the help of their command says.
WITH_FINDINGS = (
    "setdown diff class.routine.json class.vtt",
    "setdown diff class.routine.json class.vtt --html -o changes.html",
    "setdown catalogue find --repeats",
)
NEEDED = {"balance.svg": "matplotlib", "classes.svg": "matplotlib", "parquet": "pyarrow"}


@pytest.fixture(scope="module")
def finished(tmp_path_factory) -> Path:
    """A demonstration that has run to its end."""
    folder = tmp_path_factory.mktemp("demo") / "practice"
    subprocess.run([sys.executable, "-m", "setdown", "demo", str(folder)], check=True, capture_output=True)
    return folder


@pytest.fixture
def folder(finished, tmp_path) -> Path:
    """A copy of it to work in."""
    return shutil.copytree(finished, tmp_path / "practice")


def run_line(line: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """What a shell makes of the line."""
    script = f'setdown() {{ {shlex.quote(sys.executable)} -m setdown "$@"; }}\n{line}'
    return subprocess.run(["bash", "-c", script], cwd=folder, capture_output=True, check=False, encoding="utf-8")


def test_every_command_has_an_example():
    """Also the groups of commands, and the whole; each starts with the command itself or leads to it."""
    assert {command.words[0] for command in DESCRIBED if command.words} == {*COMMANDS, *GROUPS, "version"}
    for command in DESCRIBED:
        assert any(example.startswith(command.name) for example in command.examples), command.name


@pytest.mark.slow
@pytest.mark.parametrize("command", DESCRIBED, ids=lambda command: command.name)
def test_the_examples_of_a_command(command: Described, folder):
    """In the order in which they stand they are done, with findings where there are some to find, and say something."""
    for example in command.examples:
        lacking = next((module for word, module in NEEDED.items() if word in example), "")
        if lacking:
            pytest.importorskip(lacking, reason=f"{lacking} is not installed")
        if example.startswith("setdown review "):
            serve_briefly(example, folder)
            continue
        before = set(folder.rglob("*"))
        done = run_line(example, folder)
        assert done.returncode == (1 if example in WITH_FINDINGS else 0), f"{example}\n{done.stdout}{done.stderr}"
        assert "Traceback" not in done.stderr
        assert done.stdout or done.stderr or set(folder.rglob("*")) > before, example


def serve_briefly(example: str, folder: Path) -> None:
    """The page is there at the address that is printed, until Ctrl-C."""
    words = [sys.executable, "-m", *shlex.split(example), *([] if "--no-open" in example else ["--no-open"])]
    with subprocess.Popen(words, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE, encoding="utf-8") as run:
        try:
            assert run.stdout and run.stderr
            address = next((line.strip() for line in run.stdout if line.startswith("http://127.0.0.1:")), "")
            assert address, run.stderr.read()
            with urllib.request.urlopen(address, timeout=20) as answer:
                assert b"<title>" in answer.read()
            run.send_signal(signal.SIGINT)
            assert run.wait(20) == 130
        finally:
            run.kill()


@pytest.mark.slow
def test_what_the_demonstration_says_next_works_too(finished, tmp_path):
    """The commands of its closing lines, in its folder."""
    said = subprocess.run(
        [sys.executable, "-m", "setdown", "demo", "again"],
        cwd=tmp_path,
        env=os.environ,
        capture_output=True,
        check=True,
        encoding="utf-8",
    ).stdout.rpartition("That was all of it.")[2]
    lines = [line.strip().split("   ")[0] for line in said.splitlines() if line.startswith("  setdown ")]
    assert len(lines) == 4
    serve_briefly(lines[0], tmp_path / "again")
    assert run_line(lines[1], tmp_path / "again").returncode == 0
    own = [line.replace("CAPTIONS", "recordings/stretch.txt") for line in lines[2:]]
    assert run_line(own[0], tmp_path / "again").returncode == 0
    serve_briefly(own[1], tmp_path / "again")
