"""The index of names: every listed name of every movement, looked up over all words of a class at once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from setdown.lexicon.compounds import Compounds
from setdown.lexicon.entries import Movement

_KEY = "name"


@dataclass(frozen=True, slots=True)
class ListedName:
    """One listed name: its movement's id, the name as written, its pieces, and whether it is an everyday word too."""

    movement: str
    name: str
    forms: tuple[str, ...]
    weak: bool


class NameIndex:
    """Listed names by their normal pieces. Where two movements share one, the one that came first keeps it; an alias
    (name -> movement id) goes before all."""

    def __init__(self, movements: Iterable[Movement], aliases: Mapping[str, str] = MappingProxyType({})) -> None:
        rows = list(movements)
        self.compounds = Compounds([*aliases, *(name for m in rows for name in (m.name, *m.names))])
        self.names: dict[tuple[str, ...], ListedName] = {}
        for name, movement_id in aliases.items():
            forms = self.compounds.cut_name(name)
            self.names.setdefault(forms, ListedName(movement_id, name, forms, weak=False))
        for movement in rows:
            for name in (movement.name, *movement.names):
                forms = self.compounds.cut_name(name)
                if forms and forms not in self.names:
                    self.names[forms] = ListedName(movement.id, name, forms, name in movement.weak_names)
        self.longest = max((len(forms) for forms in self.names), default=0)
        self._matcher: Any = None
        self._vocab: Any = None

    def get(self, forms: Sequence[str]) -> ListedName | None:
        """The listed name with just these pieces."""
        return self.names.get(tuple(forms))

    def look_up(self, name: str) -> ListedName | None:
        """The listed name that ``name`` is another spelling of."""
        return self.names.get(self.compounds.cut_name(name))

    def find(self, forms: list[str]) -> list[tuple[int, int, ListedName]]:
        """Every occurrence of a listed name in the pieces, overlapping ones too, as ``(start, end, name)``."""
        from spacy.tokens import Doc

        if not forms or not self.names:
            return []
        if self._matcher is None:
            self._build()
        names = self.names
        # Words that the matcher knows by number are told apart by it alone, so the look-up below never misses.
        spans = self._matcher(Doc(self._vocab, words=forms))
        return [(start, end, names[tuple(forms[start:end])]) for _, start, end in spans]

    def _build(self) -> None:
        from spacy.matcher import PhraseMatcher
        from spacy.tokens import Doc
        from spacy.vocab import Vocab

        vocab = Vocab()
        matcher = PhraseMatcher(vocab, attr="ORTH")
        add = vocab.strings.add
        hashed: Any = [[add(form) for form in forms] for forms in self.names]
        try:
            # A pattern may be the hashes of its words (as when a matcher is unpickled): ten times quicker than Docs.
            matcher.add(_KEY, hashed)
        except TypeError:
            matcher = PhraseMatcher(vocab, attr="ORTH")
            matcher.add(_KEY, [Doc(vocab, words=list(forms)) for forms in self.names])
        self._vocab, self._matcher = vocab, matcher
