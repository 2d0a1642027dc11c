"""Reading text and writing files so that nothing is lost: whole or not at all, and never silently over another."""

from __future__ import annotations

import contextlib
import filecmp
import os
import stat
import tempfile
from pathlib import Path
from typing import Literal

from setdown.errors import SetdownError

Outcome = Literal["written", "unchanged"]

TEMP_PREFIX = ".setdown-"


def read_text(path: Path) -> str:
    """The file as text: UTF-8, with or without a byte order mark; line ends are left as they are.

    Raises:
        SetdownError: a folder, or not UTF-8 (with the line of the first bad byte).
        OSError: the file is missing or cannot be read.
    """
    _refuse_nul(path)
    if path.is_dir():
        raise SetdownError("this is a folder", source=str(path), expected="a file")
    data = path.read_bytes()
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise SetdownError("the text is not UTF-8", source=str(path), line=line, expected="a UTF-8 file") from error


def write_file(path: Path, data: bytes, *, replace: bool = False) -> Outcome:
    """Write ``data`` by way of a temporary file in the same folder, flushed to disk, so that no reader sees a half.

    A file that already holds exactly ``data`` is left untouched (``unchanged``). A link is followed. A device or pipe
    is written to directly.

    Raises:
        SetdownError: the path is a folder, its folder is missing, or another file is there and ``replace`` is false.
        OSError: the folder or the file cannot be written.
    """
    _refuse_nul(path)
    target = Path(os.path.realpath(path))
    try:
        mode: int | None = target.stat().st_mode
    except FileNotFoundError:
        mode = None
    if mode is not None and stat.S_ISDIR(mode):
        raise SetdownError("this is a folder", source=str(path), expected="a file to write")
    if mode is not None and not stat.S_ISREG(mode):
        with target.open("wb") as stream:
            stream.write(data)
        return "written"
    if mode is not None and target.read_bytes() == data:
        return "unchanged"
    if mode is not None and not replace:
        raise _refuse(path)
    if not target.parent.is_dir():
        raise SetdownError("its folder does not exist", source=str(path), hint=f"Make {path.parent} first")
    _write_beside(target, data, path, mode, replace)
    return "written"


def put_file(made: Path, path: Path, *, replace: bool = False) -> Outcome:
    """Put a finished file, made in the same file system, in the place of ``path``: for files too large to be held.

    It is read in pieces to tell whether anything changes; otherwise as ``write_file``.

    Raises:
        SetdownError: the path is a folder, or another file is there and ``replace`` is false.
        OSError: the file cannot be put there.
    """
    target = Path(os.path.realpath(path))
    if target.is_dir():
        raise SetdownError("this is a folder", source=str(path), expected="a file to write")
    if target.exists():
        if filecmp.cmp(made, target, shallow=False):
            return "unchanged"
        if not replace:
            raise _refuse(path)
    with made.open("rb") as stream:
        os.fsync(stream.fileno())
    _put_in_place(made, target, path, replace)
    flush_folder(target.parent)
    return "written"


def _refuse_nul(path: Path) -> None:
    if "\0" in str(path):  # the system's own word for it is no OSError
        raise SetdownError("a file name cannot hold NUL", source=str(path))


def _write_beside(target: Path, data: bytes, named: Path, mode: int | None, replace: bool) -> None:
    descriptor, name = tempfile.mkstemp(prefix=TEMP_PREFIX, dir=target.parent)
    temporary = Path(name)
    try:
        with os.fdopen(descriptor, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        temporary.chmod(stat.S_IMODE(mode) if mode is not None else 0o666 & ~_read_umask())
        _put_in_place(temporary, target, named, replace)
    finally:
        temporary.unlink(missing_ok=True)
    flush_folder(target.parent)


def _put_in_place(temporary: Path, target: Path, named: Path, replace: bool) -> None:
    if not replace:
        # A hard link is made only where nothing is: a file that appeared in the meantime is not overwritten.
        try:
            os.link(temporary, target)
        except FileExistsError as error:
            raise _refuse(named) from error
        except OSError:  # a file system without links
            pass
        else:
            return
    temporary.replace(target)


def _refuse(path: Path) -> SetdownError:
    return SetdownError("the file exists and differs", source=str(path), hint="Use --replace to write over it")


def _read_umask() -> int:
    current = os.umask(0)
    os.umask(current)
    return current


def flush_folder(folder: Path) -> None:
    """Make the new name itself durable, where the system lets a folder be flushed."""
    with contextlib.suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
