"""The index of names: every listed name of every movement, looked up over all words of a class at once."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache, cached_property
from itertools import accumulate, repeat
from types import MappingProxyType
from typing import NamedTuple

from setdown.lexicon.compounds import Compounds
from setdown.lexicon.entries import Movement
from setdown.lexicon.normal import normalise_name


class ListedName(NamedTuple):
    """One listed name: its movement's id, the name as written, and its pieces.

    ``weak``: it is an everyday word too. ``usual``: it is the usual name of the movement, not one of the others.
    """

    movement: str
    name: str
    forms: tuple[str, ...]
    weak: bool
    usual: bool


class NameRow(NamedTuple):
    """A name before its pieces are known."""

    movement: str
    name: str
    weak: bool
    usual: bool


class NameRows:
    """All names by number: aliases (name -> movement id) first, then each movement's usual name and its others."""

    def __init__(self, movements: Iterable[Movement], aliases: Mapping[str, str] = MappingProxyType({})) -> None:
        self._movements = tuple(movements)
        self._aliases = tuple(aliases.items())
        sizes = (1 + len(movement.names) for movement in self._movements)
        self._starts = list(accumulate(sizes, initial=len(self._aliases)))

    def __len__(self) -> int:
        return self._starts[-1]

    def __getitem__(self, number: int) -> NameRow:
        if number < len(self._aliases):
            name, ident = self._aliases[number]
            return NameRow(ident, name, False, False)
        at = bisect_right(self._starts, number) - 1
        movement, place = self._movements[at], number - self._starts[at]
        name = movement.names[place - 1] if place else movement.name
        return NameRow(movement.id, name, name in movement.weak_names, not place)

    def __iter__(self) -> Iterator[NameRow]:
        for name, ident in self._aliases:
            yield NameRow(ident, name, False, False)
        for movement in self._movements:
            weak = movement.weak_names
            yield NameRow(movement.id, movement.name, movement.name in weak, True)
            for name in movement.names:
                yield NameRow(movement.id, name, name in weak, False)


class CutNames(NamedTuple):
    """The names of a lexicon cut into pieces.

    ``forms``: for each name its pieces, joined by spaces; empty where a name before it has the same ones. ``sizes``: by
    the first two pieces, how many pieces the names have that begin so: bit ``n`` stands for ``n`` pieces.
    """

    forms: list[str]
    compounds: Compounds
    sizes: Mapping[str, Mapping[str, int]]


def cut_names(rows: NameRows) -> CutNames:
    """Cuts all names, which tells the compounds. Where two names have the same pieces, the first keeps them."""
    normal = [normalise_name(row.name) for row in rows]
    compounds = Compounds(normal)
    seen: set[tuple[str, ...]] = set()
    forms: list[str] = []
    sizes: dict[str, dict[str, int]] = {}
    for pieces in map(compounds.take_apart, normal):
        forms.append("" if pieces in seen else " ".join(pieces))
        seen.add(pieces)
        if len(pieces) > 1:
            behind = sizes.setdefault(pieces[0], {})
            behind[pieces[1]] = behind.get(pieces[1], 0) | 1 << len(pieces)
    return CutNames(forms, compounds, sizes)


class NameIndex:
    """Listed names by their normal pieces.

    Attributes:
        compounds: cuts words into pieces as these names want them.
        longest: pieces of the longest name.
    """

    def __init__(self, rows: NameRows, cut: CutNames | None = None) -> None:
        """``cut`` is what ``cut_names`` makes of the rows, where that is known already."""
        self._rows = rows
        self._forms, self.compounds, self._sizes = cut or cut_names(rows)
        self._numbers = dict(zip(self._forms, range(len(self._forms)), strict=True))
        self._numbers.pop("", None)
        self.longest = max(map(str.count, self._forms, repeat(" ")), default=0) + 1
        self._listed: dict[int, ListedName] = {}

    def at(self, number: int) -> ListedName:
        """The listed name with this number."""
        listed = self._listed.get(number)
        if listed is None:
            ident, name, weak, usual = self._rows[number]
            listed = self._listed[number] = ListedName(ident, name, tuple(self._forms[number].split(" ")), weak, usual)
        return listed

    def __iter__(self) -> Iterator[ListedName]:
        """All names in order, each set of pieces once."""
        return map(self.at, self._numbers.values())

    def list_between(self, front: Sequence[str], back: Sequence[str]) -> Iterator[int]:
        """The numbers of the names that begin and end with these pieces and have others in between, in order."""
        begin, end = " ".join([*front, ""]), " ".join(["", *back])
        shared = self._by_last.get(back[-1], ()) if back else self._by_first.get(front[0], ()) if front else ()
        for number in shared:
            form = self._forms[number]
            if form.startswith(begin) and form.endswith(end) and len(form) > len(begin) + len(end):
                yield number

    @cached_property
    def _by_first(self) -> dict[str, list[int]]:
        by_first: dict[str, list[int]] = {}
        for form, number in self._numbers.items():
            by_first.setdefault(form[: form.find(" ")] if " " in form else form, []).append(number)
        return by_first

    @cached_property
    def _by_last(self) -> dict[str, list[int]]:
        by_last: dict[str, list[int]] = {}
        for form, number in self._numbers.items():
            by_last.setdefault(form[form.rfind(" ") + 1 :], []).append(number)
        return by_last

    def get(self, forms: Sequence[str]) -> ListedName | None:
        """The listed name with just these pieces."""
        number = self._numbers.get(" ".join(forms))
        return None if number is None else self.at(number)

    def look_up(self, name: str) -> ListedName | None:
        """The listed name that ``name`` is another spelling of."""
        return self.get(self.compounds.cut_name(name))

    def find(self, forms: Sequence[str]) -> list[tuple[int, int, ListedName]]:
        """Every occurrence of a listed name in the pieces, overlapping ones too, ``(start, end, name)`` in order."""
        sizes_of, numbers, whole = self._sizes, self._numbers, len(forms)
        found: list[tuple[int, int, ListedName]] = []
        for start, form in enumerate(forms):
            if form in numbers:
                found.append((start, start + 1, self.at(numbers[form])))
            if form in sizes_of and start + 1 < whole:
                for size in _list_sizes(sizes_of[form].get(forms[start + 1], 0)):
                    end = start + size
                    if end > whole:
                        break
                    number = numbers.get(" ".join(forms[start:end]))
                    if number is not None:
                        found.append((start, end, self.at(number)))
        return found


@cache
def _list_sizes(mask: int) -> tuple[int, ...]:
    return tuple(size for size in range(mask.bit_length()) if mask >> size & 1)
