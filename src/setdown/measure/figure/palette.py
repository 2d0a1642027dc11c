"""Colours that stay apart for colour-blind readers and in black and white.

Hues are of Okabe and Ito's palette (Color Universal Design, 2008; values from memory); each use differs from the others
in lightness and in hatching as well, so that nothing rests on the hue.
"""

from __future__ import annotations

from dataclasses import dataclass

INK = "#1a1a1a"
FAINT = "#8c8c8c"
GRID = "#d9d9d9"
SHADE = "#efefef"


@dataclass(frozen=True, slots=True)
class Paint:
    """Fill, hatching and the colour of text upon it."""

    fill: str
    hatch: str = ""
    text: str = INK


STRONG = Paint("#00527f", text="white")  # blue, darkened: about 7.9 to 1 against white
LIGHT = Paint("#a6d8f5", "////")  # sky blue, lightened
PALE = Paint("#f7e3ad", "\\\\\\\\")  # orange, lightened
BLANK = Paint("white")
EMPTY = Paint("white", "xxxx")

SECTION_PAINT = {"warm_up": PALE, "main": STRONG, "cool_down": LIGHT}


def paint_section(kind: str) -> Paint:
    """How the sets of a kind of section are filled."""
    return SECTION_PAINT.get(kind, EMPTY)
