"""What a user calls a movement, muscle, pattern or piece of kit, and which of those known here is meant.

Names are looked up as the lexicon spells them, then as captions mis-hear them, then by their letters. What is like no
name is an error that says which come closest.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from rapidfuzz import fuzz, process

from setdown.errors import SetdownError
from setdown.lexicon import Lexicon, Movement
from setdown.lexicon.entries import Kit, Muscle

NEAR = 80.0  # likeness of letters, 0..100, from which a name is taken to be meant; below it is only suggested
NEARLY = 55.0
SUGGESTIONS = 3


@dataclass(frozen=True, slots=True)
class Meant:
    """What a user's word stands for: an id, its name, and whether it was found only by its likeness."""

    id: str
    name: str
    guessed: bool = False


def resolve_movement(text: str, lexicon: Lexicon, unknown: Mapping[str, str] | None = None) -> Meant:
    """The movement that is meant. ``unknown`` are key and name of movements in the catalogue that no lexicon has.

    Raises:
        SetdownError: no name is like it.
    """
    own = {name.lower(): key for key, name in (unknown or {}).items()}
    low = " ".join(text.lower().split())
    found = lexicon.look_up(low)
    if found is not None:
        return Meant(found.id, found.name)
    if low in own:
        return Meant(own[low], (unknown or {})[own[low]])
    heard = _hear(low, lexicon)
    if heard is not None:
        return Meant(heard.id, heard.name, guessed=True)
    names = {name.lower(): movement.id for movement in lexicon.movements.values() for name in movement.names}
    names |= {movement.name.lower(): movement.id for movement in lexicon.movements.values()}
    id = _choose("movement", text, {**own, **names})
    name = lexicon.movements[id].name if id in lexicon.movements else (unknown or {}).get(id, id)
    return Meant(id, name, guessed=True)


def resolve_muscle(text: str, lexicon: Lexicon) -> Meant:
    """The muscle or group of muscles that is meant. Raises SetdownError when no name is like it."""
    return _resolve_entry("muscle", text, lexicon.muscles)


def resolve_kit(text: str, lexicon: Lexicon) -> Meant:
    """The piece of kit that is meant, also in the plural. Raises SetdownError when no name is like it."""
    return _resolve_entry("piece of kit", text, lexicon.kit)


def resolve_pattern(text: str, lexicon: Lexicon) -> Meant:
    """The pattern that is meant, ``horizontal push`` for ``horizontal_push``. Raises SetdownError when none is."""
    patterns = sorted({movement.pattern for movement in lexicon.movements.values() if movement.pattern})
    names = {pattern.replace("_", " "): pattern for pattern in patterns}
    low = text.strip().lower().replace("_", " ").replace("-", " ")
    id = names.get(low) or _choose("pattern", text, names)
    return Meant(id, id.replace("_", " "), guessed=low not in names)


def choose_word(kind: str, text: str, words: Iterable[str]) -> str:
    """One of some fixed words, ``warm-up`` for ``warm_up``. Raises SetdownError when it is none."""
    known = list(words)
    low = text.strip().lower().replace("-", "_").replace(" ", "_")
    if low not in known:
        raise SetdownError(f"{text!r} is no {kind}", expected=", ".join(known))
    return low


def _hear(low: str, lexicon: Lexicon) -> Movement | None:
    """The movement whose name captions mis-hear as these words, all of them."""
    words = low.split()
    for hit in lexicon.find_movements(words, lambda start, end: True):
        if (hit.start, hit.end) == (0, len(words)):
            return lexicon.movements.get(hit.movement)
    return None


def _resolve_entry(kind: str, text: str, entries: Mapping[str, Muscle] | Mapping[str, Kit]) -> Meant:
    names: dict[str, str] = {}
    for entry in entries.values():
        for name in (*entry.names, entry.name, entry.id.replace("_", " ")):
            names.setdefault(name.lower(), entry.id)
    for entry in entries.values():  # its own name before another's other name
        names[entry.name.lower()] = entry.id
    low = " ".join(text.lower().replace("_", " ").split())
    for form in (low, low.removesuffix("s"), low.removesuffix("es"), low + "s"):
        if form in names:
            return Meant(names[form], entries[names[form]].name)
    id = _choose(kind, text, names)
    return Meant(id, entries[id].name, guessed=True)


def _choose(kind: str, text: str, names: Mapping[str, str]) -> str:
    """The id of the name with the likest letters. Raises SetdownError when it is not like enough."""
    low = " ".join(text.lower().replace("_", " ").split())
    best: Sequence[tuple[str, float, int]] = process.extract(low, list(names), scorer=fuzz.ratio, limit=12)
    if low and best and best[0][1] >= NEAR:
        return names[best[0][0]]
    near = list(dict.fromkeys(name for name, score, _ in best if score >= NEARLY))[:SUGGESTIONS]
    hint = f"Nearest: {', '.join(near)}" if near else ""
    raise SetdownError(f"no {kind} is called {text!r}", hint=hint)
