"""The kit that classes need, as the catalogue keeps it: few different needs, shared by many classes."""

from __future__ import annotations

import json
import sqlite3

Need = tuple[frozenset[str], tuple[frozenset[str], ...]]
"""The kit that a class names, and for each open need the pieces of which one will do."""


def read_needs(connection: sqlite3.Connection) -> dict[int, Need]:
    """All needs by id."""
    found = connection.execute("SELECT id, needs FROM kit_need")
    return {id: parse_need(text) for id, text in found}


def parse_need(text: str) -> Need:
    """One need from its JSON."""
    value = json.loads(text)
    return frozenset(value["said"]), tuple(frozenset(group) for group in value["needed"])


def list_kit(need: Need) -> tuple[str, ...]:
    """A need for people: what is named, then ``dumbbell or kettlebell`` for what is open."""
    said, needed = need
    return (*sorted(said), *(" or ".join(sorted(group)) for group in needed))
