"""What is known about a class besides its captions."""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from setdown.errors import SetdownError
from setdown.model.transcript import ClassInfo
from setdown.read import parse_transcript, read_transcript
from setdown.read.info import make_title, strip_endings

TEXT = "WEBVTT\n\n00:01.000 --> 00:03.000\nhello everyone\n"
META = """title = "Evening pairs"
instructor = "Deb"
date = 2024-03-05
media = "pairs.mp4"
tags = ["strength", " dumbbells ", ""]
"""


@pytest.mark.parametrize(
    ("name", "title"),
    [
        ("evening-pairs.vtt", "Evening pairs"),
        ("evening_pairs.rolling.vtt", "Evening pairs"),
        ("evening-pairs.words.json", "Evening pairs"),
        ("evening-pairs.clean.en-GB.vtt", "Evening pairs"),
        ("evening-pairs.en.auto.srt", "Evening pairs"),
        ("class 3.5 - arms.txt", "Class 3.5 arms"),
        ("evening--pairs__2.ttml", "Evening pairs 2"),
        ("words.json", "Words"),
        (".vtt", ".vtt"),
        ("UPPER.vtt", "UPPER"),
        ("no-extension", "No extension"),
        ("a/b/evening-pairs.vtt", "Evening pairs"),
        ("<stdin>", ""),
    ],
)
def test_title_from_the_name(name: str, title: str) -> None:
    """Endings that say how a file was made are left out, hyphens and underscores become spaces."""
    assert make_title(name) == title


def test_endings() -> None:
    """Only known endings are taken off."""
    assert strip_endings("a.rolling.vtt") == "a"
    assert strip_endings("a.v2.vtt") == "a.v2"
    assert strip_endings("a.rolling") == "a.rolling"


def write(folder: Path, meta: str | None = META, name: str = "evening-pairs.vtt", meta_name: str = "") -> Path:
    path = folder / name
    path.write_text(TEXT)
    if meta is not None:
        (folder / (meta_name or "evening-pairs.meta.toml")).write_text(meta)
    return path


@pytest.mark.parametrize("name", ["evening-pairs.vtt", "evening-pairs.rolling.vtt", "evening-pairs.en.vtt"])
def test_file_beside_the_transcript(tmp_path: Path, name: str) -> None:
    """Every key is read, a TOML date becomes ISO text, empty tags go."""
    info = read_transcript(write(tmp_path, name=name)).info
    assert info == ClassInfo("Evening pairs", "Deb", "2024-03-05", "pairs.mp4", ("strength", "dumbbells"))


def test_nearest_name_wins(tmp_path: Path) -> None:
    """``NAME.rolling.meta.toml`` goes before ``NAME.meta.toml``."""
    path = write(tmp_path, name="evening-pairs.rolling.vtt")
    (tmp_path / "evening-pairs.rolling.meta.toml").write_text('title = "Other"\n')
    assert read_transcript(path).info == ClassInfo(title="Other")


def test_caller_wins_field_by_field(tmp_path: Path) -> None:
    """What the caller gives wins; what they leave empty comes from the file."""
    info = read_transcript(write(tmp_path), info=ClassInfo(title="Mine", tags=("x",))).info
    assert info == ClassInfo("Mine", "Deb", "2024-03-05", "pairs.mp4", ("x",))


def test_no_file_beside_is_nothing_to_notice(tmp_path: Path) -> None:
    """The title comes from the name; no notice."""
    transcript = read_transcript(str(write(tmp_path, meta=None)))
    assert transcript.info == ClassInfo(title="Evening pairs")
    assert transcript.notices == ()
    assert (transcript.name, transcript.size) == ("evening-pairs.vtt", len(TEXT))


@pytest.mark.parametrize(
    ("meta", "line", "problem"),
    [
        ('title = "x"\ntrainer = "Deb"\n', 2, "unknown key 'trainer'"),
        ('title = "x"\n\n[class]\nname = "y"\n', 3, "unknown key 'class'"),
        ("title = 3\n", 1, "'title'"),
        ('tags = "strength"\n', 1, "'tags'"),
        ("tags = [1]\n", 1, "'tags'"),
        ('date = "5 March"\n', 1, "'date'"),
        ("date = 5\n", 1, "'date'"),
        ('title = "x"\ndate = \n', 2, "not valid TOML"),
        ('title = "x\n', 1, "not valid TOML"),
    ],
)
def test_mistakes_in_the_file_beside(tmp_path: Path, meta: str, line: int, problem: str) -> None:
    """The error names that file, the line, and what was expected."""
    with pytest.raises(SetdownError, match=problem) as caught:
        read_transcript(write(tmp_path, meta))
    assert caught.value.source.endswith("evening-pairs.meta.toml")
    assert caught.value.line == line
    assert caught.value.expected


def test_file_beside_that_is_not_utf8(tmp_path: Path) -> None:
    """Not text in UTF-8: an error that names the file."""
    path = write(tmp_path)
    (tmp_path / "evening-pairs.meta.toml").write_bytes(b'title = "caf\xe9"\n')
    with pytest.raises(SetdownError, match="UTF-8"):
        read_transcript(path)


@pytest.mark.parametrize("date", ["2024-03-05", '"2024-03-05"', "2024-03-05T10:00:00"])
def test_dates(tmp_path: Path, date: str) -> None:
    """A TOML date, a time stamp or ISO text."""
    assert read_transcript(write(tmp_path, f"date = {date}\n")).info.date == "2024-03-05"


def test_missing_file_and_folder(tmp_path: Path) -> None:
    """The error names the path."""
    for path in (tmp_path / "none.vtt", tmp_path):
        with pytest.raises(SetdownError, match="cannot be read") as caught:
            read_transcript(path)
        assert caught.value.source == str(path)
    with pytest.raises(SetdownError, match="cannot be read"):
        read_transcript("a\0b.vtt")


def test_errors_name_the_path(tmp_path: Path) -> None:
    """An unusable file is named with its path, also when the size is to blame."""
    path = tmp_path / "empty.vtt"
    path.write_bytes(b"")
    with pytest.raises(SetdownError, match="empty") as caught:
        read_transcript(path)
    assert caught.value.source == str(path)


def test_size_is_checked_before_reading(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file over the limit is refused by its size."""
    monkeypatch.setattr("setdown.read.compose.MAX_BYTES", 10)
    with pytest.raises(SetdownError, match="too large") as caught:
        read_transcript(write(tmp_path, meta=None))
    assert caught.value.source.endswith("evening-pairs.vtt")


def test_standard_input(monkeypatch: pytest.MonkeyPatch) -> None:
    """``-`` is standard input; it has no title but what the content or the caller gives."""
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(TEXT.encode())))
    transcript = read_transcript("-", info=ClassInfo(instructor="Deb"))
    assert (transcript.name, transcript.info) == ("<stdin>", ClassInfo(instructor="Deb"))


def test_parsing_bytes_looks_at_no_file(tmp_path: Path) -> None:
    """``parse_transcript`` takes the name only as a name."""
    path = write(tmp_path)
    assert parse_transcript(TEXT.encode(), name=str(path)).info == ClassInfo(title="Evening pairs")
