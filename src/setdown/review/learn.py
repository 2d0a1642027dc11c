"""What a coach's own lexicon could learn from the names that reviewers put right.

A set whose exercise a person decided, and whose caption has other words for it, is evidence: for a mis-hearing when the
words look or sound like the name, for another name of a known movement, or for a move of the house. Words that mean the
other movement elsewhere, and plain everyday words, are no name.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from rapidfuzz.fuzz import ratio

from setdown.lexicon import Lexicon
from setdown.lexicon.everyday import is_everyday
from setdown.lexicon.normal import normalise_name
from setdown.lexicon.sound import join_keys
from setdown.model.routine import Mark, Routine

Kind = Literal["movement", "misheard", "alias"]

ALIKE = 0.62  # share of letters and of consonant sounds in common, on the average, at least; chosen, no source
LONGEST_NAME = 5  # words; what is longer is a description rather than a name
LONGEST_HEARD = 7
FIRM = 2  # so many edits, and no set left as it was, before a name of another movement is taken for this one


@dataclass(frozen=True, slots=True)
class Instance:
    """One set that a person named: the file, its start in seconds, what the caption has, who named it and when."""

    source: str
    start: float
    said: str
    mark: Mark


@dataclass(frozen=True, slots=True)
class Proposal:
    """An entry for an own lexicon. ``words`` are what is said or heard (empty for a move without other names)."""

    kind: Kind
    words: str
    name: str
    instances: tuple[Instance, ...]
    note: str = ""


def propose_entries(routines: Iterable[tuple[str, Routine]], lexicon: Lexicon) -> list[Proposal]:
    """Entries that the lexicon does not have yet, those with most evidence first; ``routines`` with their names."""
    edits: dict[tuple[str, str], list[Instance]] = defaultdict(list)
    ids: dict[str, str] = {}
    left: dict[str, set[str]] = defaultdict(set)
    for source, routine in routines:
        for _, _, one in routine.iter_sets():
            said = _clean(one.exercise.said)
            mark = one.edited.get("exercise")
            name = _clean(one.exercise.name)
            if mark is None:
                left[said].add(one.exercise.id)
            elif "set" not in one.edited or said:
                ids[name] = one.exercise.id
                edits[said, name].append(Instance(source, one.start, said, mark))
    found = []
    house = {name for (_, name) in edits if not ids[name] and lexicon.look_up(name) is None}
    for name in sorted(house):
        instances = [i for (_, other), parts in edits.items() if other == name for i in parts]
        found.append(Proposal("movement", "", name, tuple(instances)))
    for (said, name), instances in edits.items():
        proposal = _propose(said, name, instances, left[said], lexicon, name in house)
        if proposal is not None:
            found.append(proposal)
    order = ("movement", "misheard", "alias")
    return sorted(found, key=lambda p: (order.index(p.kind), -len(p.instances), p.name, p.words))


def sounds_like(words: str, name: str) -> bool:
    """Whether words may be a mis-hearing of a name: the words that they do not share are alike in letters and sound."""
    heard = [word for word in words.split() if word not in name.split()] or words.split()
    meant = [word for word in name.split() if word not in words.split()] or name.split()
    letters = ratio("".join(heard), "".join(meant))
    sound = ratio(join_keys(heard), join_keys(meant))
    return (letters + sound) / 200 >= ALIKE


def _propose(
    said: str, name: str, instances: Sequence[Instance], left: set[str], lexicon: Lexicon, of_house: bool
) -> Proposal | None:
    words = said.split()
    if not words or normalise_name(said) == normalise_name(name):
        return None
    target = lexicon.look_up(name)
    means = lexicon.look_up(said)
    if target is not None and _is_found(words, target.id, lexicon):
        return None
    note = ""
    if means is not None:
        known_as = {means.id}
        if len(instances) < FIRM or left & known_as:
            return None
        note = f"the shipped lexicon has this as a name of {means.name}"
    elif left - {"", target.id if target else ""}:
        return None  # the same words were left to mean another movement
    if sounds_like(said, name):
        return Proposal("misheard", said, name, tuple(instances), note) if len(words) <= LONGEST_HEARD else None
    if len(words) > LONGEST_NAME or all(is_everyday(form) for form in normalise_name(said)):
        return None
    if target is None and not of_house:
        return None
    return Proposal("alias", said, name, tuple(instances), note)


def _is_found(words: Sequence[str], movement: str, lexicon: Lexicon) -> bool:
    """Whether the lexicon finds the movement in the words already."""
    return any(hit.movement == movement for hit in lexicon.find_movements(words, lambda start, end: True))


def _clean(text: str) -> str:
    return " ".join(c for c in text.lower().split() if c.isprintable())
