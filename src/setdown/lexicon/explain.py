"""Why words match: for a person who looks up a text, or wonders about a hit."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from rapidfuzz import process
from rapidfuzz.fuzz import ratio

from setdown.lexicon.described import DescribedIndex
from setdown.lexicon.entries import DescribedHit, NameHit
from setdown.lexicon.find import MovementFinder
from setdown.lexicon.guard import want_always
from setdown.lexicon.likeness import join_forms_key
from setdown.lexicon.normal import spell_out

RUNNERS_UP = 3


class Explained(NamedTuple):
    """A hit in the text and the reason for it, in words."""

    hit: NameHit | DescribedHit
    why: str


def explain_text(finder: MovementFinder, described: DescribedIndex, text: str) -> list[Explained]:
    """Hits in order with their reasons, then descriptions, then the closest other names with how close they come.

    Near matches are let through whatever the words around: who looks something up means it. A runner-up is a hit of
    method ``fuzzy`` over the whole text whose reason starts with ``runner-up``.
    """
    words = [stripped for word in text.lower().split() if (stripped := word.strip('.,;:!?()[]"“”…'))]
    hits = finder.find(words, want_always)
    found = [Explained(hit, _tell_why(hit, words)) for hit in hits]
    for row in described.find(words):
        told = ", ".join(words[at] for at in row.slots)
        found.append(Explained(row, f"described: the words {told} lie within {row.end - row.start} words"))
    found.extend(_find_runners_up(finder, words, {hit.movement for hit in hits}))
    return found


def _tell_why(hit: NameHit, words: Sequence[str]) -> str:
    heard = " ".join(words[hit.start : hit.end])
    why = {
        "exact": f"listed as {hit.name!r}",
        "variant": f"another spelling or word order of {hit.name!r}",
        "misheard": f"listed mis-hearing: {hit.repaired!r} was said, which names {hit.name!r}",
        "sound": f"sounds like {hit.name!r}",
        "fuzzy": f"nearly written {hit.name!r}",
    }[hit.method]
    if hit.prefixes:
        why += f", with {' '.join(hit.prefixes)} in front"
    if hit.weak:
        why += "; everyday words: counts only where a movement is wanted"
    return f"{heard!r}: {why} ({hit.score:.0%})"


def _find_runners_up(finder: MovementFinder, words: Sequence[str], found: set[str]) -> list[Explained]:
    forms = finder.names.compounds.cut_words(words).forms
    letters = "".join(map(spell_out, forms))
    if not letters:
        return []
    key = join_forms_key(forms)
    names = list(finder.names)
    close = process.extract(letters, ["".join(map(spell_out, n.forms)) for n in names], scorer=ratio, limit=40)
    ranked = sorted(
        (((score + ratio(key, join_forms_key(names[at].forms))) / 200, score, names[at]) for _, score, at in close),
        key=lambda entry: (-entry[0], entry[2].name),
    )
    told: list[Explained] = []
    for closeness, by_letters, name in ranked:
        if name.movement in found or len(told) == RUNNERS_UP:
            continue
        found = found | {name.movement}
        hit = NameHit(0, len(words), name.movement, name.name, "fuzzy", round(closeness, 4), name.weak, name.name)
        told.append(Explained(hit, f"runner-up: {name.name!r} is {by_letters:.0f} % alike by letters"))
    return told
