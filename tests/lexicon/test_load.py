"""Finding and loading the data."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from setdown.errors import SetdownError
from setdown.lexicon import Lexicon, Movement, find_lexicon_folder, load_lexicon
from setdown.lexicon.data import read_folder
from setdown.lexicon.folder import fingerprint_files

SMALL = Path(__file__).parent / "small"


@pytest.fixture
def copied(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = tmp_path / "lexicon"
    shutil.copytree(SMALL, folder)
    monkeypatch.setenv("SETDOWN_LEXICON", str(folder))
    return folder


def test_the_variable_names_the_folder(copied: Path) -> None:
    """SETDOWN_LEXICON goes before the shipped data; a folder without movements is told."""
    assert find_lexicon_folder() == copied
    assert load_lexicon().folder == copied
    shutil.rmtree(copied / "movements")
    with pytest.raises(SetdownError, match="without movements"):
        find_lexicon_folder()


def test_loading_twice_gives_the_same(real: Lexicon) -> None:
    """The shipped lexicon is read once."""
    assert load_lexicon() is real


def test_cells_become_records(small: Lexicon) -> None:
    """Lists are split, weak names marked and bared, ids kept."""
    assert small.movements["glute-bridge"] == Movement(
        "glute-bridge",
        "glute bridge",
        ("hip bridge", "bridge"),
        frozenset({"bridge"}),
        "glute-bridge",
        "hinge",
        ("glutes",),
        (),
        (),
        "both",
        ("reps", "time"),
        "",
    )
    assert small.movements["run"].weak_names == {"run", "jog"}
    assert small.muscles["quadriceps"].uberon == "UBERON:0001377"
    assert small.kit["dumbbell"].loaded and not small.kit["mat"].loaded
    assert small.units["lb"].si == 0.45359237
    assert small.described[0].slots[0] == {"arm"}


def test_the_fingerprint_follows_the_data(copied: Path) -> None:
    """Any changed cell changes it; line endings do not."""
    before = fingerprint_files(copied)
    assert len(before) == 12 and int(before, 16) >= 0
    path = copied / "kit.csv"
    path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
    assert fingerprint_files(copied) == before
    path.write_text(path.read_text(encoding="utf-8").replace("yoga mat", "gym mat"), encoding="utf-8")
    assert fingerprint_files(copied) != before


@pytest.mark.parametrize(
    ("file", "text", "line", "problem"),
    [
        ("kit.csv", "id,name\n", 1, "wrong heading"),
        ("kit.csv", "id,name,names,loaded\nmat,mat,no\n", 2, "row of 3 cells"),
        ("units.csv", "id,name,names,kind,si\nlb,pound,,mass,half\n", 2, "not a number"),
        ("movements/all.csv", None, None, "no movements"),
    ],
)
def test_unreadable_tables_say_where(copied: Path, file: str, text: str | None, line: int | None, problem: str) -> None:
    """The error has the file and the line."""
    if text is None:
        (copied / file).unlink()
    else:
        (copied / file).write_text(text, encoding="utf-8")
    with pytest.raises(SetdownError, match=problem) as raised:
        read_folder(copied)
    assert raised.value.line == line
    assert raised.value.source.startswith(str(copied))


def test_an_id_must_not_stand_twice(copied: Path) -> None:
    """Two rows with one id cannot both be meant."""
    shutil.copy(copied / "movements" / "all.csv", copied / "movements" / "more.csv")
    with pytest.raises(SetdownError, match="'squat' stands twice"):
        read_folder(copied)


def test_loading_does_not_import_spacy() -> None:
    """spaCy is only imported when names are looked up: it takes longer than all the rest."""
    code = "import sys; from setdown.lexicon import load_lexicon; load_lexicon(); sys.exit('spacy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_names_are_looked_up_in_any_spelling(small: Lexicon) -> None:
    """By id, by name, by other spellings; None for what is not known."""
    for name in ("push-up", "press ups", "pushup", "floor press-up"):
        found = small.look_up(name)
        assert found is not None and found.id == "push-up"
    assert small.look_up("moonwalk") is None
