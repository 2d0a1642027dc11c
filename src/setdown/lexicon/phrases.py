"""Phrases of structure and coaching: data in ``lexicon/phrases/*.toml``, matched over the words of a whole class.

A pattern is words; ``a|b`` is either word and ``word?`` may be missing. Patterns are written out into literal phrases
once, and all of them are looked up in one pass with spaCy's PhraseMatcher.
"""

from __future__ import annotations

import itertools
import tomllib
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from setdown.errors import SetdownError

if TYPE_CHECKING:
    from spacy.matcher import PhraseMatcher
    from spacy.tokens import Doc

MAX_EXPANSIONS = 400


@dataclass(frozen=True, slots=True)
class PhraseKind:
    """One table of a phrase file: its literal phrases, each a tuple of words."""

    name: str
    about: str
    phrases: frozenset[tuple[str, ...]]


def expand_pattern(pattern: str) -> list[tuple[str, ...]]:
    """``set|put it down?`` -> [('set','it','down'), ('set','it'), ('put','it','down'), ('put','it')].

    Raises:
        ValueError: the pattern is empty, or stands for more than 400 phrases.
    """
    if "|" not in pattern and "?" not in pattern and (words := tuple(pattern.split())):
        return [words]
    slots: list[list[str]] = []
    count = 1
    for token in pattern.split():
        optional = token.endswith("?")
        choices = token.rstrip("?").split("|")
        if any(not c for c in choices):
            raise ValueError(f"empty word in pattern {pattern!r}")
        if optional:
            choices.append("")
        slots.append(choices)
        count *= len(choices)
    if not slots or count > MAX_EXPANSIONS:
        raise ValueError(f"pattern {pattern!r} stands for {count} phrases; 1 to {MAX_EXPANSIONS} are allowed")
    found = {tuple(w for w in chosen if w) for chosen in itertools.product(*slots)}
    found.discard(())
    return sorted(found)


def load_phrases(folder: Path) -> dict[str, PhraseKind]:
    """All phrase kinds of ``folder/*.toml`` by name.

    Raises:
        SetdownError: a file is not TOML, a table has no ``phrases``, a kind stands in two files, a pattern is bad.
    """
    kinds: dict[str, PhraseKind] = {}
    for path in sorted(folder.glob("*.toml")):
        try:
            tables: dict[str, Any] = tomllib.loads(path.read_text(encoding="utf-8"))
        except tomllib.TOMLDecodeError as error:
            raise SetdownError(f"not TOML: {error}", source=str(path), hint="Mend the file, then try again") from error
        for name, table in tables.items():
            if not isinstance(table, dict) or not isinstance(table.get("phrases"), list):
                raise SetdownError(f"table [{name}] has no list 'phrases'", source=str(path))
            if name in kinds:
                raise SetdownError(f"phrase kind [{name}] stands in two files", source=str(path))
            try:
                phrases = frozenset(p for pattern in table["phrases"] for p in expand_pattern(str(pattern)))
            except ValueError as error:
                raise SetdownError(str(error), source=str(path)) from error
            kinds[name] = PhraseKind(name, str(table.get("about", "")), phrases)
    return kinds


def match_phrases(matcher: PhraseMatcher, doc: Doc) -> list[tuple[str, int, int]]:
    """(kind, start, end) of every phrase in the words of ``doc``, in order; of one kind the longest at a place only."""
    strings = doc.vocab.strings
    found = sorted(
        ((strings[key], start, end) for key, start, end in matcher(doc)), key=lambda m: (m[0], m[1], -(m[2] - m[1]))
    )
    kept: list[tuple[str, int, int]] = []
    for kind, start, end in found:
        if kept and kept[-1][0] == kind and start < kept[-1][2]:
            continue
        kept.append((kind, start, end))
    return sorted(kept, key=lambda m: (m[1], m[2], m[0]))


class PhraseFinder:
    """All phrase kinds of one lexicon folder behind one matcher over the verbatim (already lower-cased) words.

    A phrase goes into the matcher when a class first has all its words: most classes have those of a quarter.
    """

    def __init__(self, folder: Path) -> None:
        from spacy.matcher import PhraseMatcher
        from spacy.vocab import Vocab

        self.kinds = load_phrases(folder)
        self._vocab = Vocab()
        self._matcher = PhraseMatcher(self._vocab, attr="ORTH")
        self._waiting: dict[str, list[tuple[str, tuple[str, ...]]]] = defaultdict(list)  # by first word
        for kind in self.kinds.values():
            for phrase in sorted(kind.phrases):
                self._waiting[phrase[0]].append((kind.name, phrase))

    def find(self, words: Sequence[str]) -> list[tuple[str, int, int]]:
        """(kind, start, end) over normalised words, see :func:`match_phrases`."""
        from spacy.tokens import Doc

        if not words:
            return []
        self._add_phrases(set(words))
        return match_phrases(self._matcher, Doc(self._vocab, words=list(words)))

    def _add_phrases(self, words: set[str]) -> None:
        from spacy.tokens import Doc

        for first in self._waiting.keys() & words:
            waiting = self._waiting.pop(first)
            ready = [(kind, phrase) for kind, phrase in waiting if words.issuperset(phrase)]
            for kind, phrase in ready:
                self._matcher.add(kind, [Doc(self._vocab, words=list(phrase))])
            if len(ready) < len(waiting):
                self._waiting[first] = [entry for entry in waiting if entry not in ready]


@lru_cache(maxsize=4)
def load_phrase_finder(folder: Path) -> PhraseFinder:
    """The finder for ``folder`` (the lexicon's ``phrases``), built once per process."""
    return PhraseFinder(folder)
