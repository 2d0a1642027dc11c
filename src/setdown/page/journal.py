"""Edits that are not saved yet, on disk from the moment they are made, so that a crash loses none.

The journal lies beside the routine as ``.NAME.unsaved``, one JSON object a line:

- ``{"file": SHA256}``: the routine file that the following lines start from;
- ``{"edit": {...}, "by": NAME, "at": TIME}``: an edit as the page sent it;
- ``{"undo": true}``, ``{"redo": true}``: steps among those edits;
- ``{"state": {...}}``: the whole routine, where a step goes back behind what the journal holds;
- ``{"saving": SHA256}``: the file that is about to be written with all of the above in it.

Every line is flushed to disk before the edit is answered. A half line at the end was never answered and is left out.
While a journal is open it is locked: two runs do not work on one routine.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
from pathlib import Path
from typing import Any, BinaryIO

from setdown.errors import SetdownError

try:
    import fcntl
except ImportError:  # a system without advisory locks: the revision in the file still guards against overwriting
    fcntl = None  # type: ignore[assignment]

Line = dict[str, Any]


def name_journal(routine_file: Path) -> Path:
    """``class.routine.json`` -> ``.class.routine.json.unsaved`` in the same folder."""
    return routine_file.with_name(f".{routine_file.name}.unsaved")


def find_digest(data: bytes) -> str:
    """How the journal names the contents of a routine file."""
    return hashlib.sha256(data).hexdigest()


class Journal:
    """The journal of one run. ``kept`` are the lines that an earlier run left, without what was saved after all.

    Raises, when made:
        SetdownError: another run has it open.
        OSError: the folder cannot be written.
    """

    def __init__(self, path: Path, digest: str) -> None:
        self.path = path
        self._stream = _open_locked(path)
        lines = _read_lines(self._stream)
        self.kept = _drop_saved(lines, digest)
        self.fits = bool(lines) and self.kept[:1] == [{"file": digest}]
        if len(self.kept) <= 1:
            self.kept = []
            self.restart(digest)

    def write(self, line: Line) -> None:
        """Add a line; it is on disk when this returns."""
        self._stream.write(json.dumps(line, ensure_ascii=False).encode("utf-8", "replace") + b"\n")
        self._stream.flush()
        os.fsync(self._stream.fileno())

    def restart(self, digest: str) -> None:
        """Forget everything: the file with this digest holds it."""
        self._stream.seek(0)
        self._stream.truncate()
        self.write({"file": digest})

    def set_aside(self) -> Path:
        """Keep what the earlier run left under a name that nothing else uses."""
        number = 1
        while (aside := self.path.with_name(f"{self.path.name}-{number}")).exists():
            number += 1
        self._stream.seek(0)
        aside.write_bytes(self._stream.read())
        return aside

    def close(self) -> None:
        """Give up the lock. A journal without edits is removed."""
        self._stream.seek(0)
        empty = len(_read_lines(self._stream)) <= 1
        if empty:
            with contextlib.suppress(OSError):
                self.path.unlink()
        self._stream.close()


def _open_locked(path: Path) -> BinaryIO:
    descriptor = os.open(path, os.O_RDWR | os.O_CREAT | os.O_APPEND, 0o600)
    stream = os.fdopen(descriptor, "r+b")
    if fcntl is not None:
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as error:
            stream.close()
            hint = "Go on in the window that is open, or stop the other setdown review first"
            raise SetdownError("this routine is being reviewed already", source=path.name, hint=hint) from error
    return stream


def _read_lines(stream: BinaryIO) -> list[Line]:
    lines = []
    for raw in stream.read().split(b"\n"):
        with contextlib.suppress(ValueError):
            line = json.loads(raw)
            if isinstance(line, dict):
                lines.append(line)
    return lines


def _drop_saved(lines: list[Line], digest: str) -> list[Line]:
    """The lines after the last save that was finished: its file is the one on disk."""
    for at in range(len(lines) - 1, -1, -1):
        if lines[at].get("saving") == digest:
            return [{"file": digest}, *lines[at + 1 :]]
    return [line for line in lines if "saving" not in line]
