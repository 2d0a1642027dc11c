"""Where files are: folders of this machine, or any address that fsspec can read (``s3://``, ``https://``, ``memory://``).

fsspec comes with the extra ``cluster``; paths of this machine need nothing.
"""

from __future__ import annotations

import importlib
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from setdown.errors import SetdownError
from setdown.read.base import MAX_BYTES

Place = str


def is_address(place: Place) -> bool:
    """Whether it is an address with a scheme rather than a path of this machine."""
    return "://" in place


def settle_place(place: str) -> Place:
    """A place as it is kept: absolute, with forward slashes, without a slash at its end."""
    if is_address(place):
        return place.rstrip("/") if not place.endswith("://") else place
    if "\0" in place:
        raise SetdownError("a file name cannot hold NUL", source=repr(place))
    return Path(os.path.abspath(place)).as_posix()  # noqa: PTH100  # a link stays a link, under its own name


def is_file(place: Place) -> bool:
    """Whether a path of this machine is a file."""
    return not is_address(place) and Path(place).is_file()


def list_files(place: Place) -> Iterator[str]:
    """Every file in a folder and in the folders in it; hidden folders are left out. For a file, what lies beside it.

    Raises:
        SetdownError: there is no such place, or fsspec is needed and not installed.
        OSError: a folder cannot be read.
    """
    if is_address(place):
        yield from _list_remote(place)
        return
    path = Path(place)
    if path.is_file():
        yield from (f"{path.parent.as_posix()}/{name}" for name in sorted(one.name for one in path.parent.iterdir()))
        return
    if not path.is_dir():
        raise SetdownError("there is no such folder", source=place, expected="a folder with transcripts or routines")
    for folder, folders, names in os.walk(path, onerror=_raise):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        yield from (f"{Path(folder).as_posix()}/{name}" for name in sorted(names))


def read_place(place: Place) -> bytes:
    """The bytes of a file.

    Raises:
        SetdownError: it is larger than any transcript.
        OSError: it cannot be read.
    """
    if is_address(place):
        with open_remote(place) as stream:
            data: bytes = stream.read(MAX_BYTES + 1)
    else:
        with Path(place).open("rb") as stream:
            data = stream.read(MAX_BYTES + 1)
    if len(data) > MAX_BYTES:
        raise SetdownError("the file is too large", source=place, expected="the transcript of one class")
    return data


def open_remote(place: Place) -> Any:
    """A file of an address, opened for reading."""
    return _import_fsspec(place).open(place, "rb")


def _list_remote(place: Place) -> Iterator[str]:
    fsspec = _import_fsspec(place)
    try:
        files, root = fsspec.core.url_to_fs(place)
        if not files.exists(root):
            raise SetdownError("there is no such place", source=place, expected="a folder with transcripts")
        found = files.find(root)
    except (ValueError, ImportError) as error:  # an unknown scheme, or one that needs a library of its own
        raise SetdownError(f"this address cannot be read: {error}", source=place) from error
    for path in found:
        if not any(part.startswith(".") for part in path.split("/")):
            yield str(files.unstrip_protocol(path))


def _import_fsspec(place: Place) -> Any:
    try:
        return importlib.import_module("fsspec")
    except ImportError as error:
        hint = 'pip install "setdown[cluster]" brings it'
        raise SetdownError("addresses need fsspec, which is not installed", source=place, hint=hint) from error


def _raise(error: OSError) -> None:
    raise error
