"""An own lexicon that gives another name to a movement that some classes have.

Whichever movements extraction finds in a transcript, it finds them again with the other name: what these tests expect
does not hang on what the shipped weights make of the words.
"""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from setdown.catalogue.work import OwnLexicon


@dataclass(frozen=True)
class Renamed:
    """A movement: its id, the name that the shipped lexicon has, the new name, and the file that gives it."""

    key: str
    was: str
    name: str
    own: tuple[OwnLexicon, ...]

    @property
    def text(self) -> str:
        """What stands in the file."""
        return self.own[0][1].decode()


def rename_first_movement(store: sqlite3.Connection, location: str) -> Renamed:
    """The movement that has the most sets in the class whose location ends so, with another name."""
    key, was = store.execute(
        "SELECT key, movement.name FROM class JOIN class_movement ON class_id = class.id "
        "JOIN movement ON movement.id = movement_id WHERE location LIKE ? AND known "
        "ORDER BY class_movement.sets DESC, key",
        (f"%/{location}",),
    ).fetchone()
    name = f"lifeboat {was}"
    return Renamed(key, was, name, (("own.toml", f'[[movement]]\nid = "{key}"\nname = "{name}"\n'.encode()),))
