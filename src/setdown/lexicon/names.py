"""The index of names: every listed name of every movement, looked up over all words of a class at once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType
from typing import Any, NamedTuple

from setdown.lexicon.compounds import Compounds
from setdown.lexicon.entries import Movement
from setdown.lexicon.normal import normalise_name

_KEY = "name"


class ListedName(NamedTuple):
    """One listed name: its movement's id, the name as written, and its pieces.

    ``weak``: it is an everyday word too. ``usual``: it is the usual name of the movement, not one of the others.
    """

    movement: str
    name: str
    forms: tuple[str, ...]
    weak: bool
    usual: bool


class NameIndex:
    """Listed names by their normal pieces. Where two movements share one, the one that came first keeps it; an alias
    (name -> movement id) goes before all."""

    def __init__(self, movements: Iterable[Movement], aliases: Mapping[str, str] = MappingProxyType({})) -> None:
        rows = [(movement_id, name, False, False) for name, movement_id in aliases.items()]
        for movement in movements:
            weak = movement.weak_names
            rows.append((movement.id, movement.name, movement.name in weak, True))
            rows.extend([(movement.id, name, name in weak, False) for name in movement.names])
        normal = [normalise_name(row[1]) for row in rows]
        self.compounds = Compounds(normal)
        self.names: dict[tuple[str, ...], ListedName] = {}
        for (movement_id, name, is_weak, usual), pieces in zip(rows, normal, strict=True):
            forms = self.compounds.take_apart(pieces)
            if forms and forms not in self.names:
                self.names[forms] = ListedName(movement_id, name, forms, is_weak, usual)
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
