"""What a changed lexicon or version would change, class by class, before anything is replaced.

The new entries are kept in the catalogue beside the old ones (table ``renewal``) until they are put in, so that the
work is done once. What finds and counts uses the old ones until then. What would change is told as ``setdown diff``
tells it, and after that what the class would count for though its routine stays the same.
"""

from __future__ import annotations

import base64
import dataclasses
import json
import sqlite3
import zlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from setdown import __version__
from setdown.catalogue.describe import hash_movement, unpack_routine
from setdown.catalogue.entry import ClassEntry, Indexed, MovementRow, SetRow, Tally
from setdown.catalogue.needs import list_kit, parse_need
from setdown.catalogue.run import Runner, run_here
from setdown.catalogue.sources import ClassFiles, find_classes_in
from setdown.catalogue.store import read, write
from setdown.catalogue.together import keep_together
from setdown.catalogue.work import Job, OwnLexicon, load_own
from setdown.catalogue.write import put_class, remove_unused
from setdown.errors import SetdownError
from setdown.review.compare import compare_routines
from setdown.review.wording import describe_difference

BATCH = 16  # renewals put in or kept in one transaction


@dataclass(frozen=True, slots=True)
class Change:
    """What would change in one class, a line each; none when there is nothing to show."""

    location: str
    title: str
    lines: tuple[str, ...]


@dataclass
class RenewReport:
    """``looked_at`` classes were made with another lexicon or version. ``same`` of them have nothing to show for it."""

    looked_at: int = 0
    same: int = 0
    changes: list[Change] = field(default_factory=list)
    failed: list[SetdownError] = field(default_factory=list)
    gone: list[str] = field(default_factory=list)


def list_stale(connection: sqlite3.Connection, own: tuple[OwnLexicon, ...] = ()) -> list[str]:
    """The locations of the classes that another lexicon or version made."""
    current = (load_own(own).fingerprint, __version__)
    rows = connection.execute(
        "SELECT location FROM class WHERE lexicon <> ? OR version <> ? ORDER BY location", current
    )
    return [location for (location,) in rows]


def preview_renewal(
    connection: sqlite3.Connection,
    stale: Sequence[str],
    *,
    run: Runner = run_here,
    own: tuple[OwnLexicon, ...] = (),
    told: Callable[[Indexed], None] = lambda done: None,
) -> RenewReport:
    """Extract the stale classes anew, keep that beside the old, and tell what differs; nothing is replaced."""
    lexicon = load_own(own).fingerprint
    with write(connection):  # what an earlier lexicon would have changed is of no interest any more
        connection.execute("DELETE FROM renewal WHERE lexicon <> ? OR version <> ?", (lexicon, __version__))
    report = RenewReport(looked_at=len(stale))
    wanted = set(stale)
    sources = [files for files in _find_sources(stale) if files.location in wanted]
    report.gone = sorted(wanted - {files.location for files in sources})
    for done in run(_list_jobs(connection, sources, lexicon, own)):
        told(done)
        if done.error is not None:
            report.failed.append(done.error)
            continue
        if done.entry is not None:
            _keep(connection, done.entry)
        with read(connection):
            change = _compare(connection, done.location, done.entry)
        if change.lines:
            report.changes.append(change)
        else:
            report.same += 1
    return report


def apply_renewal(connection: sqlite3.Connection, own: tuple[OwnLexicon, ...] = ()) -> int:
    """Put in what was kept for the present lexicon and version; how many classes that were."""
    current = (load_own(own).fingerprint, __version__)
    ids = [
        id for (id,) in connection.execute("SELECT class_id FROM renewal WHERE lexicon = ? AND version = ?", current)
    ]
    for first in range(0, len(ids), BATCH):
        with write(connection):
            for id in ids[first : first + BATCH]:
                row = connection.execute("SELECT entry FROM renewal WHERE class_id = ?", (id,)).fetchone()
                if row is not None:  # else another process has put it in
                    put_class(connection, load_entry(row[0]))
    with write(connection):
        remove_unused(connection)
        keep_together(connection)
    return len(ids)


