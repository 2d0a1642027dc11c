"""Compounds: 'pushup', 'push-up' and 'push up' are one name, and so are 'deadlift' and 'dead lift'.

What counts as a compound is learned from the names themselves. Two words that stand side by side in a name may also be
written as one, so the one word is always taken apart (``pushup`` -> ``push up``): that cannot hurt. A long word of a
name may also be written as two, but joining two words of ordinary talk can (``step up right foot`` holds ``upright``),
so a join is only offered as a second reading.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

from setdown.lexicon.normal import Pieces, normalise_name, normalise_word

_SHORTEST = 5  # letters of the joined word; below that chance meetings outnumber compounds


class Compounds:
    """Cuts words into pieces as the names of one lexicon want them."""

    def __init__(self, names: Iterable[tuple[str, ...]]) -> None:
        """Learns from names in normal pieces."""
        apart: dict[str, tuple[str, str]] = {}
        singles: set[str] = set()
        for forms in set(names):
            singles.update(forms)
            left = ""
            for right in forms:
                if len(left) > 1 and len(right) > 1:
                    apart[left + right] = (left, right)
                left = right
        # Two ways to cut one word apart (none is known) would make the outcome depend on the order of the names.
        self._apart = {word: parts for word, parts in apart.items() if len(word) >= _SHORTEST}
        self._whole = frozenset(s for s in singles if len(s) >= _SHORTEST and s not in self._apart and s.isalpha())
        self._cut: dict[str, tuple[str, ...]] = {}

    def take_apart(self, forms: tuple[str, ...]) -> tuple[str, ...]:
        """Normal pieces with the compounds among them taken apart."""
        if self._apart.keys().isdisjoint(forms):
            return forms
        return tuple(piece for form in forms for piece in self._apart.get(form, (form,)))

    def cut_word(self, word: str) -> tuple[str, ...]:
        """The pieces of one word, compounds taken apart."""
        known = self._cut.get(word)
        if known is None:
            known = self._cut[word] = self.take_apart(normalise_word(word))
        return known

    def cut_name(self, name: str) -> tuple[str, ...]:
        """The pieces of a name or phrase."""
        return self.take_apart(normalise_name(name))

    def cut_words(self, words: Sequence[str]) -> Pieces:
        """The pieces of all words of a class, each with the index of its word."""
        known, cut = self._cut, self.cut_word
        forms: list[str] = []
        origin: list[int] = []
        for index, word in enumerate(words):
            pieces = known.get(word) or cut(word)
            if len(pieces) == 1:
                forms.append(pieces[0])
                origin.append(index)
            else:
                forms.extend(pieces)
                origin.extend([index] * len(pieces))
        return Pieces(forms, origin)

    def find_joins(self, forms: Sequence[str]) -> list[int]:
        """Positions ``i`` where pieces ``i`` and ``i + 1`` together are one long word of a name."""
        whole = self._whole
        return [i for i, (left, right) in enumerate(pairwise(forms)) if left + right in whole]
