"""What all names together tell: their pieces, the compounds among them, what they sound like.

It depends on ``movements/*.csv`` alone and takes longer to work out than a class takes to read, so it is kept in
``names.json`` beside the data, with the fingerprint of those files. Where that file is missing or older than the data,
and for a coach's own words, it is worked out in memory (slower, the same). ``compile_names``
writes it anew.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from setdown.lexicon.compounds import Compounds
from setdown.lexicon.names import CutNames, NameIndex, NameRows, cut_names
from setdown.lexicon.near_keys import list_keys

COMPILED = "names.json"
_BETWEEN = ";"  # no piece and no key has one


@dataclass(frozen=True, slots=True)
class NameTable:
    """``cut``: the names in pieces. ``keys``: two for each name, the consonant keys of ``near_keys.list_keys``, empty
    where a name has fewer. ``movements_of``: how many movements have a piece in a name."""

    cut: CutNames
    keys: Sequence[str]
    movements_of: Mapping[str, int]


def learn_name_table(rows: NameRows) -> NameTable:
    """The table of all these names."""
    cut = cut_names(rows)
    index = NameIndex(rows, cut)
    keys: list[str] = []
    movements_of: dict[str, set[str]] = {}
    for number, form in enumerate(cut.forms):
        listed = index.at(number) if form else None
        of_name = list_keys(listed) if listed else []
        keys += [*of_name, "", ""][:2]
        for piece in listed.forms if listed else ():
            movements_of.setdefault(piece, set()).add(rows[number].movement)
    return NameTable(cut, keys, {piece: len(movements) for piece, movements in movements_of.items()})


def format_name_table(table: NameTable, sources: str) -> str:
    """The compiled file: the fingerprint of what it was made from, and the table."""
    compiled = {
        "sources": sources,
        "forms": _BETWEEN.join(table.cut.forms),
        "keys": _BETWEEN.join(table.keys),
        "sizes": {first: dict(sorted(behind.items())) for first, behind in sorted(table.cut.sizes.items())},
        "cuts": dict(sorted(table.cut.compounds.cuts.items())),
        "movements_of": dict(sorted(table.movements_of.items())),
    }
    return json.dumps(compiled, ensure_ascii=False, separators=(",", ":")) + "\n"


def load_name_table(rows: NameRows, folder: Path, sources: str) -> NameTable:
    """The table of these names: the compiled one of the folder when it was made from ``sources``, else a fresh one."""
    compiled = _read_compiled(folder / COMPILED)
    if not sources or compiled.get("sources") != sources:
        return learn_name_table(rows)
    movements_of: dict[str, int] = compiled["movements_of"]
    compounds = Compounds.restore(compiled["cuts"], movements_of)
    cut = CutNames(compiled["forms"].split(_BETWEEN), compounds, compiled["sizes"])
    return NameTable(cut, compiled["keys"].split(_BETWEEN), movements_of)


def _read_compiled(path: Path) -> dict[str, Any]:
    if not path.is_file():
        return {}
    compiled: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return compiled
