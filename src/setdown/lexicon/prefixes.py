"""Kit and stance words in front of a name: 'banded clamshell', 'seated dumbbell shoulder press'.

They need no row of their own: the hit spans them and stays the movement that the name has, unless prefix and name
together, in any order and with some of the prefixes left out, are listed as another movement.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations, permutations

from setdown.lexicon.names import ListedName, NameIndex

_PREFIXES = """
    dumbbell; double dumbbell; single dumbbell; kettlebell; double kettlebell; barbell; ez bar; trap bar; landmine;
    sandbag; medicine ball; med ball; plate; cable; machine; smith machine; band; banded; resistance band; mini band;
    loop band;
    bodyweight; body weight; weighted; unweighted; loaded;
    seated; standing; kneeling; half-kneeling; alternating; single-arm; one-arm;
    single-leg; one-leg; one-handed; single-handed; two-handed; two-arm; double-arm; single-side; assisted
"""
_MOST = 3


class PrefixTable:
    """The prefixes, cut as the names of one lexicon are."""

    def __init__(self, index: NameIndex) -> None:
        self._index = index
        self._prefixes: dict[tuple[str, ...], str] = {}
        for text in _PREFIXES.split(";"):
            forms = index.compounds.cut_name(text)
            self._prefixes.setdefault(forms, text.strip().replace("body weight", "bodyweight"))
        self._longest = max(len(forms) for forms in self._prefixes)

    def find_before(self, forms: Sequence[str], start: int, free_from: int) -> list[tuple[int, str]]:
        """Prefixes up to where the name starts, as ``(first piece, prefix)``, nearest first, from ``free_from``."""
        found: list[tuple[int, str]] = []
        while len(found) < _MOST:
            for length in range(self._longest, 0, -1):
                begin = start - length
                prefix = self._prefixes.get(tuple(forms[begin:start])) if begin >= free_from else None
                if prefix is not None:
                    found.append((begin, prefix))
                    start = begin
                    break
            else:
                break
        return found

    def find_listed(self, prefixes: Sequence[str], name: ListedName) -> tuple[ListedName, tuple[str, ...]] | None:
        """The listed name made of most of the prefixes, in any order, and the name; with the prefixes it leaves out."""
        cut = self._index.compounds.cut_name
        for size in range(len(prefixes), 0, -1):
            for chosen in combinations(range(len(prefixes)), size):
                for order in permutations(chosen):
                    forms = _join((cut(prefixes[i]) for i in order), name.forms)
                    listed = self._index.get(forms)
                    if listed is not None:
                        return listed, tuple(p for i, p in enumerate(prefixes) if i not in chosen)
        return None


def _join(parts: Iterable[tuple[str, ...]], name: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(form for part in parts for form in part) + name
