"""Terms of the profiles in few bytes: numbers of all terms in two arrays, which are cut up when a term is asked for.

In a file they are text: the terms with a line break between, and three arrays in base64 (RFC 4648): how many movements
each term has (16 bits), their places (16 bits), and their log-odds in hundredths (16 bits, signed), little-endian.
"""

from __future__ import annotations

from base64 import b64decode, b64encode
from collections.abc import Iterator, Mapping, Sequence
from itertools import chain

import numpy as np
from numpy.typing import NDArray

_HUNDRED = 100.0
_COUNT, _PLACE, _WORTH = "<u2", "<u2", "<i2"
Term = tuple[NDArray[np.intp], NDArray[np.float64]]


class PackedTerms(Mapping[str, Term]):
    """Places of movements and their log-odds by term; ``numbers`` counts the terms."""

    def __init__(self, packed: Mapping[str, str]) -> None:
        """``packed`` is what ``pack_terms`` gives."""
        terms = packed["terms"].split("\n") if packed["terms"] else []
        self.numbers = dict(zip(terms, range(len(terms)), strict=True))
        self._ends: list[int] = _read(packed["counts"], _COUNT).cumsum(dtype=np.int64).tolist()
        self._places = _read(packed["places"], _PLACE)
        self._worths = _read(packed["worths"], _WORTH)

    def __getitem__(self, term: str) -> Term:
        number = self.numbers[term]
        start, end = self._ends[number - 1] if number else 0, self._ends[number]
        return self._places[start:end].astype(np.intp), self._worths[start:end] / _HUNDRED

    def __contains__(self, term: object) -> bool:
        return term in self.numbers

    def __iter__(self) -> Iterator[str]:
        return iter(self.numbers)

    def __len__(self) -> int:
        return len(self.numbers)


Terms = Mapping[str, tuple[Sequence[int], Sequence[float]]] | PackedTerms


def pack_terms(terms: Terms) -> dict[str, str]:
    """The text of these terms, whose log-odds have at most two decimals; terms hold no line breaks."""
    rows = [[list(column) for column in terms[term]] for term in sorted(terms)]
    worths = [round(worth * _HUNDRED) for _, own in rows for worth in own]
    return {
        "terms": "\n".join(sorted(terms)),
        "counts": _write([len(places) for places, _ in rows], _COUNT),
        "places": _write(list(chain.from_iterable(places for places, _ in rows)), _PLACE),
        "worths": _write(worths, _WORTH),
    }


def _read(text: str, kind: str) -> NDArray[np.integer]:
    return np.frombuffer(b64decode(text), dtype=kind)


def _write(numbers: Sequence[int], kind: str) -> str:
    return b64encode(np.array(numbers, dtype=kind).tobytes()).decode("ascii")
