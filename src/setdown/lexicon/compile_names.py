"""Writes ``names.json`` of a lexicon anew: ``python -m setdown.lexicon.compile_names [FOLDER]``.

To be run when a table of ``movements/`` has changed; until then the lexicon still loads, a little slower.
"""

from __future__ import annotations

import sys
from pathlib import Path

from setdown.lexicon.data import read_folder
from setdown.lexicon.folder import find_lexicon_folder
from setdown.lexicon.name_table import COMPILED, format_name_table, learn_name_table
from setdown.lexicon.names import NameRows


def compile_names(folder: Path) -> str:
    """The text of the compiled file for a lexicon folder."""
    data = read_folder(folder)
    return format_name_table(learn_name_table(NameRows(data.movements.values())), data.names_from)


if __name__ == "__main__":
    target = Path(sys.argv[1]) if len(sys.argv) > 1 else find_lexicon_folder()
    (target / COMPILED).write_text(compile_names(target), encoding="utf-8", newline="\n")
