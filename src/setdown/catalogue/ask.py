"""What is in a catalogue that a question may be about: movements, instructors, classes by name."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping, Sequence

from rapidfuzz import fuzz, process

from setdown.catalogue.query import Wanted
from setdown.catalogue.speech import cut_tokens
from setdown.catalogue.words import NEARLY, SUGGESTIONS, resolve_movement
from setdown.errors import SetdownError
from setdown.lexicon import Lexicon


def want_movement(
    text: str, lexicon: Lexicon, unknown: Mapping[str, str], *, exact: bool = False, family: bool = False
) -> Wanted:
    """The movements that are meant by a name: the movement, and its variants when it is the basic one of its family.

    ``exact`` takes the movement alone, ``family`` the family of whatever movement it is. Raises SetdownError when no
    name is like the text.
    """
    meant = resolve_movement(text, lexicon, unknown)
    movement = lexicon.movements.get(meant.id)
    keys = {meant.id}
    if movement is not None and not exact and (family or movement.family == movement.id):
        keys |= {one.id for one in lexicon.movements.values() if one.family == movement.family}
    return Wanted(frozenset(keys), meant.name, meant.guessed)


def list_unknown(connection: sqlite3.Connection) -> dict[str, str]:
    """Key and name of the movements in the catalogue that no lexicon knew."""
    return dict(connection.execute("SELECT key, name FROM movement WHERE known = 0 ORDER BY id"))


def find_instructors(connection: sqlite3.Connection, texts: Sequence[str]) -> tuple[str, ...]:
    """The instructors whose names hold all the words of one of the texts, as they are written in the catalogue.

    Raises:
        SetdownError: nobody is called so; with the names that come nearest.
    """
    known = [name for (name,) in connection.execute("SELECT DISTINCT instructor FROM class WHERE instructor <> ''")]
    tokens = {name: cut_tokens(name) for name in known}
    found: set[str] = set()
    for text in texts:
        wanted = cut_tokens(text)
        mine = {
            name
            for name in known
            if wanted and all(any(token.startswith(word) for token in tokens[name]) for word in wanted)
        }
        if not mine:
            near = process.extract(text, known, scorer=fuzz.WRatio, limit=SUGGESTIONS, score_cutoff=NEARLY)
            hint = f"Nearest: {', '.join(name for name, _, _ in near)}" if near else ""
            raise SetdownError(f"no instructor is called {text!r}", hint=hint)
        found |= mine
    return tuple(sorted(found))


def find_class(connection: sqlite3.Connection, text: str) -> int:
    """The id of the class with this location, file, file name or title.

    Raises:
        SetdownError: there is none, or there are several.
    """
    from setdown.catalogue.places import settle_place

    place = settle_place(text)
    look = "SELECT id, location FROM class WHERE "
    for condition, values in (
        ("location = ? OR transcript = ? OR routine = ?", (place, place, place)),
        ("title = ? COLLATE NOCASE", (text,)),
        ("substr(location, -length(?)) = ?", (f"/{text}", f"/{text}")),
        ("substr(transcript, -length(?)) = ?", (f"/{text}", f"/{text}")),
        ("substr(routine, -length(?)) = ?", (f"/{text}", f"/{text}")),
    ):
        rows = connection.execute(f"{look}{condition} ORDER BY location", values).fetchall()
        if len(rows) > 1:
            named = ", ".join(location for _, location in rows[:SUGGESTIONS])
            raise SetdownError(f"{len(rows)} classes are called {text!r}", hint=f"Name one by its file: {named}")
        if rows:
            return int(rows[0][0])
    raise SetdownError(f"no class is called {text!r}", expected="a title, or a file that is in the catalogue")
