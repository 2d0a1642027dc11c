"""What is installed carries all that it needs: it works away from the checkout."""

from __future__ import annotations

import os
import shutil
import site
import subprocess
import sys
import tarfile
import venv
import zipfile
from pathlib import Path

import pytest

pytestmark = pytest.mark.slow


def run(*command: object, cwd: Path) -> subprocess.CompletedProcess[str]:
    clean = {k: v for k, v in os.environ.items() if not k.startswith(("PYTHON", "SETDOWN", "VIRTUAL_ENV"))}
    done = subprocess.run(
        [str(c) for c in command], cwd=cwd, env=clean, capture_output=True, check=False, encoding="utf-8"
    )
    assert done.returncode == 0, f"{command}\n{done.stdout}\n{done.stderr}"
    return done


@pytest.fixture(scope="module")
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


@pytest.fixture(scope="module")
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


def test_the_wheel_carries_its_data(built, repository):
    """Lexicon, JSON Schema, weights and the typing mark are in the wheel, and nothing from outside the package."""
    names = set(zipfile.ZipFile(built[1]).namelist())
    assert {"setdown/model/routine.schema.json", "setdown/py.typed"} <= names
    assert any(name.endswith("licenses/LICENSE") for name in names)
    for file in (repository / "lexicon").rglob("*.*"):
        assert f"setdown/_lexicon/{file.relative_to(repository / 'lexicon').as_posix()}" in names
    source = repository / "src" / "setdown"
    for file in source.rglob("*"):
        if file.is_file() and "__pycache__" not in file.parts:
            assert f"setdown/{file.relative_to(source).as_posix()}" in names
    assert {name.split("/")[0].split("-")[0] for name in names} == {"setdown"}


def test_the_source_archive_can_be_tested(built):
    """Who gets the archive gets the tests, the samples and the documents too."""
    with tarfile.open(built[0]) as archive:
        names = {name.partition("/")[2] for name in archive.getnames()}
    for name in (
        "README.md",
        "DEVELOPERS.md",
        "LICENSE",
        "pyproject.toml",
        "tests/test_imports.py",
        "lexicon/README.md",
    ):
        assert name in names
    assert any(name.startswith("samples/") and name.endswith(".vtt") for name in names)


def test_it_extracts_away_from_the_checkout(installed, repository, tmp_path):
    """The installed command finds its lexicon, extracts a sample, checks the routine and prints its schema."""
    for file in (repository / "samples").glob("arms-and-shoulders.*"):
        shutil.copy(file, tmp_path)
    (tmp_path / "arms-and-shoulders.routine.json").unlink(missing_ok=True)
    run(installed, "extract", "arms-and-shoulders.vtt", "-o", "made.json", cwd=tmp_path)
    sheet = run(installed, "sheet", "made.json", cwd=tmp_path).stdout
    assert sheet.startswith("start,end,section,")
    assert "triceps kickback" in sheet
    checked = run(installed, "check", "made.json", "--quiet", cwd=tmp_path)
    assert " 0 findings" in checked.stdout
    assert '"$schema"' in run(installed, "schema", cwd=tmp_path).stdout
    assert "goblet" in run(installed, "lexicon", "find", "goblet squat", cwd=tmp_path).stdout
