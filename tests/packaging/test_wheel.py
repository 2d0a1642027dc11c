"""What is installed carries all that it needs: it works away from the checkout."""

from __future__ import annotations

import shutil
import tarfile
import zipfile

import pytest

pytestmark = pytest.mark.slow


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


def test_it_extracts_away_from_the_checkout(installed, repository, run_clean, tmp_path):
    """The installed command finds its lexicon, extracts a sample, checks the routine and prints its schema."""
    for file in (repository / "samples").glob("arms-and-shoulders.*"):
        shutil.copy(file, tmp_path)
    (tmp_path / "arms-and-shoulders.routine.json").unlink(missing_ok=True)
    run_clean(installed, "extract", "arms-and-shoulders.vtt", "-o", "made.json", cwd=tmp_path)
    sheet = run_clean(installed, "sheet", "made.json", cwd=tmp_path).stdout
    assert sheet.startswith("start,end,section,")
    assert "triceps kickback" in sheet
    checked = run_clean(installed, "check", "made.json", "--quiet", cwd=tmp_path)
    assert " 0 findings" in checked.stdout
    assert '"$schema"' in run_clean(installed, "schema", cwd=tmp_path).stdout
    assert "goblet" in run_clean(installed, "lexicon", "find", "goblet squat", cwd=tmp_path).stdout
