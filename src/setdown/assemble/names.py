"""Who is who: which movement a span of work is.

Candidates are the movements mentioned around the span, those that its talk describes, and those the class has shown
or announced before (a round whose names are no longer said, the other side, 'same again'). What speaks for one: where
and how it was named, whether the words around the name take it back, how the talk fits its profile, and whether the
order of the class expects it. The order depends on the choices before, so the whole class is decided by beam search.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from setdown.assemble.context import ClassContext
from setdown.assemble.name_features import (
    NamedHere,
    add_movement_features,
    add_naming_features,
    name_role,
    sum_up_names,
)
from setdown.assemble.namings import Naming, gather_namings
from setdown.assemble.order import (
    Situation,
    Standing,
    find_lists,
    find_openers,
    find_standing,
    look_back,
    opens_block,
    order_features,
    read_situation,
)
from setdown.assemble.ranker import Candidate, Ranked, rank, weigh
from setdown.assemble.told import Told, compare_profiles

RECENT_SETS = 14
BEAM = 4
BRANCHES = 4
SHORT = "named by a short form"
History = tuple[str, ...]


class Path(NamedTuple):
    """Choices for the spans so far: their log-probability, the ids in order, and the ids as a set."""

    total: float
    history: History
    done: frozenset[str]


@dataclass(slots=True)
class SpanNames:
    """What is known of one span's name whatever was chosen before it."""

    context: ClassContext
    at: int
    namings: dict[str, list[Naming]]
    here: NamedHere
    firm: list[Naming]
    lists: list[list[str]]
    situation: Situation
    told: Told
    openers: tuple[int, ...]  # sets before it whose talk opened a block, see find_openers
    static: dict[str, Candidate] = field(default_factory=dict)
    roles: dict[str, str] = field(default_factory=dict)
    orders: dict[Standing, list[str]] = field(default_factory=dict)
    shortened: set[str] = field(default_factory=set)  # movements that something named here is short for

    def candidate(self, movement: str) -> Candidate:
        """The candidate with the features that do not depend on history (made once)."""
        found = self.static.get(movement)
        if found is None:
            own = self.namings.get(movement, [])
            found = self.static[movement] = Candidate(movement, movement, origin="said" if own else "carried")
            add_naming_features(self.context, self.context.drafts[self.at], found, own, self.firm)
            add_movement_features(self.context, found, movement, self.here, self.at)
            if SHORT in found.features:
                self.shortened.add(movement)
            self.told.add_features(found)
            role = self.roles[movement] = name_role(own)
            found.add(role, *(f"{role} | {s}" for s in self.situation.conjoined[:4]))
        return found

    def order(self, standing: Standing) -> list[str]:
        """The features of a standing at this span (made once)."""
        found = self.orders.get(standing)
        if found is None:
            found = self.orders[standing] = order_features(standing, self.situation)
        return found

    def movements(self, history: Sequence[str], listed: Iterable[str]) -> list[str]:
        """Ids to choose from, after these choices."""
        known = self.context.lexicon.movements
        recent = [m for m in history[-RECENT_SETS:] if m in known]
        return list(dict.fromkeys([*self.namings, *recent, *listed, *self.told.top]))


def look_at_spans(context: ClassContext) -> list[SpanNames]:
    """Names, lists, cues and profiles around every span."""
    openers = find_openers([opens_block(context, d) for d in context.drafts])
    return [_look_at_span(context, at, openers[at]) for at in range(len(context.drafts))]


def _look_at_span(context: ClassContext, at: int, openers: tuple[int, ...]) -> SpanNames:
    draft = context.drafts[at]
    namings = gather_namings(context, draft)
    grouped: dict[str, list[Naming]] = {}
    for naming in namings:
        if naming.movement in context.lexicon.movements:
            grouped.setdefault(naming.movement, []).append(naming)
    firm = [n for n in namings if n.zone in ("setup", "head") and n.mention.kind != "described" and not n.doubts]
    lists = find_lists(context, draft)
    situation = read_situation(context, draft, len({n.movement for n in firm}))
    here = sum_up_names(context, grouped)
    return SpanNames(context, at, grouped, here, firm, lists, situation, compare_profiles(context, draft), openers)


