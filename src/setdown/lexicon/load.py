"""Loading the lexicon."""

from __future__ import annotations

import os
from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path

from setdown.errors import SetdownError
from setdown.lexicon.data import read_folder
from setdown.lexicon.folder import ENVIRONMENT_VARIABLE, find_lexicon_folder
from setdown.lexicon.lexicon import Lexicon


def load_lexicon(extra: Sequence[Path] = ()) -> Lexicon:
    """The shipped lexicon with the coach's own files on top; of two own files the later wins.

    The data is found as ``find_lexicon_folder`` says. The result is kept, and shared by later calls with the same
    arguments as long as the own files do not change.

    Raises:
        SetdownError: the data is missing or unreadable, or an own file is wrong (with its line).
    """
    stamps: list[tuple[Path, int, int]] = []
    for path in extra:
        try:
            stat = path.stat()
        except OSError as error:
            hint = "Check the path given with --lexicon"
            raise SetdownError("cannot read this lexicon file", source=str(path), hint=hint) from error
        stamps.append((path, stat.st_mtime_ns, stat.st_size))
    return _load(os.environ.get(ENVIRONMENT_VARIABLE, ""), tuple(stamps))


@lru_cache(maxsize=8)
def _load(_folder_named: str, extra: tuple[tuple[Path, int, int], ...]) -> Lexicon:
    data = read_folder(find_lexicon_folder())
    if extra:
        from setdown.lexicon.own import read_own_lexicon

        for path, _, _ in extra:
            data = read_own_lexicon(path).put_on(data)
    return Lexicon(data)
