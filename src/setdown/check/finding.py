"""What a check found, as data."""

from __future__ import annotations

from dataclasses import dataclass

from setdown.model.routine import Severity

Path = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is wrong (``must``), doubtful (``should``) or merely unusual (``note``).

    ``path`` is a JSONPath (RFC 9535) into the routine, e.g. ``$.sections[0].groups[1]``; ``line`` is the 1-based line
    of the file, ``None`` when the routine did not come from a file.
    """

    code: str
    path: str
    problem: str
    hint: str = ""
    severity: Severity = "must"
    line: int | None = None


def format_path(path: Path) -> str:
    """``("sections", 0, "a b")`` -> ``$.sections[0]['a b']``."""
    text = "$"
    for part in path:
        if isinstance(part, int):
            text += f"[{part}]"
        elif part.isidentifier():
            text += f".{part}"
        else:
            escaped = part.replace("\\", "\\\\").replace("'", "\\'")
            text += f"['{escaped}']"
    return text
