"""What to do next when the system refuses something: a step for each refusal that a user meets."""

from __future__ import annotations

import errno
import os
import shlex
from itertools import islice
from pathlib import Path

STEPS = {
    errno.ENOSPC: "Make room, then give the same command again; nothing half-written is left",
    errno.EDQUOT: "Make room, then give the same command again; nothing half-written is left",
    errno.EROFS: "Nothing can be written there; name another place",
    errno.ENAMETOOLONG: "Give it a shorter name",
    errno.EMFILE: "Too much is open at once; try again with --jobs 1",
    errno.ENOTDIR: "A part of the path is a file; check the name",
    errno.EISDIR: "Name a file in it",
    errno.EADDRINUSE: "Something else has this port; --port 0 takes one that is free",
}
LOOKED_AT = 5000  # names in a folder among which a near one is looked for


def suggest_step(error: OSError, source: str = "") -> str:
    """What the user can do about a refusal of the system; empty when nothing useful can be said of it."""
    path = Path(os.fsdecode(error.filename) if isinstance(error.filename, str | bytes) else source or ".")
    if error.errno == errno.ENOENT:
        return _suggest_name(path)
    if error.errno in (errno.EACCES, errno.EPERM):
        return f"See who may use it: ls -ld {shlex.quote(str(path))}"
    return STEPS.get(error.errno or 0, "")


def _suggest_name(path: Path) -> str:
    """The name that was meant, if there is one like it where the path leads."""
    from difflib import get_close_matches

    folder = path.parent
    try:
        with os.scandir(folder) as entries:
            names = sorted(entry.name for entry in islice(entries, LOOKED_AT) if not entry.name.startswith("."))
    except FileNotFoundError:
        return f"There is no folder {folder}"
    except OSError:
        return f"The folder {folder} cannot be looked into; check its name and who may use it"
    near = get_close_matches(path.name, names, n=1, cutoff=0.75)
    if near:
        return f"Did you mean {folder / near[0]}?"
    return f"Check the name: ls {shlex.quote(str(folder))} lists what is there"
