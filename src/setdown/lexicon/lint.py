"""Checks of the lexicon's data: every doubtful cell by file, line and column, with what to do about it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

from setdown.errors import SetdownError
from setdown.lexicon.everyday import FUNCTION_WORDS
from setdown.lexicon.folder import find_lexicon_folder
from setdown.lexicon.lint_base import Finding, Sheet, check_text, read_sheet
from setdown.lexicon.lint_coached import check_coached
from setdown.lexicon.lint_movements import check_movements
from setdown.lexicon.lint_other import (
    check_described,
    check_kit,
    check_misheard,
    check_muscles,
    check_units,
)
from setdown.lexicon.normal import normalise_word
from setdown.lexicon.phrases import load_phrases
from setdown.lexicon.tables import (
    COACHED_COLUMNS,
    DESCRIBED_COLUMNS,
    KIT_COLUMNS,
    MISHEARD_COLUMNS,
    MOVEMENT_COLUMNS,
    MUSCLE_COLUMNS,
    UNIT_COLUMNS,
)

Check = Callable[[dict[str, list[Sheet]]], Iterator[Finding]]

_TABLES = {
    "movements": ("movements/*.csv", MOVEMENT_COLUMNS),
    "described": ("described/*.csv", DESCRIBED_COLUMNS),
    "coached": ("coached/*.csv", COACHED_COLUMNS),
    "misheard": ("misheard.csv", MISHEARD_COLUMNS),
    "muscles": ("muscles.csv", MUSCLE_COLUMNS),
    "kit": ("kit.csv", KIT_COLUMNS),
    "units": ("units.csv", UNIT_COLUMNS),
}
WRITTEN_BY_TRAINING = "heard.csv"  # lines of annotated classes, with the names and whatever else was said
_CHECKS: tuple[Check, ...] = (
    check_text,
    check_movements,
    check_described,
    check_coached,
    check_muscles,
    check_kit,
    check_units,
)


def lint_lexicon(folder: Path | None = None) -> list[Finding]:
    """What is wrong or doubtful in a lexicon folder (without one: in the one in use), by file and line.

    Raises:
        SetdownError: no folder is given and none is found.
    """
    root = folder if folder is not None else find_lexicon_folder()
    findings: list[Finding] = []
    sheets: dict[str, list[Sheet]] = {}
    for table, (pattern, columns) in _TABLES.items():
        paths = sorted(path for path in root.glob(pattern) if path.name != WRITTEN_BY_TRAINING)
        if not paths and table not in ("described", "coached"):
            findings.append(Finding(pattern, 1, "", "the table is missing", f"Add it, headed {','.join(columns)}"))
        sheets[table] = []
        for path in paths:
            sheet, problems = read_sheet(path, path.relative_to(root).as_posix(), columns)
            sheets[table].append(sheet)
            findings.extend(problems)
    for check in _CHECKS:
        findings.extend(check(sheets))
    phrase_words: set[str] = set()
    try:
        for kind in load_phrases(root / "phrases").values():
            phrase_words.update(form for phrase in kind.phrases for word in phrase for form in normalise_word(word))
    except SetdownError as error:
        file = Path(error.source).relative_to(root).as_posix() if error.source else "phrases"
        findings.append(Finding(file, error.line or 1, "", error.problem, error.hint))
    findings.extend(check_misheard(sheets, frozenset(phrase_words - FUNCTION_WORDS)))
    return sorted(set(findings), key=lambda f: (f.file, f.line, f.column, f.problem))
