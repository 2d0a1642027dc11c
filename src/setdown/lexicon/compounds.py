"""Compounds: 'pushup', 'push-up' and 'push up' are one name, and so are 'deadlift' and 'dead lift'.

What counts as a compound is learned from the names themselves. Two words that stand side by side in a name may also be
written as one, so the one word is always taken apart (``pushup`` -> ``push up``): that cannot hurt. A long word of a
name may also be written as two, but joining two words of ordinary talk can (``step up right foot`` holds ``upright``),
so a join is only offered as a second reading.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import islice, pairwise
from operator import add
from typing import NamedTuple

from setdown.lexicon.normal import normalise_name, normalise_word

_SHORTEST = 5  # letters of the joined word; below that chance meetings outnumber compounds
_MOST_KEPT = 1 << 16  # words whose pieces are remembered


class Pieces(NamedTuple):
    """Normal pieces of a list of words; piece ``i`` was cut from word ``word[i]`` and there reads ``written[i]``.

    That keeps a plural ending, which the sound of a mis-heard word may need; of a hyphenated word it is the piece.
    """

    forms: list[str]
    word: list[int]
    written: list[str]


class Compounds:
    """Cuts words into pieces as the names of one lexicon want them.

    Attributes:
        cuts: every word that is taken apart, and after how many letters.
    """

    def __init__(self, names: Iterable[tuple[str, ...]]) -> None:
        """Learns from names in normal pieces."""
        cuts: dict[str, int] = {}
        singles: set[str] = set()
        for forms in set(names):
            singles.update(forms)
            for left, right in pairwise(forms):
                if len(left) > 1 and len(right) > 1 and len(left) + len(right) >= _SHORTEST:
                    # Of two ways to cut one word (none is known) the shorter beginning: no matter the order of names.
                    word = left + right
                    cuts[word] = min(len(left), cuts.get(word, len(left)))
        self._keep(cuts, singles)

    @classmethod
    def restore(cls, cuts: Mapping[str, int], singles: Iterable[str]) -> Compounds:
        """What was learned before: the ``cuts``, and the pieces of the names."""
        made = cls.__new__(cls)
        made._keep(cuts, singles)
        return made

    def _keep(self, cuts: Mapping[str, int], singles: Iterable[str]) -> None:
        self.cuts = cuts
        self._whole = frozenset([s for s in singles if len(s) >= _SHORTEST and s not in cuts and s.isalpha()])
        self._cut: dict[str, tuple[str, ...]] = {}

    def take_apart(self, forms: tuple[str, ...]) -> tuple[str, ...]:
        """Normal pieces with the compounds among them taken apart."""
        cuts = self.cuts
        for form in forms:
            if form in cuts:
                break
        else:
            return forms
        apart: list[str] = []
        for form in forms:
            at = cuts.get(form)
            apart += (form,) if at is None else (form[:at], form[at:])
        return tuple(apart)

    def cut_word(self, word: str) -> tuple[str, ...]:
        """The pieces of one word, compounds taken apart."""
        known = self._cut.get(word)
        if known is None:
            if len(self._cut) >= _MOST_KEPT:
                self._cut.clear()
            known = self._cut[word] = self.take_apart(normalise_word(word))
        return known

    def cut_name(self, name: str) -> tuple[str, ...]:
        """The pieces of a name or phrase."""
        return self.take_apart(normalise_name(name))

    def cut_words(self, words: Sequence[str]) -> Pieces:
        """The pieces of all words of a class."""
        cut_word = self.cut_word
        single: dict[str, tuple[str, str]] = {}  # words of one piece, which nearly all are: it, and how it reads
        for word in set(words):
            pieces = cut_word(word)
            if len(pieces) == 1:
                single[word] = pieces[0], _read_piece(word, pieces[0])
        forms: list[str] = []
        origin: list[int] = []
        written: list[str] = []
        for index, word in enumerate(words):
            if word in single:
                form, reads = single[word]
                forms.append(form)
                origin.append(index)
                written.append(reads)
            else:
                for form in cut_word(word):
                    forms.append(form)
                    origin.append(index)
                    written.append(_read_piece(word, form))
        return Pieces(forms, origin, written)

    def find_joins(self, forms: Sequence[str]) -> list[int]:
        """Positions ``i`` where pieces ``i`` and ``i + 1`` together are one long word of a name."""
        whole = self._whole
        return [i for i, joined in enumerate(map(add, forms, islice(forms, 1, None))) if joined in whole]


def _read_piece(word: str, form: str) -> str:
    return word if word.isalpha() and len(word) <= len(form) + 2 else form
