"""The wheel, built from the source archive, and a fresh environment that has it."""

from __future__ import annotations

import os
import shutil
import site
import subprocess
import sys
import venv
from collections.abc import Callable
from pathlib import Path

import pytest


def run(*command: object, cwd: Path) -> subprocess.CompletedProcess[str]:
    clean = {k: v for k, v in os.environ.items() if not k.startswith(("PYTHON", "SETDOWN", "VIRTUAL_ENV"))}
    done = subprocess.run(
        [str(c) for c in command], cwd=cwd, env=clean, capture_output=True, check=False, encoding="utf-8"
    )
    assert done.returncode == 0, f"{command}\n{done.stdout}\n{done.stderr}"
    return done


@pytest.fixture(scope="session")
def built(repository, tmp_path_factory) -> tuple[Path, Path]:
    """A source archive of a copy of the checkout, and the wheel that is built from the archive."""
    folder = tmp_path_factory.mktemp("build")
    keep_out = shutil.ignore_patterns(".*", "__pycache__", "dist", "build")
    shutil.copytree(repository, folder / "copy", ignore=keep_out)
    shutil.copy(repository / ".gitignore", folder / "copy")
    run(sys.executable, "-m", "build", "--no-isolation", "--outdir", folder / "dist", folder / "copy", cwd=folder)
    [archive] = (folder / "dist").glob("setdown-*.tar.gz")
    [wheel] = (folder / "dist").glob("setdown-*-py3-none-any.whl")
    return archive, wheel


@pytest.fixture(scope="session")
def installed(built, tmp_path_factory) -> Path:
    """The command in a fresh environment that has the wheel of its own and borrows the dependencies."""
    folder = tmp_path_factory.mktemp("clean")
    venv.create(folder / "env", with_pip=False, symlinks=os.name != "nt")
    python = folder / "env" / "bin" / "python"
    pip = [sys.executable, "-m", "pip", "--python", python, "install", "--quiet", "--no-index", "--no-deps"]
    run(*pip, built[1], cwd=folder)
    packages = run(python, "-c", "import site; print(site.getsitepackages()[0])", cwd=folder).stdout.strip()
    # Its own packages come first, so the wheel's setdown is used and not the one beside the dependencies.
    (Path(packages) / "borrowed.pth").write_text("\n".join(site.getsitepackages()), encoding="utf-8")
    where = run(python, "-c", "import setdown; print(setdown.__file__)", cwd=folder).stdout.strip()
    assert Path(where).is_relative_to(packages), "the installed package itself is under test"
    return folder / "env" / "bin" / "setdown"


@pytest.fixture(scope="session")
def run_clean() -> Callable[..., subprocess.CompletedProcess[str]]:
    """Run a command that must succeed, without this process's Python and Setdown variables."""
    return run
