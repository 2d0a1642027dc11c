"""Compounds: 'pushup', 'push-up' and 'push up' are one name, and so are 'deadlift' and 'dead lift'.

What counts as a compound is learned from the names themselves. Two words that stand side by side in a name may also be
written as one, so the one word is always taken apart (``pushup`` -> ``push up``): that cannot hurt. A long word of a
name may also be written as two, but joining two words of ordinary talk can (``step up right foot`` holds ``upright``),
so a join is only offered as a second reading.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from setdown.lexicon.normal import Pieces, normalise_name, normalise_word

_SHORTEST = 5  # letters of the joined word; below that chance meetings outnumber compounds


class Compounds:
    """Cuts words into pieces as the names of one lexicon want them."""

    def __init__(self, names: Iterable[str]) -> None:
        self._apart: dict[str, tuple[str, str]] = {}
        singles: set[str] = set()
        for name in names:
            forms = normalise_name(name)
            singles.update(forms)
            for left, right in zip(forms, forms[1:], strict=False):
                if len(left) > 1 and len(right) > 1 and len(left) + len(right) >= _SHORTEST:
                    self._apart.setdefault(left + right, (left, right))
        self._whole = frozenset(s for s in singles if len(s) >= _SHORTEST and s not in self._apart and s.isalpha())
        self._cut: dict[str, tuple[str, ...]] = {}

    def cut_word(self, word: str) -> tuple[str, ...]:
        """The pieces of one word, compounds taken apart."""
        known = self._cut.get(word)
        if known is None:
            known = tuple(piece for form in normalise_word(word) for piece in self._apart.get(form, (form,)))
            self._cut[word] = known
        return known

    def cut_name(self, name: str) -> tuple[str, ...]:
        """The pieces of a name or phrase."""
        return tuple(piece for word in name.split() for piece in self.cut_word(word))

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
        return [i for i, (left, right) in enumerate(zip(forms, forms[1:], strict=False)) if left + right in whole]
