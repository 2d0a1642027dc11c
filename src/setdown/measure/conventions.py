"""How things are counted. Every figure that rests on a choice names the choice, and most choices can be changed."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

SECTION_KINDS = ("intro", "warm_up", "main", "cool_down", "outro")


@dataclass(frozen=True, slots=True)
class Conventions:
    """What may be counted in more than one way.

    Attributes:
        secondary: what a set counts for a muscle that only helps; 1/2 is the fractional count that fitted best over 67
            studies (Pelland et al., SportRxiv preprint, 2024). 0 counts direct work only, 1 counts both alike.
        side_share: what a set on one side counts as. Two sides make one set (common practice, no source).
        each_side: how often the reps of 'ten each side' count (common practice, no source).
        both_hands: how often a load counts that is held in each hand (common practice, no source).
        sections: kinds of section whose sets count for patterns and muscles. A class that has no set in them is
            counted whole.
    """

    secondary: Fraction = Fraction(1, 2)
    side_share: Fraction = Fraction(1, 2)
    each_side: int = 2
    both_hands: int = 2
    sections: tuple[str, ...] = ("main",)


DEFAULT_CONVENTIONS = Conventions()
