"""Where the lexicon's data is."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterable
from importlib import resources
from pathlib import Path

from setdown.errors import SetdownError

ENVIRONMENT_VARIABLE = "SETDOWN_LEXICON"
_DATA_SUFFIXES = (".csv", ".toml")


def find_lexicon_folder() -> Path:
    """The folder with ``movements/``, ``misheard.csv`` and the rest.

    In this order: the environment variable ``SETDOWN_LEXICON``; ``_lexicon`` inside the installed package; the
    checkout's top-level ``lexicon``.

    Raises:
        SetdownError: the variable names no such folder, or there is none anywhere.
    """
    named = os.environ.get(ENVIRONMENT_VARIABLE)
    if named:
        folder = Path(named)
        if not (folder / "movements").is_dir():
            raise SetdownError(
                f"{ENVIRONMENT_VARIABLE} names a folder without movements",
                source=named,
                expected="a folder with movements/*.csv",
            )
        return folder
    packaged = Path(str(resources.files("setdown"))) / "_lexicon"
    checkout = Path(__file__).resolve().parents[3] / "lexicon"
    for folder in (packaged, checkout):
        if (folder / "movements").is_dir():
            return folder
    raise SetdownError(
        "the lexicon's data is missing", source=str(packaged), hint=f"Reinstall Setdown, or set {ENVIRONMENT_VARIABLE}"
    )


def list_data_files(folder: Path) -> list[Path]:
    """The data files of a lexicon folder, in a fixed order."""
    found = [path for path in folder.rglob("*") if path.suffix in _DATA_SUFFIXES and path.is_file()]
    return sorted(found, key=lambda path: path.relative_to(folder).as_posix())


def fingerprint_files(folder: Path, files: Iterable[Path] | None = None) -> str:
    """The first 12 hexadecimal digits of the SHA-256 over names and contents of the data files, or of some of them.

    Line endings do not count, so that a checkout on another system has the same fingerprint.
    """
    digest = hashlib.sha256()
    for path in list_data_files(folder) if files is None else files:
        data = path.read_bytes().replace(b"\r\n", b"\n")
        digest.update(f"{path.relative_to(folder).as_posix()}\n{len(data)}\n".encode())
        digest.update(data)
    return digest.hexdigest()[:12]
