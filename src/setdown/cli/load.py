"""Files that commands take: a routine, or a transcript that is extracted on the way."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from setdown.errors import SetdownError
from setdown.files import read_text

if TYPE_CHECKING:
    from setdown.model.routine import Routine

ROUTINE_KEYS = frozenset({"schema_version", "sections"})  # no transcript has both


def load_routine(path: str, lexicon_files: tuple[Path, ...] = ()) -> Routine:
    """The routine in the file, or the routine of the transcript in the file.

    Raises:
        SetdownError: a folder, neither a transcript nor a routine, or broken.
        OSError: the file cannot be read.
    """
    if Path(path).is_dir():
        raise SetdownError("this is a folder", source=path, expected="a routine or a transcript")
    if Path(path).suffix.lower() == ".json":
        from setdown.check import parse_json, parse_routine

        text = read_text(Path(path))
        document = parse_json(text, path)
        if isinstance(document, dict) and document.keys() & ROUTINE_KEYS:
            return parse_routine(text, path)
    from setdown.pipeline import extract

    return extract(path, lexicon_files=lexicon_files)
