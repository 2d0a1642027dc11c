"""The lexicon in memory: the data by id, and looking it up in the words of a class."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from setdown.lexicon.data import LexiconData
from setdown.lexicon.described import DescribedIndex
from setdown.lexicon.entries import (
    Described,
    DescribedHit,
    Kit,
    MisheardRow,
    Movement,
    Muscle,
    NameHit,
    Repair,
    Unit,
)
from setdown.lexicon.find import MovementFinder

if TYPE_CHECKING:
    from setdown.lexicon.explain import Explained


class Lexicon:
    """What words mean. Made by ``load_lexicon`` and not changed afterwards; indexes are built when first needed."""

    def __init__(self, data: LexiconData) -> None:
        self.data = data

    @property
    def movements(self) -> dict[str, Movement]:
        """The movements by id."""
        return self.data.movements

    @property
    def muscles(self) -> dict[str, Muscle]:
        """The muscles and muscle groups by id."""
        return self.data.muscles

    @property
    def kit(self) -> dict[str, Kit]:
        """The pieces of kit by id."""
        return self.data.kit

    @property
    def units(self) -> dict[str, Unit]:
        """The units by id."""
        return self.data.units

    @property
    def described(self) -> tuple[Described, ...]:
        """The ways to describe a movement without its name."""
        return self.data.described

    @property
    def misheard(self) -> tuple[MisheardRow, ...]:
        """What captions write for words of the trade."""
        return self.data.misheard

    @property
    def fingerprint(self) -> str:
        """Twelve hexadecimal digits that change whenever any data file, shipped or own, does."""
        return self.data.fingerprint

    @property
    def folder(self) -> Path:
        """Where the shipped data was read (``phrases/`` is in there too)."""
        return self.data.folder

    @cached_property
    def finder(self) -> MovementFinder:
        """The indexes of names, mis-hearings and near matches."""
        return MovementFinder(self.data)

    @cached_property
    def described_index(self) -> DescribedIndex:
        """The index of descriptions."""
        return DescribedIndex(self.described)

    def find_movements(self, words: Sequence[str], wanted: Callable[[int, int], bool] | None = None) -> list[NameHit]:
        """The movement names in the words of a class (lower case, punctuation stripped), in order, none overlapping.

        Names that stand in the words go before near matches, the longest first. ``wanted(start, end)`` says whether the
        words around ``[start, end)`` want a movement: it decides over near matches, and over whether a name that rests
        on single everyday words that may have been mis-heard is weak. Without it a plain guard looks for set-up words
        and counts nearby.
        """
        return self.finder.find(words, wanted)

    def find_described(self, words: Sequence[str]) -> list[DescribedHit]:
        """The places where all keywords of a described movement lie within 14 words, in order.

        Hits of one movement do not overlap; hits of different movements may, and ``score`` ranks them.
        """
        return self.described_index.find(words)

    def find_repairs(self, words: Sequence[str]) -> list[Repair]:
        """Every place where ``misheard.csv`` knows what was said, movement or not: in order, none overlapping."""
        return self.finder.find_repairs(words)

    def look_up(self, name: str) -> Movement | None:
        """The movement with this id or name, in any spelling that means the same; ``None`` when there is none."""
        found = self.movements.get(name)
        if found is None:
            listed = self.finder.names.look_up(name)
            found = self.movements[listed.movement] if listed else None
        return found

    def explain(self, text: str) -> list[Explained]:
        """What in ``text`` is a movement and why, and the names that come closest otherwise."""
        from setdown.lexicon.explain import explain_text

        return explain_text(self.finder, self.described_index, text)