def name_candidates(span: SpanNames, history: Sequence[str]) -> list[Candidate]:
    """Candidates of a span after these choices, with all their features; the last is 'not known' (empty id)."""
    past = look_back(history, span.openers, span.lists)
    found: list[Candidate] = []
    for movement in span.movements(history, past.listed):
        static = span.candidate(movement)
        features = dict(static.features)
        standing = find_standing(movement, past, span.roles[movement], movement in span.shortened)
        features.update(dict.fromkeys(span.order(standing), 1.0))
        origin = static.origin
        if movement not in span.namings:
            origin = "carried" if movement in past.done else "declared" if movement in past.listed else "inferred"
        found.append(Candidate(movement, movement, features, static.evidence, origin))
    unknown = Candidate("", "", {"unknown": 1.0}, origin="inferred")
    unknown.add("unknown, something named" if span.firm else "unknown, nothing named")
    if not span.namings:
        unknown.add("unknown, no name at all")
    return [*found, unknown]


def choose_name(ranked: Ranked) -> Ranked:
    """A movement goes before 'not known' however unsure it is: the reviewer is asked, with the doubt in figures."""
    order = sorted(range(len(ranked.candidates)), key=lambda i: not ranked.candidates[i].key)
    return Ranked(tuple(ranked.candidates[i] for i in order), tuple(ranked.probabilities[i] for i in order))


def search_names(spans: Sequence[SpanNames], weights: Mapping[str, Mapping[str, float]]) -> History:
    """The likeliest sequence of movement ids over all spans (``?n`` where nothing at all offers itself)."""
    table = weights.get("exercise", {})
    beam = [Path(0.0, (), frozenset())]
    for span in spans:
        base: dict[str, float] = {}
        standings: dict[Standing, float] = {}
        grown = [
            (-path.total - gain, path.history, movement, path)
            for path in beam
            for gain, movement in _score_after(span, path, table, base, standings)
        ]
        grown.sort(key=lambda g: g[:3])
        beam = _merge(grown)
    return beam[0].history


def _score_after(
    span: SpanNames,
    path: Path,
    table: Mapping[str, float],
    base: dict[str, float],
    standings: dict[Standing, float],
) -> list[tuple[float, str]]:
    """(log-probability, id) of the best few movements after the choices of a path.

    ``base`` and ``standings`` keep what movements and standings are worth at this span, for the other histories.
    """
    past = look_back(path.history, span.openers, span.lists, path.done)
    scores: list[tuple[float, str]] = []
    for movement in span.movements(path.history, past.listed):
        own = base.get(movement)
        if own is None:
            own = base[movement] = weigh(span.candidate(movement).features, table)
        standing = find_standing(movement, past, span.roles[movement], movement in span.shortened)
        order = standings.get(standing)
        if order is None:
            order = standings[standing] = sum([table.get(f, 0.0) for f in span.order(standing)])
        scores.append((own + order, movement))
    if not scores:
        return [(0.0, f"?{span.at}")]
    top = max(s for s, _ in scores)
    total = top + math.log(sum(math.exp(s - top) for s, _ in scores))
    scores.sort(key=lambda s: (-s[0], s[1]))
    return [(s - total, m) for s, m in scores[:BRANCHES]]


def _merge(grown: list[tuple[float, History, str, Path]]) -> list[Path]:
    """The best few; of histories that agree on what matters next (their last sets) only the best."""
    kept: list[Path] = []
    seen: set[History] = set()
    for loss, history, movement, path in grown:
        lately = (*history[-7:], movement)
        if lately in seen:
            continue
        seen.add(lately)
        done = path.done if movement in path.done else path.done | {movement}
        kept.append(Path(-loss, (*history, movement), done))
        if len(kept) == BEAM:
            break
    return kept


def rank_names(
    spans: Sequence[SpanNames], history: Sequence[str], weights: Mapping[str, Mapping[str, float]]
) -> list[Ranked]:
    """Each span's candidates given the chosen sequence, the chosen movement first."""
    out: list[Ranked] = []
    for at, span in enumerate(spans):
        ranked = choose_name(rank("exercise", name_candidates(span, history[:at]), weights))
        order = sorted(range(len(ranked.candidates)), key=lambda i: ranked.candidates[i].key != history[at])
        out.append(Ranked(tuple(ranked.candidates[i] for i in order), tuple(ranked.probabilities[i] for i in order)))
    return out
