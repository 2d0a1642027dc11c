"""The first minutes of somebody who has the wheel and nothing else: no checkout, no settings, a home of their own."""

from __future__ import annotations

import os
import re
import subprocess
import zipfile
from pathlib import Path

import pytest

from setdown.cli.demo_folder import FILES

pytestmark = pytest.mark.slow


def test_the_wheel_carries_the_sample_classes(built, repository):
    """Those of the demonstration, as they are in the checkout, and no others."""
    with zipfile.ZipFile(built[1]) as wheel:
        shipped = {name: wheel.read(name) for name in wheel.namelist() if name.startswith("setdown/_samples/")}
    samples = repository / "samples"
    assert shipped == {f"setdown/_samples/{name}": (samples / name).read_bytes() for name in FILES.values()}


def test_the_first_minutes(installed, run_clean, tmp_path):
    """The bare command names the demonstration; it runs to its end; its folder then is where one is told to go on."""
    bare = run_bare(installed, tmp_path)
    assert bare.returncode == 2
    assert "setdown demo practice" in bare.stdout
    shown = run_clean(installed, "demo", "practice", cwd=tmp_path)
    assert shown.stderr == ""
    assert len(re.findall(r"^\$ setdown ", shown.stdout, flags=re.M)) >= 8
    practice = tmp_path / "practice"
    for name in ("class.routine.json", "class.csv", "out/class.plan.html", "out/class.captions.srt"):
        assert (practice / name).stat().st_size > 100, name
    found = run_clean(installed, "catalogue", "find", "-m", "squat", "--as", "csv", cwd=practice)
    assert "goblet squat" in found.stdout
    assert "setdown review class.routine.json" in run_bare(installed, practice).stdout
    run_clean(installed, "demo", "practice", "--replace", cwd=tmp_path)


def test_completion_of_the_installed_command(installed, run_clean, tmp_path):
    """bash asks the command itself, and is answered."""
    assert "_setdown_completion" in run_clean(installed, "--show-completion", "bash", cwd=tmp_path).stdout
    asked = {"COMP_WORDS": "setdown catalogue ba", "COMP_CWORD": "2", "_SETDOWN_COMPLETE": "complete_bash"}
    assert run_bare(installed, tmp_path, asked).stdout.split() == ["balance"]


def run_bare(installed: Path, folder: Path, more: dict[str, str] | None = None) -> subprocess.CompletedProcess[str]:
    """The command without any argument."""
    clean = {k: v for k, v in os.environ.items() if not k.startswith(("PYTHON", "SETDOWN", "VIRTUAL_ENV"))}
    return subprocess.run(
        [installed], cwd=folder, env=clean | (more or {}), capture_output=True, check=False, encoding="utf-8"
    )
