"""Who edits, and when: the only place that looks at the clock."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

from setdown.errors import SetdownError

if TYPE_CHECKING:
    from setdown.model.routine import Mark

LONGEST_NAME = 200


def make_mark(by: str | None) -> Mark:
    """The name given with ``--by``, and the time now.

    Raises:
        SetdownError: there is no name, or it cannot be one.
    """
    from setdown.model.routine import Mark

    name = " ".join((by or "").split())
    if not name or len(name) > LONGEST_NAME or not name.isprintable():
        hint = 'For example --by "Ana Lund"'
        raise SetdownError("an edit needs the name of who makes it", expected="--by NAME", hint=hint)
    return Mark(by=name, at=datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ"))
