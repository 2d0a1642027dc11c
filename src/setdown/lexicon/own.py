"""A coach's own lexicon: a TOML file with movements, other names and mis-hearings that go before the shipped ones."""

from __future__ import annotations

import hashlib
import json
import re
import tomllib
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any

from setdown.errors import SetdownError
from setdown.lexicon.data import LexiconData
from setdown.lexicon.entries import MisheardRow, Movement
from setdown.lexicon.name_table import load_name_table
from setdown.lexicon.names import NameIndex, NameRows
from setdown.lexicon.normal import normalise_name
from setdown.lexicon.tables import split_names
from setdown.lexicon.toml_lines import Block, locate_blocks, read_error_line

_SINGLE = ("family", "pattern", "sided", "basis")
_LISTS = ("primary", "secondary", "kit", "counted")


@cache
def load_own_schema() -> dict[str, Any]:
    """The JSON Schema (2020-12) of an own lexicon."""
    text = resources.files("setdown.lexicon").joinpath("own.schema.json").read_text(encoding="utf-8")
    schema: dict[str, Any] = json.loads(text)
    return schema


@dataclass(frozen=True, slots=True)
class OwnLexicon:
    """The tables of one own file, of the right shape, not yet checked against the shipped data."""

    path: Path
    movements: tuple[dict[str, Any], ...]
    aliases: tuple[dict[str, Any], ...]
    misheard: tuple[dict[str, Any], ...]
    blocks: dict[str, list[Block]]
    digest: str

    def put_on(self, data: LexiconData) -> LexiconData:
        """The data with these entries on top.

        Raises:
            SetdownError: an entry points to a movement, muscle or piece of kit that is not known, or stands twice.
        """
        own: dict[str, Movement] = {}
        known = _index_names(data)
        for number, table in enumerate(self.movements):
            movement = self._build_movement(table, number, data, known, own)
            if movement.id in own:
                raise self._error("movement", number, "name", f"movement {movement.id!r} stands twice in this file")
            own[movement.id] = movement
        movements = own | {ident: m for ident, m in data.movements.items() if ident not in own}
        for number, (movement, table) in enumerate(zip(own.values(), self.movements, strict=True)):
            self._check_ids(movement, table, number, data, movements)
        index = known if not own else NameIndex(NameRows(movements.values(), data.aliases))
        aliases: dict[str, str] = {}
        for number, table in enumerate(self.aliases):
            target = _find(table["means"], movements, index)
            if target is None:
                problem = f"no movement is called {table['means']!r}"
                raise self._error("alias", number, "means", problem, hint="Look it up with 'setdown lexicon find'")
            aliases[table["said"].strip().lower()] = target.id
        taken = {normalise_name(name) for m in own.values() for name in (m.name, *m.names)}
        taken |= {normalise_name(said) for said in aliases}
        earlier = {said: ident for said, ident in data.aliases.items() if normalise_name(said) not in taken}
        rows = tuple(MisheardRow(row["heard"].lower(), row["said"].lower()) for row in self.misheard)
        return replace(
            data,
            movements=movements,
            aliases=aliases | earlier,
            misheard=rows + data.misheard,
            fingerprint=hashlib.sha256(f"{data.fingerprint} {self.digest}".encode()).hexdigest()[:12],
            names_from="" if own or self.aliases else data.names_from,
        )

    def _build_movement(
        self, table: dict[str, Any], number: int, data: LexiconData, known: NameIndex, own: dict[str, Movement]
    ) -> Movement:
        name, names, weak = split_names(table["name"].lower(), ";".join(table.get("names", ())).lower())
        ident = table.get("id") or re.sub(r"[^a-z0-9]+", "-", name).strip("-")
        if not ident:
            problem = f"no id can be made from the name {name!r}"
            raise self._error("movement", number, "name", problem, hint="Add an id of lower-case letters and hyphens")
        base = data.movements.get(ident)
        if base is not None:
            # A change to a shipped movement keeps the names that it has.
            kept = tuple(n for n in (base.name, *base.names) if n != name and n not in names)
            names += kept
            weak |= base.weak_names.intersection(kept)
        if "like" in table:
            base = _find(table["like"], own | data.movements, known)
            if base is None:
                problem = f"no movement is called {table['like']!r}"
                raise self._error("movement", number, "like", problem, hint="Look it up with 'setdown lexicon find'")
        given: dict[str, Any] = {key: table[key] for key in _SINGLE if key in table}
        given |= {key: tuple(table[key]) for key in _LISTS if key in table}
        if base is None:
            given.setdefault("family", ident)
            return Movement(ident, name, names, weak, **given)
        return replace(base, id=ident, name=name, names=names, weak_names=weak, **given)

    def _check_ids(
        self, movement: Movement, table: dict[str, Any], number: int, data: LexiconData, movements: dict[str, Movement]
    ) -> None:
        checks = (
            ("family", "movement", (movement.family,), movements),
            ("primary", "muscle", movement.primary, data.muscles),
            ("secondary", "muscle", movement.secondary, data.muscles),
            ("kit", "piece of kit", movement.kit, data.kit),
        )
        for key, what, idents, there in checks:
            for ident in idents if key in table else ():
                if ident not in there:
                    raise self._error("movement", number, key, f"no {what} has the id {ident!r}")

    def _error(
        self, table: str, number: int, key: str, problem: str, *, expected: str = "", hint: str = ""
    ) -> SetdownError:
        line = _find_line(self.blocks, table, number, key)
        return SetdownError(problem, source=str(self.path), line=line, expected=expected, hint=hint)


