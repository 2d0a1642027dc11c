"""Files are written whole or not at all, and never silently over another."""

from __future__ import annotations

import os
import stat
import threading
from pathlib import Path

import pytest

from setdown.errors import SetdownError
from setdown.files import read_text, write_file


def list_names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_write_then_same_then_other(tmp_path):
    """New: written. Same bytes: untouched. Other bytes: refused, unless told to replace."""
    file = tmp_path / "a.json"
    assert write_file(file, b"one") == "written"
    before = file.stat()
    assert write_file(file, b"one") == "unchanged"
    assert (file.stat().st_mtime_ns, file.stat().st_ino) == (before.st_mtime_ns, before.st_ino)
    with pytest.raises(SetdownError, match="exists and differs") as caught:
        write_file(file, b"two")
    assert "--replace" in caught.value.hint
    assert file.read_bytes() == b"one"
    assert write_file(file, b"two", replace=True) == "written"
    assert file.read_bytes() == b"two"
    assert list_names(tmp_path) == ["a.json"]


def test_a_failed_write_leaves_the_old_file_and_nothing_else(tmp_path, monkeypatch):
    """When the disk fails before the end, the old file is whole and no temporary file stays."""
    file = tmp_path / "a.json"
    file.write_bytes(b"old")

    def fail(descriptor):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", fail)
    with pytest.raises(OSError, match="No space"):
        write_file(file, b"new", replace=True)
    assert file.read_bytes() == b"old"
    assert list_names(tmp_path) == ["a.json"]


def test_a_file_that_appears_meanwhile_is_not_lost(tmp_path, monkeypatch):
    """Another program makes the file between the look and the write: it is refused, not overwritten."""
    file = tmp_path / "a.json"
    flush = os.fsync

    def appear(descriptor):
        file.write_bytes(b"theirs")
        flush(descriptor)

    monkeypatch.setattr(os, "fsync", appear)
    with pytest.raises(SetdownError, match="exists"):
        write_file(file, b"ours")
    assert file.read_bytes() == b"theirs"


def test_a_link_is_followed(tmp_path):
    """Writing through a link changes the file it leads to and keeps the link."""
    (tmp_path / "real.json").write_bytes(b"old")
    (tmp_path / "link.json").symlink_to("real.json")
    write_file(tmp_path / "link.json", b"new", replace=True)
    assert (tmp_path / "link.json").is_symlink()
    assert (tmp_path / "real.json").read_bytes() == b"new"


def test_modes(tmp_path):
    """A new file has the usual mode, a replaced one keeps its own."""
    old = os.umask(0o027)
    try:
        write_file(tmp_path / "new", b"x")
    finally:
        os.umask(old)
    assert stat.S_IMODE((tmp_path / "new").stat().st_mode) == 0o640
    (tmp_path / "new").chmod(0o604)
    write_file(tmp_path / "new", b"y", replace=True)
    assert stat.S_IMODE((tmp_path / "new").stat().st_mode) == 0o604


def test_devices_and_pipes_are_written_to_not_replaced(tmp_path):
    """/dev/null stays a device, and a named pipe hands its reader the bytes."""
    assert write_file(Path(os.devnull), b"x") == "written"
    assert not Path(os.devnull).is_file()
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    got: list[bytes] = []
    reader = threading.Thread(target=lambda: got.append(pipe.read_bytes()))
    reader.start()
    write_file(pipe, b"through")
    reader.join(10)
    assert got == [b"through"]


@pytest.mark.parametrize(
    ("name", "problem"), [(".", "this is a folder"), ("no/such/a.json", "its folder does not exist")]
)
def test_places_that_cannot_be_written(tmp_path, name, problem):
    """A folder, or a place in a folder that is not there."""
    with pytest.raises(SetdownError, match=problem):
        write_file(tmp_path / name, b"x")


def test_text_is_read_with_its_line_ends_and_without_its_mark(tmp_path):
    """A byte order mark is no text; bad bytes are blamed on their line."""
    file = tmp_path / "a.txt"
    file.write_bytes(b"\xef\xbb\xbfa\r\nb")
    assert read_text(file) == "a\r\nb"
    file.write_bytes(b"a\nb\n\xff\n")
    with pytest.raises(SetdownError) as caught:
        read_text(file)
    assert (caught.value.source, caught.value.line) == (str(file), 3)
    with pytest.raises(SetdownError, match="folder"):
        read_text(tmp_path)
