"""What words mean: the data in ``lexicon/`` and looking it up, exactly and nearly, in the words of a class.

``load_lexicon`` gives the ``Lexicon``; ``lint_lexicon`` checks its data; ``load_phrases`` reads the phrases.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

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
from setdown.lexicon.folder import find_lexicon_folder
from setdown.lexicon.lexicon import Lexicon
from setdown.lexicon.load import load_lexicon

if TYPE_CHECKING:
    from setdown.lexicon.lint import lint_lexicon
    from setdown.lexicon.lint_base import Finding

__all__ = [
    "Described",
    "DescribedHit",
    "Finding",
    "Kit",
    "Lexicon",
    "MisheardRow",
    "Movement",
    "Muscle",
    "NameHit",
    "Repair",
    "Unit",
    "find_lexicon_folder",
    "lint_lexicon",
    "load_lexicon",
]


def __getattr__(name: str) -> Any:
    """The linter is imported when it is asked for: nothing else needs it."""
    if name == "lint_lexicon":
        from setdown.lexicon.lint import lint_lexicon

        return lint_lexicon
    if name == "Finding":
        from setdown.lexicon.lint_base import Finding

        return Finding
    raise AttributeError(f"module 'setdown.lexicon' has no attribute {name!r}")
