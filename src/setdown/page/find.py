"""Choosing a movement by a part of its name."""

from __future__ import annotations

import re

from setdown.lexicon import Lexicon

MOST = 12


class MovementNames:
    """All names of the lexicon, to be looked through at every key stroke."""

    def __init__(self, lexicon: Lexicon) -> None:
        self._names = [
            (_plain(name), movement.name)
            for movement in lexicon.movements.values()
            for name in (movement.name, *movement.names)
        ]

    def find(self, text: str) -> list[str]:
        """At most twelve movements that have all the words, or beginnings of words; the closest first."""
        asked = _plain(text)
        parts = [re.compile(r"\b" + re.escape(part)) for part in asked.split()]
        found: dict[str, tuple[int, int, str]] = {}
        for name, movement in self._names:
            if all(part.search(name) for part in parts):
                rank = (0 if name == asked else 1 if name.startswith(asked) else 2, len(name), movement)
                found[movement] = min(found.get(movement, rank), rank)
        return sorted(found, key=found.__getitem__)[:MOST]


def _plain(name: str) -> str:
    return " ".join(re.sub(r"[^\w]+", " ", name.lower()).split())
