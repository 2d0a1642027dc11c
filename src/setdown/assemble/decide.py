"""All decisions of a class in their order: who, which side, where, in which group, how many, how long, how heavy."""

from __future__ import annotations

from collections.abc import Mapping

from setdown.assemble.context import ClassContext
from setdown.assemble.finishers import finisher_candidates
from setdown.assemble.groups import assign_groups
from setdown.assemble.loads import basis_candidates, find_class_unit, load_candidates, load_key
from setdown.assemble.names import look_at_spans, rank_names, search_names
from setdown.assemble.ranker import rank
from setdown.assemble.reps import rep_candidates
from setdown.assemble.seconds import second_candidates
from setdown.assemble.sections import assign_sections
from setdown.assemble.sides import side_candidates

Weights = Mapping[str, Mapping[str, float]]


def decide_class(context: ClassContext, weights: Weights) -> None:
    """Rank every field of every draft; each decision may rest on the ones before it."""
    drafts = context.drafts
    spans = look_at_spans(context)
    chosen = search_names(spans, weights)
    for draft, ranked in zip(drafts, rank_names(spans, chosen, weights), strict=True):
        draft.ranked["exercise"] = ranked
    context.settle_names()
    for at, draft in enumerate(drafts):
        draft.ranked["side"] = rank("side", side_candidates(context, at), weights)
    assign_sections(context, weights)
    assign_groups(context)
    unit = find_class_unit(context)
    used: set[str] = set()  # keys of the loads of the sets so far
    for at, draft in enumerate(drafts):
        draft.ranked["reps"] = rank("reps", rep_candidates(context, at), weights)
        draft.ranked["work_s"] = rank("work_s", second_candidates(context, at), weights)
        draft.ranked["load"] = rank("load", load_candidates(context, at, unit, used), weights)
        used.add(load_key(draft.value("load")))
        draft.ranked["basis"] = rank("basis", basis_candidates(context, at), weights)
        draft.ranked["finisher"] = rank("finisher", finisher_candidates(context, at), weights)
