"""Who is who: which movement a span of work is.

Candidates are the movements mentioned around the span, those that its talk describes, and those the class has shown
or announced before (a round whose names are no longer said, the other side, 'same again'). What speaks for one: where
and how it was named, whether the words around the name take it back, how the talk fits its profile, and whether the
order of the class expects it. The order depends on the choices before, so the whole class is decided by beam search.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence, Set
from dataclasses import dataclass, field
from itertools import islice
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
    conjoin,
    find_lists,
    find_openers,
    find_standing,
    lead_features,
    look_back,
    opens_block,
    order_features,
    own_features,
    read_situation,
)
from setdown.assemble.ranker import Candidate, Ranked, add_up, rank_scored, weigh
from setdown.assemble.told import Told, compare_profiles

RECENT_SETS = 14
BEAM = 4
BRANCHES = 4
SHORT = "named by a short form"
History = tuple[str, ...]
Place = tuple[str, tuple[str, ...], tuple[str, ...], int]  # a movement, why it is due, how lately it was done


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
    openers: tuple[int, ...]  # sets before it whose talk opened a block, see find_openers
    fit: Told | None = None  # see ``told``
    top: tuple[str, ...] | None = None  # the movements that its talk describes best
    static: dict[str, Candidate] = field(default_factory=dict)
    roles: dict[str, str] = field(default_factory=dict)
    shortened: set[str] = field(default_factory=set)  # movements that something named here is short for
    table: Mapping[str, float] = field(default_factory=dict)  # the weights that the next two are made with
    worths: dict[str, float] = field(default_factory=dict)  # of the static features of movements
    lead_worths: dict[tuple[str, str], float] = field(default_factory=dict)  # of ``lead_features`` of roles and firsts

    @property
    def told(self) -> Told:
        """How the talk fits the profiles (worked out when first needed)."""
        if self.fit is None:
            self.fit = compare_profiles(self.context, self.context.drafts[self.at])
            self.top = self.fit.top
        return self.fit

    def let_go(self) -> None:
        """Forget how every movement fits, which takes much room; it is worked out again should it be needed."""
        self.fit = None

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
            found.features[role] = 1.0
            found.features.update(dict.fromkeys(conjoin(role, self.situation.conjoined[:4]), 1.0))
        return found

    def weigh(self, movement: str, table: Mapping[str, float]) -> float:
        """What the features are worth that do not depend on history (weighed once)."""
        if self.table is not table:
            self.table, self.worths, self.lead_worths = table, {}, {}
        worth = self.worths.get(movement)
        if worth is None:
            worth = self.worths[movement] = weigh(self.candidate(movement).features, table)
        return worth

    def weigh_order(self, standing: Standing, table: Mapping[str, float]) -> float:
        """What a standing is worth at this span; after ``weigh`` with the same table."""
        place = standing[:2]
        worth = self.lead_worths.get(place)
        if worth is None:
            leads = lead_features(standing.role, standing.first, self.situation)
            worth = self.lead_worths[place] = add_up(leads, table)
        return add_up(own_features(standing, self.situation.named), table, worth)

    def movements(self, history: Sequence[str], listed: Iterable[str]) -> list[str]:
        """Ids to choose from, after these choices."""
        known = self.context.lexicon.movements
        recent = [m for m in history[-RECENT_SETS:] if m in known]
        top = self.told.top if self.top is None else self.top
        return list(dict.fromkeys([*self.namings, *recent, *listed, *top]))


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
    return SpanNames(context, at, grouped, here, firm, lists, situation, openers)


def name_candidates(span: SpanNames, history: Sequence[str], done: Set[str] | None = None) -> list[Candidate]:
    """Candidates of a span after these choices, with all their features; the last is 'not known' (empty id).

    ``done`` is ``history`` as a set, when it is at hand.
    """
    past = look_back(history, span.openers, span.lists, done)
    found: list[Candidate] = []
    for movement in span.movements(history, past.listed):
        static = span.candidate(movement)
        features = dict(static.features)
        standing = find_standing(movement, past, span.roles[movement], movement in span.shortened)
        features.update(dict.fromkeys(order_features(standing, span.situation), 1.0))
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
        scores: dict[Place, float] = {}
        grown = [
            (-path.total - gain, path.history, movement, path)
            for path in beam
            for gain, movement in _score_after(span, path, table, scores)
        ]
        grown.sort(key=lambda g: g[:3])
        beam = _merge(grown)
        span.let_go()
    return beam[0].history


def _score_after(
    span: SpanNames, path: Path, table: Mapping[str, float], known: dict[Place, float]
) -> list[tuple[float, str]]:
    """(log-probability, id) of the best few movements after the choices of a path.

    ``known`` keeps what movements are worth at this span, by what their standing depends on, for the other histories.
    """
    past = look_back(path.history, span.openers, span.lists, path.done)
    listed, done, lately = past.listed, past.done, past.lately
    scores: list[tuple[float, str]] = []
    for movement in span.movements(path.history, listed):
        recency = lately.get(movement, movement in done)
        place = (movement, past.why(movement), listed.get(movement, ()), recency)
        score = known.get(place)
        if score is None:
            own = span.weigh(movement, table)
            standing = find_standing(movement, past, span.roles[movement], movement in span.shortened)
            score = known[place] = own + span.weigh_order(standing, table)
        scores.append((score, movement))
    if not scores:
        return [(0.0, f"?{span.at}")]
    values = [score for score, _ in scores]
    top = max(values)
    total = top + math.log(sum([math.exp(value - top) for value in values]))
    scores.sort(key=_best_first)
    return [(s - total, m) for s, m in scores[:BRANCHES]]


def _best_first(scored: tuple[float, str]) -> tuple[float, str]:
    return -scored[0], scored[1]


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
    table = weights.get("exercise", {})
    out: list[Ranked] = []
    done: set[str] = set()
    for at, span in enumerate(spans):
        done.update(history[max(at - 1, 0) : at])
        candidates = name_candidates(span, history[:at], done)
        scores = [_weigh_whole(span, candidate, table) for candidate in candidates]
        ranked = choose_name(rank_scored(candidates, scores))
        order = sorted(range(len(ranked.candidates)), key=lambda i: ranked.candidates[i].key != history[at])
        out.append(Ranked(tuple(ranked.candidates[i] for i in order), tuple(ranked.probabilities[i] for i in order)))
        span.static.clear()
        span.let_go()
    return out


def _weigh_whole(span: SpanNames, candidate: Candidate, table: Mapping[str, float]) -> float:
    """What all features of a candidate are worth; those that come first in it, the static ones, are weighed already."""
    if not candidate.key:
        return weigh(candidate.features, table)
    worth = span.weigh(candidate.key, table)
    known = len(span.static[candidate.key].features)
    return add_up(islice(candidate.features, known, None), table, worth)
