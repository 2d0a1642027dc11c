"""The commands in README.md work, word for word."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import signal
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```sh\n(.*?)^```$", README, flags=re.M | re.S)
LINES = [line for block in BLOCKS for line in block.splitlines() if line]
INSTALL, TEST = (line for line in LINES if line.startswith("python3 -m venv"))
COMMANDS = [line for line in LINES if line.startswith("setdown ")]


def copy_checkout(folder: Path) -> Path:
    """What a clone has, without what the developer's own work left behind."""
    keep_out = shutil.ignore_patterns(".git", ".venv*", ".*_cache", "__pycache__", "dist", "build", ".hypothesis")
    return shutil.copytree(ROOT, folder / "clone", ignore=keep_out)


def test_two_commands_to_begin_with():
    """Both are one line to paste; the second is what the continuous checks run."""
    assert "extract" in INSTALL
    assert "pytest" in TEST
    assert LINES[:2] == [INSTALL, TEST]
    assert "grep -m1 -E '^python3 -m venv .*pytest' README.md" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


@pytest.mark.parametrize("command", COMMANDS)
def test_a_command_of_the_readme(command, tmp_path):
    """In a folder with the samples, each command is done (0) or done with findings (1), without a traceback."""
    shutil.copytree(ROOT / "samples", tmp_path / "samples")
    shutil.copytree(ROOT / "lexicon", tmp_path / "lexicon")
    shutil.copytree(ROOT / "tests" / "gold" / "scripts", tmp_path / "scripts")
    line = f'setdown() {{ {shlex.quote(sys.executable)} -m setdown "$@"; }}; ' + command
    if command.startswith("setdown review"):
        check_serving(command, tmp_path)
        return
    done = subprocess.run(["bash", "-c", line], cwd=tmp_path, capture_output=True, check=False, encoding="utf-8")
    assert done.returncode in (0, 1), done.stderr
    assert "Traceback" not in done.stderr
    assert done.stdout or "-o" in command


def check_serving(command: str, folder: Path) -> None:
    """A command that serves until Ctrl-C says where, answers there, and ends when it is told to."""
    words = [sys.executable, "-m", *shlex.split(command), "--no-open"]
    with subprocess.Popen(words, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE, encoding="utf-8") as run:
        try:
            assert run.stdout and run.stderr
            address = next((line.strip() for line in run.stdout if line.startswith("http://127.0.0.1:")), "")
            assert address, run.stderr.read()
            with urllib.request.urlopen(address, timeout=20) as answer:
                assert b"<title>" in answer.read()
            run.send_signal(signal.SIGINT)
            assert run.wait(20) == 130
            assert run.stderr.read() == "setdown: stopped\n"
        finally:
            run.kill()


@pytest.mark.slow
def test_the_first_command_of_the_readme(tmp_path):
    """In a fresh copy, with nothing but Python, it installs, extracts a sample and shows its sheet."""
    clone = copy_checkout(tmp_path)
    for file in (clone / "samples").glob("*.routine.json"):
        file.unlink()
    reachable = [sys.executable, "-m", "pip", "download", "--quiet", "--no-deps", "-d", str(tmp_path), "defusedxml"]
    asked = subprocess.run(reachable, capture_output=True, check=False, encoding="utf-8")
    if asked.returncode:
        pytest.skip(f"no package index can be reached: {asked.stderr.strip().splitlines()[-1]}")
    clean = {k: v for k, v in os.environ.items() if not k.startswith(("PYTHON", "VIRTUAL_ENV"))}
    done = subprocess.run(
        ["bash", "-c", INSTALL], cwd=clone, env=clean, capture_output=True, check=False, encoding="utf-8"
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert "triceps kickback" in done.stdout
    assert len(done.stdout.splitlines()) > 5