def read_own_lexicon(path: Path) -> OwnLexicon:
    """An own lexicon from a TOML file.

    Raises:
        SetdownError: the file cannot be read, is not TOML, or an entry is not as the schema wants it; with the line.
    """
    try:
        raw = path.read_bytes()
        text = raw.decode("utf-8-sig")
        tables = tomllib.loads(text)
    except (OSError, UnicodeDecodeError) as error:
        raise SetdownError(f"cannot read this lexicon file: {error}", source=str(path)) from error
    except tomllib.TOMLDecodeError as error:
        raise SetdownError(f"not TOML: {error}", source=str(path), line=read_error_line(str(error))) from error
    blocks = locate_blocks(text)
    _check_shape(path, tables, blocks)
    return OwnLexicon(
        path,
        tuple(tables.get("movement", ())),
        tuple(tables.get("alias", ())),
        tuple(tables.get("misheard", ())),
        blocks,
        hashlib.sha256(raw.replace(b"\r\n", b"\n")).hexdigest(),
    )


def _index_names(data: LexiconData) -> NameIndex:
    rows = NameRows(data.movements.values(), data.aliases)
    return NameIndex(rows, load_name_table(rows, data.folder, data.names_from).cut)


def _check_shape(path: Path, tables: dict[str, Any], blocks: dict[str, list[Block]]) -> None:
    from jsonschema import Draft202012Validator

    errors = sorted(
        Draft202012Validator(load_own_schema()).iter_errors(tables), key=lambda e: list(map(str, e.absolute_path))
    )
    if not errors:
        return
    error = errors[0]
    where = [*error.absolute_path]
    table = str(where[0]) if where else ""
    number = where[1] if len(where) > 1 and isinstance(where[1], int) else 0
    key = str(where[2]) if len(where) > 2 else ""
    problem, expected = str(error.message), ""
    if error.validator == "additionalProperties":
        allowed = list(error.schema["properties"])
        unknown = sorted(set(error.instance) - set(allowed))
        key = unknown[0]
        problem, expected = f"unknown {'key' if where else 'table'} {key!r}", ", ".join(allowed)
        table = table or key
    elif error.validator == "required":
        missing = [name for name in error.validator_value if name not in error.instance]
        problem = f"[[{table}]] without {missing[0]!r}"
    elif error.validator == "enum":
        problem = f"{key} {error.instance!r} is not known"
        expected = ", ".join(value or "an empty text" for value in error.validator_value)
    elif error.validator == "pattern":
        problem = f"{key} {error.instance!r} will not do"
        wants_id = key in ("id", "family")
        expected = "lower-case letters, digits and single hyphens" if wants_id else "some text"
    elif error.validator == "type" and len(where) == 1:
        problem, expected = f"{table!r} is not a list of tables", f"[[{table}]]"
    raise SetdownError(problem, source=str(path), line=_find_line(blocks, table, number, key), expected=expected)


def _find_line(blocks: dict[str, list[Block]], table: str, number: int, key: str) -> int | None:
    there = blocks.get(table, [])
    if number >= len(there):
        return None
    return there[number].keys.get(key, there[number].line)


def _find(name: str, movements: dict[str, Movement], index: NameIndex) -> Movement | None:
    """The movement with this id or name."""
    if name in movements:
        return movements[name]
    listed = index.look_up(name.lower())
    if listed is not None and listed.movement in movements:
        return movements[listed.movement]
    forms = normalise_name(name)
    return next((m for m in movements.values() if normalise_name(m.name) == forms), None)
