"""A number that is known between two bounds: ``8-10`` reps, a volume load, kilocalories."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Between:
    """``lo`` to ``hi``, both included; exact."""

    lo: Fraction = Fraction(0)
    hi: Fraction = Fraction(0)

    def __add__(self, other: Between) -> Between:
        return Between(self.lo + other.lo, self.hi + other.hi)

    def scale(self, factor: Fraction | int) -> Between:
        """Both bounds times a factor that is not negative."""
        return Between(self.lo * factor, self.hi * factor)

    @property
    def is_one(self) -> bool:
        """Whether it is one number."""
        return self.lo == self.hi


def add_all(parts: Iterable[Between]) -> Between:
    """The sum; of nothing it is 0."""
    total = Between()
    for part in parts:
        total = total + part
    return total
