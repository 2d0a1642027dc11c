"""Pieces of kit by name ('dumbbells', 'the mat'), in any spelling the lexicon's kit table lists."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from setdown.lexicon import Lexicon
from setdown.model.mention import Mention

MAX_WORDS = 3


@lru_cache(maxsize=4)
def _list_names(lexicon: Lexicon) -> dict[tuple[str, ...], str]:
    names: dict[tuple[str, ...], str] = {}
    for kit in lexicon.kit.values():
        for name in (kit.name, *kit.names):
            plain = name.rstrip("?")
            for form in (plain, plain + "s", plain.replace("-", " "), plain.replace("-", " ") + "s"):
                names.setdefault(tuple(form.split()), kit.id)
    return names


def tag_kit(words: Sequence[str], lexicon: Lexicon) -> list[Mention]:
    """Mentions of kind ``kit``; the value is the kit's id. The longest name at a place wins."""
    names = _list_names(lexicon)
    firsts = {n[0] for n in names}
    found: list[Mention] = []
    at = 0
    while at < len(words):
        if words[at] in firsts:
            for length in range(min(MAX_WORDS, len(words) - at), 0, -1):
                kit = names.get(tuple(words[at : at + length]))
                if kit is not None:
                    found.append(Mention("kit", at, at + length, kit, f"kit: {' '.join(words[at : at + length])}"))
                    at += length - 1
                    break
        at += 1
    return found
