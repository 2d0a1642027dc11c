"""Edits that are not saved yet, on disk from the moment they are made, so that a crash loses none.

The journal lies beside the routine as ``.NAME.unsaved``, one JSON object a line:

- ``{"file": FINGERPRINT}``: the routine file that the following lines start from; with ``"state"``, a whole routine
  that was made of it since (what stands before such a line does not count any more);
- ``{"edit": {...}, "by": NAME, "at": TIME}``: an edit as the page sent it;
- ``{"undo": true}``, ``{"redo": true}``: steps among those edits;
- ``{"state": {...}}``: the whole routine, where a step goes back behind what the journal holds;
- ``{"saving": FINGERPRINT}``: the file that is about to be written with all of the above in it.

Every line is flushed to disk before the edit is answered. A half line at the end was never answered and is left out.
While a journal is open it is locked: two runs do not work on one routine.
"""

from __future__ import annotations

import contextlib
import json
import os
import sys
from pathlib import Path
from typing import Any, BinaryIO

from setdown.errors import SetdownError

Line = dict[str, Any]


def name_journal(routine_file: Path) -> Path:
    """``class.routine.json`` -> ``.class.routine.json.unsaved`` in the same folder, links followed."""
    real = Path(os.path.realpath(routine_file))
    return real.with_name(f".{real.name}.unsaved")


class Journal:
    """The journal of one run, for the routine file with this fingerprint.

    ``kept`` are the lines that an earlier run left and never saved, beginning with the file they start from;
    ``fits`` says whether that is the file as it is now.

    Raises, when made:
        SetdownError: another run has it open.
        OSError: the folder cannot be written.
    """

    def __init__(self, path: Path, fingerprint: str) -> None:
        self.path = path
        self._stream = _open_locked(path)
        self.kept = _drop_saved(_read_lines(self._stream), fingerprint)
        self.fits = self.kept[:1] != [] and self.kept[0]["file"] == fingerprint
        if not self.kept:
            self.restart(fingerprint)

    def write(self, line: Line) -> None:
        """Add a line; it is on disk when this returns."""
        self._stream.write(json.dumps(line, ensure_ascii=True).encode() + b"\n")
        self._stream.flush()
        os.fsync(self._stream.fileno())

    def restart(self, fingerprint: str) -> None:
        """Forget everything: the file with this fingerprint holds it."""
        self._stream.seek(0)
        self._stream.truncate()
        self.write({"file": fingerprint})
        self.kept = []

    def set_aside(self) -> Path:
        """Copy everything into a file of its own, under a name that nothing else has."""
        number = 1
        while (aside := self.path.with_name(f"{self.path.name}-{number}")).exists():
            number += 1
        self._stream.seek(0)
        with aside.open("xb") as copy:
            copy.write(self._stream.read())
            copy.flush()
            os.fsync(copy.fileno())
        return aside

    def close(self) -> None:
        """Give up the lock. A journal without edits is removed."""
        if self._stream.closed:
            return
        self._stream.seek(0)
        if len(_read_lines(self._stream)) <= 1 and not self.kept:
            self.path.unlink(missing_ok=True)
        self._stream.close()


def _open_locked(path: Path) -> BinaryIO:
    while True:
        descriptor = os.open(path, os.O_RDWR | os.O_CREAT | os.O_APPEND, 0o600)
        stream = os.fdopen(descriptor, "r+b")
        if not _lock(descriptor):
            stream.close()
            hint = "Go on in its window, or stop the other setdown review first"
            raise SetdownError("this routine is being reviewed already", source=path.name[1:-8], hint=hint)
        # The run before may have removed the file between our opening and locking it.
        with contextlib.suppress(FileNotFoundError):
            if os.path.samestat(os.fstat(descriptor), path.stat()):
                return stream
        stream.close()


def _lock(descriptor: int) -> bool:
    if sys.platform == "win32":
        return True  # an open file cannot be removed there, and the routine's log guards the file itself
    import fcntl

    try:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def _read_lines(stream: BinaryIO) -> list[Line]:
    lines = []
    for raw in stream.read().split(b"\n"):
        with contextlib.suppress(ValueError):
            line = json.loads(raw)
            if isinstance(line, dict):
                lines.append(line)
    return lines


def _drop_saved(lines: list[Line], fingerprint: str) -> list[Line]:
    """What was never saved: from the last line that starts anew, and after the last save that reached the file."""
    starts = [n for n, line in enumerate(lines) if "file" in line]
    lines = lines[starts[-1] :] if starts else []
    saves = [n for n, line in enumerate(lines) if line.get("saving") == fingerprint]
    if saves:
        lines = [{"file": fingerprint}, *lines[saves[-1] + 1 :]]
    lines = [line for line in lines if "saving" not in line]
    return lines if len(lines) > 1 or "state" in (lines or [{}])[0] else []
