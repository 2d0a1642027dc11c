"""The edit log: who changed what in a routine, and how to get back. JSON Lines beside the routine, only ever added to.

``NAME.routine.json`` has ``NAME.routine.log.jsonl``. Its first line, revision 0, holds the routine as it was before the
first edit; every other line holds the changes (``setdown.review.patch``) to the one before. ``before`` and ``after``
are fingerprints of the routine. The routine's file is what counts: when it holds something else than the log's end, a
line says so and what (``outside``).
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, BinaryIO

from setdown.errors import SetdownError
from setdown.files import flush_folder
from setdown.model.routine import Mark, Routine
from setdown.review.lock import lock_stream
from setdown.review.patch import Change, apply_changes, find_changes, turn_around

LOG_SUFFIX = ".log.jsonl"
STEP = 65_536  # bytes that are read at once
OUTSIDE = "changed outside Setdown"


@dataclass(frozen=True, slots=True)
class Revision:
    """One line of the log. ``undoes`` is the number of the revision that it took back, ``None`` for any other."""

    number: int
    by: str
    at: str
    what: tuple[str, ...]
    before: str
    after: str
    undoes: int | None = None
    outside: bool = False
    changes: tuple[Change, ...] = field(default=(), repr=False)
    routine: dict[str, Any] | None = field(default=None, repr=False)


def log_path(routine_file: Path) -> Path:
    """Where the log of a routine file is."""
    real = Path(os.path.realpath(routine_file))
    return real.with_name(real.name.removesuffix(".json") + LOG_SUFFIX)


def fingerprint(routine: Routine) -> str:
    """Changes whenever anything in the routine does, but not with how its file is laid out."""
    return _fingerprint_document(routine.model_dump(mode="json"))


def _fingerprint_document(document: dict[str, Any]) -> str:
    # The order of keys is no difference: it is another one when a value went and came back.
    return hashlib.sha256(_write_compact(document, sort=True)).hexdigest()


def _write_compact(document: Any, *, sort: bool = False) -> bytes:
    text = json.dumps(document, ensure_ascii=False, separators=(",", ":"), sort_keys=sort)
    return text.encode("utf-8", "surrogatepass")


def read_history(routine_file: Path) -> list[Revision]:
    """All revisions, the first first; none when the routine was never edited.

    Raises:
        SetdownError: a line of the log is not one of the log.
        OSError: the log cannot be read.
    """
    path = log_path(routine_file)
    try:
        data = path.read_bytes()
    except FileNotFoundError:
        return []
    return [_read_line(line, path, number) for number, line in enumerate(_whole_lines(data), 1)]


def rebuild_revision(revisions: Sequence[Revision], number: int, source: str = "") -> Routine:
    """The routine as it was after a revision.

    Raises:
        SetdownError: there is no such revision, or the log does not fit together.
    """
    if not 0 <= number < len(revisions):
        last = len(revisions) - 1
        expected = f"a revision from 0 to {last}" if revisions else "a routine that was edited"
        raise SetdownError(f"there is no revision {number}", source=source, expected=expected)
    document: Any = revisions[0].routine
    try:
        for revision in revisions[1 : number + 1]:
            document = apply_changes(document, revision.changes)
        routine = Routine.model_validate(document)
    except ValueError as error:
        raise SetdownError(f"the edit log is broken: {error}", source=source) from error
    if fingerprint(routine) != revisions[number].after:
        raise SetdownError(f"the edit log is broken at revision {number}", source=source)
    return routine


def read_last_revision(routine_file: Path) -> Revision | None:
    """The last revision, without the ones before it being read. Raises like ``read_history``."""
    path = log_path(routine_file)
    try:
        with path.open("rb") as stream:
            return _find_last(stream, path)[0]
    except FileNotFoundError:
        return None


class LogFile:
    """An open, locked log. Made by ``open_log``."""

    def __init__(self, descriptor: int, path: Path) -> None:
        self._descriptor = descriptor
        self.path = path

    def last(self) -> Revision | None:
        """The last revision, ``None`` in an empty log; what a crash left of a line is cut off."""
        with os.fdopen(os.dup(self._descriptor), "rb") as stream:
            revision, torn = _find_last(stream, self.path)
        if torn:
            os.ftruncate(self._descriptor, os.fstat(self._descriptor).st_size - torn)
        return revision

    def start(self, routine: Routine, mark: Mark) -> Revision:
        """Write revision 0."""
        document = routine.model_dump(mode="json")
        after, what = _fingerprint_document(document), "as it was before the first edit"
        entry = {"revision": 0, "at": mark.at, "by": "", "what": [what], "before": "", "after": after}
        self._append(entry | {"routine": document})
        return Revision(0, "", mark.at, (what,), "", after)

    def add(
        self,
        last: Revision,
        before: Routine,
        after: Routine,
        mark: Mark,
        what: Sequence[str],
        *,
        undoes: int | None = None,
        outside: bool = False,
    ) -> Revision:
        """Write the next revision; it is on the disk when this returns."""
        document = after.model_dump(mode="json")
        changes = find_changes(before.model_dump(mode="json"), document)
        entry: dict[str, Any] = {"revision": last.number + 1, "at": mark.at, "by": "" if outside else mark.by}
        entry |= {"what": list(what), "before": last.after, "after": _fingerprint_document(document)}
        entry |= {"undoes": undoes} if undoes is not None else {}
        entry |= {"outside": True} if outside else {}
        self._append(entry | {"changes": changes})
        return Revision(
            entry["revision"], entry["by"], mark.at, tuple(what), last.after, entry["after"], undoes, outside
        )

    def _append(self, entry: dict[str, Any]) -> None:
        data = _write_compact(entry) + b"\n"
        while data:
            data = data[os.write(self._descriptor, data) :]
        os.fsync(self._descriptor)


@contextmanager
def open_log(routine_file: Path) -> Iterator[LogFile]:
    """The log of a routine, made when it is not there, and locked: another process waits until this one is through."""
    path = log_path(routine_file)
    new = not path.exists()
    descriptor = os.open(path, os.O_RDWR | os.O_APPEND | os.O_CREAT, 0o666)
    try:
        if new:
            flush_folder(path.parent)
        with lock_stream(descriptor):
            yield LogFile(descriptor, path)
    finally:
        os.close(descriptor)


def take_back(after: Routine, revision: Revision) -> Routine:
    """The routine before a revision, from the routine after it.

    Raises:
        ValueError: the routine is not the one after the revision.
    """
    return Routine.model_validate(apply_changes(after.model_dump(mode="json"), turn_around(revision.changes)))


def _find_last(stream: BinaryIO, path: Path) -> tuple[Revision | None, int]:
    """The last whole line, and how many bytes of a torn one are behind it. Reads from the end: the log may be long."""
    start = stream.seek(0, os.SEEK_END)
    tail = b""
    while start > 0:
        step = min(start, STEP)
        start -= step
        stream.seek(start)
        tail = stream.read(step) + tail
        lines = list(_whole_lines(tail))
        if start and len(lines) < 2:  # the first one may not be whole
            continue
        torn = len(tail) - sum(len(line) + 1 for line in lines)
        return (_read_line(lines[-1], path, None) if lines else None), torn
    return None, 0


def _whole_lines(data: bytes) -> Iterator[bytes]:
    """Lines that were written to their end: the last one counts only when its newline is there and it can be read."""
    lines = data.split(b"\n")[:-1]
    for number, line in enumerate(lines, 1):
        if number == len(lines) and not _is_json(line):
            return
        yield line


def _is_json(line: bytes) -> bool:
    try:
        json.loads(line)
    except ValueError:
        return False
    return True


def _read_line(line: bytes, path: Path, number: int | None) -> Revision:
    try:
        entry = json.loads(line)
        return Revision(
            number=int(entry["revision"]),
            by=str(entry["by"]),
            at=str(entry["at"]),
            what=tuple(map(str, entry["what"])),
            before=str(entry["before"]),
            after=str(entry["after"]),
            undoes=entry.get("undoes"),
            outside=bool(entry.get("outside")),
            changes=tuple(entry.get("changes", ())),
            routine=entry.get("routine"),
        )
    except (ValueError, KeyError, TypeError) as error:
        problem = f"this line is not one of an edit log ({type(error).__name__})"
        raise SetdownError(problem, source=str(path), line=number) from error
