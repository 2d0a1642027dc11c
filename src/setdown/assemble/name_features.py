"""Features of a movement as a span's name that do not depend on what was chosen before."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from setdown.assemble.candidates import bucket_distance
from setdown.assemble.context import ClassContext, Draft
from setdown.assemble.namings import Naming
from setdown.assemble.ranker import Candidate
from setdown.lexicon.profiles import stem_word

_NONE: frozenset[str] = frozenset()
_TIMES = tuple(f"named in class x{times}" for times in range(5))
ZONE_ORDER = {"setup": 0, "head": 1, "tail": 2, "body": 3, "after": 4}


def name_role(own: list[Naming]) -> str:
    """The strongest way in which a movement is named around a span, in a few words."""
    best = "not named"
    worth = 0
    for n in own:
        near = {"setup": 3, "head": 2, "tail": 1}.get(n.zone, 0)
        sure = {"movement": 3, "movement_guess": 2, "movement_weak": 1, "described": 1}[n.mention.kind]
        value = (10 if not n.doubts else 0) + 3 * near + sure
        if value >= worth:
            worth = value
            best = f"{n.mention.kind} in {n.zone if near else 'work'}{'' if not n.doubts else ', doubted'}"
    return best


def add_naming_features(
    context: ClassContext, draft: Draft, candidate: Candidate, own: list[Naming], firm: list[Naming]
) -> None:
    """How and where the movement is named around the span (``own``), among all firm names there (``firm``)."""
    if not own:
        candidate.add("not named")
        return
    start = draft.span.start
    features = candidate.features
    clean = [n for n in own if not n.doubts]
    for n in own:
        sure = "firm" if not n.doubts else "doubted"
        features[f"{n.zone}, {n.mention.kind}, {sure}"] = 1.0
        for doubt in sorted(n.doubts):  # in one order, so that sums are the same every time
            features[f"{n.zone}, {doubt}"] = 1.0
    best = min(clean or own, key=lambda n: (ZONE_ORDER[n.zone], abs(n.mention.start - start)))
    distance = abs(best.mention.start - start)
    candidate.add(f"nearest {best.zone} {bucket_distance(distance)}", f"kind {best.mention.kind}")
    features[f"words: {' '.join(context.tagged.words[best.mention.start : best.mention.end])}"] = 1.0
    score = best.mention.score
    features["naming score"] = score
    if len(own) > 1:
        candidate.add("named twice")
    if len(own) > 2:
        candidate.add("named three times")
    if best.in_list:
        candidate.add(f"in list {min(best.in_list, 4)}")
    setup = [n for n in firm if n.zone == "setup"]
    head = [n for n in firm if n.zone == "head"]
    if setup:
        if setup[-1].movement == candidate.key:
            candidate.add("last of setup")
        if setup[0].movement == candidate.key:
            candidate.add("first of setup")
        if len({n.movement for n in setup}) == 1 and setup[0].movement == candidate.key:
            candidate.add("only one of setup")
    if head and head[0].movement == candidate.key:
        candidate.add("first of head")
    if firm and len({n.movement for n in firm}) == 1 and firm[0].movement == candidate.key:
        candidate.add("only one named")
    if any(context.index.has(kind, n.mention.start - 4, n.mention.start) for n in clean for kind in ("setup", "again")):
        candidate.add("led in")
    if any(context.index.has("go", n.mention.end, n.mention.end + 6) for n in clean):
        candidate.add("go follows")
    candidate.evidence = [n.mention for n in sorted(own, key=lambda n: (bool(n.doubts), ZONE_ORDER[n.zone]))][:3]


@dataclass(frozen=True, slots=True)
class NamedHere:
    """What is named around a span, in the forms that every candidate is compared with."""

    by_movement: Mapping[str, list[Naming]]
    families: Mapping[str, frozenset[str]]  # families of the movements named -> those movements
    short: frozenset[frozenset[str]]  # stems of each firm name before the work and in its first words


def sum_up_names(context: ClassContext, by_movement: Mapping[str, list[Naming]]) -> NamedHere:
    """What is named around a span, in the forms that every candidate is compared with."""
    families: dict[str, set[str]] = {}
    for movement in by_movement:
        entry = context.lexicon.movements.get(movement)
        if entry is not None:
            families.setdefault(entry.family, set()).add(movement)
    short = frozenset(
        n.stems
        for namings in by_movement.values()
        for n in namings
        if not n.doubts and n.zone in ("setup", "head") and n.mention.kind != "described"
    )
    return NamedHere(by_movement, {family: frozenset(own) for family, own in families.items()}, short)


def add_movement_features(context: ClassContext, candidate: Candidate, movement: str, here: NamedHere, at: int) -> None:
    """What the movement itself makes likely: its kind and place in the class, its relatives named here."""
    by_movement = here.by_movement
    entry = context.lexicon.movements.get(movement)
    if entry is None:
        return
    pattern = entry.pattern
    features = candidate.features
    features[f"movement {movement}"] = features[f"pattern {pattern}"] = 1.0
    own = by_movement.get(movement)
    if not own:
        name = _stems(entry.name)
        if here.short and any(stems < name for stems in here.short):
            features["named by a short form"] = 1.0
    else:
        text = frozenset(w for n in own for w in n.stems)
        movements = context.lexicon.movements
        if any(text < _stems(movements[other].name) for other in by_movement if other != movement):
            features["named by a word that another shares"] = 1.0
    features[_TIMES[min(context.count_names(movement), 4)]] = 1.0
    if here.families.get(movement, _NONE) - {movement}:
        features["a variant of it is named too"] = 1.0
    if entry.family != movement and entry.family in by_movement and entry.family in context.lexicon.movements:
        features["its basic form is named too"] = 1.0
    if pattern in ("stretch", "pose", "breathing"):
        share = at / len(context.drafts)
        features["stretch late" if share > 0.75 else "stretch early" if share < 0.2 else "stretch midway"] = 1.0
    elif pattern == "mobility":
        features["mobility early" if at / len(context.drafts) < 0.25 else "mobility later"] = 1.0


@lru_cache(maxsize=4_096)
def _stems(name: str) -> frozenset[str]:
    return frozenset(stem_word(p) for w in name.split() for p in w.split("-"))
