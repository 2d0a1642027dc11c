"""Writes ``names.json`` and ``profiles.json`` of a lexicon anew: ``python -m setdown.lexicon.compile_names [FOLDER]``.

To be run when a table of ``movements/``, ``described/`` or ``coached/`` has changed; until then extraction gives the
same, but takes seconds to begin.
"""

from __future__ import annotations

import sys
from pathlib import Path

from setdown.lexicon import profiles
from setdown.lexicon.data import read_folder
from setdown.lexicon.folder import find_lexicon_folder
from setdown.lexicon.lexicon import Lexicon
from setdown.lexicon.name_table import COMPILED, format_name_table, learn_name_table
from setdown.lexicon.names import NameRows


def compile_names(folder: Path) -> str:
    """The text of the compiled file for a lexicon folder."""
    data = read_folder(folder)
    return format_name_table(learn_name_table(NameRows(data.movements.values())), data.names_from)


def compile_profiles(folder: Path) -> str:
    """The text of the compiled profiles of a lexicon folder."""
    model = profiles.learn_profiles(profiles.gather_texts(Lexicon(read_folder(folder))))
    return profiles.format_profiles(model, profiles.fingerprint_sources(folder))


if __name__ == "__main__":
    target = Path(sys.argv[1]) if len(sys.argv) > 1 else find_lexicon_folder()
    for name, text in ((COMPILED, compile_names(target)), (profiles.COMPILED, compile_profiles(target))):
        (target / name).write_text(text, encoding="utf-8", newline="\n")
