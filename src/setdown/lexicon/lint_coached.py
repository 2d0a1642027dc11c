"""Checks of the coached lines: talk that teaches a movement without saying its name.

Tens of thousands of words are searched for thousands of names, which is what spaCy's PhraseMatcher is for.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import spacy
from spacy.matcher import PhraseMatcher
from spacy.tokens import Doc

from setdown.lexicon.lint_base import Finding, Row, Sheet, list_rows
from setdown.lexicon.lint_movements import list_names
from setdown.lexicon.normal import normalise_name

LEAST_WORDS = 5


def check_coached(sheets: dict[str, list[Sheet]]) -> Iterator[Finding]:
    """Lines of movements that are not known, too short to tell anything, there twice, or with the name in them."""
    movements = {row.cells["id"]: row for row in list_rows(sheets, "movements")}
    rows = list_rows(sheets, "coached")
    first: dict[tuple[str, ...], Row] = {}
    words = [normalise_name(row.cells["text"]) for row in rows]
    for row, said in zip(rows, words, strict=True):
        if row.cells["id"] not in movements:
            yield row.find("id", f"no movement has the id {row.cells['id']!r}", "Use an id of movements/*.csv")
        if len(said) < LEAST_WORDS:
            yield row.find("text", f"{len(said)} words", f"At least {LEAST_WORDS}: shorter talk may be of any movement")
        other = first.setdefault(said, row)
        if other is not row:
            yield row.find("text", f"the same as {other.file}:{other.line}", "Take one out")
    yield from _find_names(movements, rows, words)


def _find_names(movements: dict[str, Row], rows: Sequence[Row], words: Sequence[tuple[str, ...]]) -> Iterator[Finding]:
    """Lines that say a name of their own movement; names of everyday words (``?``) are not asked about."""
    vocab = spacy.blank("en").vocab
    matcher = PhraseMatcher(vocab, attr="ORTH")
    for ident, movement in movements.items():
        names = {normalise_name(name) for _, name in list_names(movement) if not name.endswith("?")}
        matcher.add(ident, [Doc(vocab, words=list(name)) for name in sorted(names) if name])
    for row, said in zip(rows, words, strict=True):
        doc = Doc(vocab, words=list(said))
        for key, start, end in matcher(doc):
            if vocab.strings[key] == row.cells["id"]:
                name = " ".join(said[start:end])
                hint = "Names are known already: say it as if nobody had said the name"
                yield row.find("text", f"the name {name!r} is in the line", hint)
                break
