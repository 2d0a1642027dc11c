"""Names of movements, and descriptions of movements that are not named."""

from __future__ import annotations

from collections.abc import Sequence

from setdown.lexicon import Lexicon
from setdown.model.mention import Mention

SURE_METHODS = ("exact", "variant")
MIN_DESCRIBED_SCORE = 0.0


def tag_movements(words: Sequence[str], lexicon: Lexicon) -> list[Mention]:
    """Mentions of kind ``movement`` (a name), ``movement_weak`` (a name that is also an everyday word),
    ``movement_guess`` (mis-heard, repaired) and ``described``; the value is the lexicon's hit.
    """
    found: list[Mention] = []
    for hit in lexicon.find_movements(words):
        kind = "movement_guess" if hit.method not in SURE_METHODS else "movement_weak" if hit.weak else "movement"
        found.append(Mention(kind, hit.start, hit.end, hit, f"{hit.method} name: {hit.name}", hit.score))
    for described in lexicon.find_described(words):
        if described.score >= MIN_DESCRIBED_SCORE:
            found.append(
                Mention(
                    "described", described.start, described.end, described, "described by its parts", described.score
                )
            )
    return found