def dump_entry(entry: ClassEntry) -> bytes:
    """An entry as compressed JSON."""
    plain = dataclasses.asdict(entry)
    for name in ("captions", "document"):
        plain[name] = base64.b64encode(plain[name]).decode("ascii")
    return zlib.compress(json.dumps(plain, ensure_ascii=False).encode("utf-8", "surrogatepass"))


def load_entry(data: bytes) -> ClassEntry:
    """Undo ``dump_entry``."""
    plain: dict[str, Any] = json.loads(zlib.decompress(data).decode("utf-8", "surrogatepass"))
    for name in ("captions", "document"):
        plain[name] = base64.b64decode(plain[name])
    movements = ([*row[:5], tuple(tuple(muscle) for muscle in row[5])] for row in plain["movements"])
    return ClassEntry(
        **{
            **plain,
            "movements": tuple(MovementRow(*row) for row in movements),
            "sets": tuple(SetRow(*row) for row in plain["sets"]),
            "tallies": tuple(Tally(*row) for row in plain["tallies"]),
            "profile": tuple((name, sets) for name, sets in plain["profile"]),
            "notices": tuple(plain["notices"]),
        }
    )


def _find_sources(stale: Sequence[str]) -> Iterator[ClassFiles]:
    """The classes in the folders of these locations, no folder walked twice."""
    roots: list[str] = []
    for folder in sorted({location.rpartition("/")[0] or "/" for location in stale}):
        if not roots or not folder.startswith(roots[-1].rstrip("/") + "/"):
            roots.append(folder)
    for root in roots:
        try:
            yield from find_classes_in([root])
        except (SetdownError, OSError):
            continue  # the folder is gone: so are its classes


def _list_jobs(
    connection: sqlite3.Connection, sources: Sequence[ClassFiles], lexicon: str, own: tuple[OwnLexicon, ...]
) -> Iterator[Job]:
    look = "SELECT renewal.fingerprint FROM renewal JOIN class ON class.id = class_id WHERE location = ?"
    for files in sources:
        row = connection.execute(look, (files.location,)).fetchone()
        yield Job(files, row[0] if row else "", lexicon, own)


def _keep(connection: sqlite3.Connection, entry: ClassEntry) -> None:
    with write(connection):
        connection.execute(
            "INSERT OR REPLACE INTO renewal SELECT id, ?, ?, ?, ? FROM class WHERE location = ?",
            (entry.fingerprint, entry.lexicon, entry.version, dump_entry(entry), entry.location),
        )


def _compare(connection: sqlite3.Connection, location: str, entry: ClassEntry | None) -> Change:
    found = connection.execute(
        "SELECT class.id, needs, document.routine, entry FROM class JOIN kit_need ON kit_need.id = kit_need_id "
        "JOIN document ON document.class_id = class.id LEFT JOIN renewal ON renewal.class_id = class.id "
        "WHERE location = ?",
        (location,),
    ).fetchone()
    if found is None or (entry is None and found[3] is None):
        return Change(location, "", ())  # another process took the class out, or renewed it, meanwhile
    id, needs, document, kept = found
    entry = entry or load_entry(kept)  # kept by an earlier preview
    lines = describe_difference(compare_routines(unpack_routine(document), unpack_routine(entry.document)))
    if needs != entry.kit_need:
        lines.append(f"needs {_tell_kit(entry.kit_need)} (before: {_tell_kit(needs)})")
    lines += _compare_movements(connection, id, entry.movements)
    return Change(location, entry.title, tuple(lines))


def _compare_movements(connection: sqlite3.Connection, class_id: int, new: Sequence[MovementRow]) -> Iterator[str]:
    """Movements that stay what they are under another name, or count for something else."""
    look = "SELECT key, name, definition FROM class_movement JOIN movement ON id = movement_id WHERE class_id = ?"
    old = {key: (name, definition) for key, name, definition in connection.execute(look, (class_id,))}
    for row in new:
        name, definition = old.get(row.key, (row.name, hash_movement(row)))
        if name != row.name:
            yield f"{name} is now called {row.name}"
        if definition != hash_movement(row._replace(name=name)):
            yield f"{row.name} counts for other muscles or another pattern than before"


def _tell_kit(needs: str) -> str:
    return ", ".join(list_kit(parse_need(needs))) or "no kit"
