"""Phrases of structure and coaching: data in ``lexicon/phrases/*.toml``, matched over the words of a whole class.

A pattern is words; ``a|b`` is either word and ``word?`` may be missing. Patterns are written out into literal phrases
once, and all of them are looked up in one pass. Tests compare with what spaCy's PhraseMatcher finds; the lookup itself
is our own, because importing spaCy takes longer than extracting a class.
"""

from __future__ import annotations

import itertools
import tomllib
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from operator import itemgetter
from pathlib import Path
from typing import Any

from setdown.errors import SetdownError

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


class PhraseFinder:
    """All phrase kinds of one lexicon folder, looked up together in the verbatim (already lower-cased) words.

    A phrase of several words is only looked at where its first two stand side by side: few places in a class.
    """

    def __init__(self, folder: Path) -> None:
        self.kinds = load_phrases(folder)
        kinds_of: dict[tuple[str, ...], tuple[str, ...]] = defaultdict(tuple)
        for kind in self.kinds.values():
            for phrase in kind.phrases:
                kinds_of[phrase] += (kind.name,)
        self._single = {phrase[0]: kinds for phrase, kinds in kinds_of.items() if len(phrase) == 1}
        # By the first two words, the longest first: how many words, which ones, of which kinds.
        self._longer: dict[str, dict[str, list[tuple[int, tuple[str, ...], tuple[str, ...]]]]] = {}
        for phrase in sorted(kinds_of, key=len, reverse=True):
            if len(phrase) > 1:
                behind = self._longer.setdefault(phrase[0], {})
                behind.setdefault(phrase[1], []).append((len(phrase), phrase, kinds_of[phrase]))

    def find(self, words: Sequence[str]) -> list[tuple[str, int, int]]:
        """(kind, start, end) of every phrase in normalised words, in order.

        Of one kind the first goes before those that overlap it, at one place the longest.
        """
        single, longer = self._single, self._longer
        words = tuple(words)
        free_from = dict.fromkeys(self.kinds, 0)
        found: list[tuple[str, int, int]] = []
        for start, word in enumerate(words):
            if word in longer and start + 1 < len(words):
                for size, phrase, kinds in longer[word].get(words[start + 1], ()):
                    if words[start : start + size] == phrase:
                        for kind in kinds:
                            if start >= free_from[kind]:
                                free_from[kind] = start + size
                                found.append((kind, start, start + size))
            if word in single:
                for kind in single[word]:
                    if start >= free_from[kind]:
                        free_from[kind] = start + 1
                        found.append((kind, start, start + 1))
        found.sort(key=itemgetter(1, 2, 0))
        return found


@lru_cache(maxsize=4)
def load_phrase_finder(folder: Path) -> PhraseFinder:
    """The finder for ``folder`` (the lexicon's ``phrases``), built once per process."""
    return PhraseFinder(folder)
