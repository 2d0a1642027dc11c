"""Learn the field weights: a softmax over the candidates of each decision, with an L2 penalty (L-BFGS)."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from functools import cache
from typing import Any

import numpy as np
import scipy.sparse as sp
from scipy.optimize import minimize
from training.classes import AnnotatedClass

from setdown.assemble import decide
from setdown.assemble.context import ClassContext, lay_out
from setdown.assemble.finishers import finisher_candidates
from setdown.assemble.groups import assign_groups
from setdown.assemble.loads import basis_candidates, find_class_unit, load_candidates
from setdown.assemble.names import choose_name, look_at_spans, name_candidates, search_names
from setdown.assemble.ranker import Candidate, Ranked, rank
from setdown.assemble.reps import rep_candidates
from setdown.assemble.seconds import second_candidates
from setdown.assemble.sections import assign_sections, section_candidates
from setdown.assemble.sides import side_candidates
from setdown.evaluate import align_rows, is_same_name
from setdown.lexicon import Lexicon
from setdown.lexicon.profiles import ProfileModel
from setdown.model.segment import Segmentation

Decisions = dict[str, list[tuple[str, list[Candidate], list[bool]]]]
PENALTY = {"exercise": 4.0, "finisher": 0.3}  # many features and few examples ask for different restraint
FIELDS = ("exercise", "side", "section", "reps", "work_s", "load", "basis", "finisher")
assert decide


def pair_spans(item: AnnotatedClass, segmentation: Segmentation) -> dict[int, dict[str, str]]:
    """Span number -> its gold row, by the scorer's own alignment without names."""
    words = item.tagged.transcript.words
    rows = []
    for s in segmentation.spans:
        start = words[min(s.start, len(words) - 1)].start / 1000
        end = words[max(s.end - 1, s.start if s.start < len(words) else len(words) - 1)].end / 1000
        rows.append({"start": str(start), "end": str(max(start, end)), "exercise": ""})
    return {j: item.gold[i] for i, j in align_rows(item.gold, rows)}


def is_right(field: str, candidate: Candidate, gold: dict[str, str], lexicon: Lexicon) -> bool | None:
    """Whether a candidate is what gold says; ``None`` when gold does not decide."""
    if field == "exercise":
        return bool(candidate.key) and is_same_name(gold["exercise"], lexicon.movements[candidate.key].name)
    if field == "basis":
        return candidate.key == gold["basis"] if gold["basis"] else None
    if field == "load":
        if not gold["load"]:
            return candidate.value is None or candidate.value.value is None
        if candidate.value is None or candidate.value.value is None:
            return False
        return abs(float(candidate.value.value) - float(gold["load"])) < 0.01
    if field == "work_s":
        return candidate.key == (str(int(float(gold["work_s"]))) if gold["work_s"] else "")
    if field == "section":
        return candidate.key == gold["section"]
    return candidate.key == gold[field]


@cache
def find_movement(names: str, lexicon: Lexicon) -> str:
    """The id of the first movement whose name gold accepts; empty when the lexicon has none."""
    return next((m.id for m in lexicon.movements.values() if is_same_name(names, m.name)), "")


def collect(
    item: AnnotatedClass,
    segmentation: Segmentation,
    lexicon: Lexicon,
    weights: dict[str, dict[str, float]],
    teach: bool,
    profiles: ProfileModel | None = None,
) -> Decisions:
    """Every decision of one class with its right answers. With ``teach`` later decisions see the right earlier ones."""
    context = lay_out(item.tagged, segmentation, lexicon, profiles)
    gold = pair_spans(item, segmentation)
    out: Decisions = defaultdict(list)

    def settle(field: str, at: int, candidates: list[Candidate]) -> None:
        ranked = rank(field, candidates, weights)
        if field == "exercise":
            ranked = choose_name(ranked)
        row = gold.get(at)
        if row is not None:
            marks = [is_right(field, c, row, lexicon) for c in candidates]
            if field == "exercise" and not any(marks):
                marks = [not c.key for c in candidates]
            if None not in marks and any(marks) and not all(marks):
                out[field].append((item.name, candidates, [bool(m) for m in marks]))
            if teach and any(marks):
                first = next(c for c, m in zip(candidates, marks, strict=True) if m)
                if field == "exercise" and not first.key:
                    known = find_movement(row["exercise"], lexicon)
                    first = Candidate(known, known) if known else first
                ranked = Ranked(
                    (first, *[c for c in candidates if c is not first]), (1.0,) + (0.0,) * (len(candidates) - 1)
                )
        context.drafts[at].ranked[field] = ranked

    _decide(context, weights, settle, gold, teach)
    return out


def _decide(
    context: ClassContext,
    weights: dict[str, dict[str, float]],
    settle: Callable[[str, int, list[Candidate]], None],
    gold: dict[int, dict[str, str]],
    teach: bool,
) -> None:
    spans = look_at_spans(context)
    path = () if teach else search_names(spans, weights)
    history: list[str] = []
    for at, draft in enumerate(context.drafts):
        settle("exercise", at, name_candidates(spans[at], history))
        history.append(path[at] if path else draft.value("exercise") or f"?{at}")
        if path:
            ranked = draft.ranked["exercise"]
            order = sorted(range(len(ranked.candidates)), key=lambda i: ranked.candidates[i].key != path[at])
            draft.ranked["exercise"] = Ranked(
                tuple(ranked.candidates[i] for i in order), tuple(ranked.probabilities[i] for i in order)
            )
    for at in range(len(context.drafts)):
        settle("side", at, side_candidates(context, at))
    for at in range(len(context.drafts)):
        settle("section", at, section_candidates(context, at))
    assign_sections(context, weights)
    if teach:
        for at, row in gold.items():
            if row["section"] in ("warm_up", "main", "cool_down"):
                context.drafts[at].section = row["section"]
    assign_groups(context)
    unit = find_class_unit(context)
    for at in range(len(context.drafts)):
        settle("reps", at, rep_candidates(context, at))
        settle("work_s", at, second_candidates(context, at))
        settle("load", at, load_candidates(context, at, unit))
        settle("basis", at, basis_candidates(context, at))
        settle("finisher", at, finisher_candidates(context, at))


def train_field(decisions: Sequence[tuple[str, list[Candidate], list[bool]]], penalty: float = 1.0) -> dict[str, float]:
    """Weights of one field."""
    seen: dict[str, set[str]] = defaultdict(set)
    for name, candidates, _ in decisions:
        for c in candidates:
            for f in c.features:
                seen[f].add(name)
    names = sorted(f for f, classes in seen.items() if len(classes) >= 2)
    index = {f: i for i, f in enumerate(names)}
    rows, columns, values, offsets, right = [], [], [], [0], []
    row = 0
    for _, candidates, marks in decisions:
        for c, mark in zip(candidates, marks, strict=True):
            for f, x in c.features.items():
                if f in index:
                    rows.append(row)
                    columns.append(index[f])
                    values.append(x)
            right.append(mark)
            row += 1
        offsets.append(row)
    matrix = sp.csr_matrix((values, (rows, columns)), shape=(row, len(names)))
    right_array = np.array(right)
    starts = np.array(offsets[:-1])
    sizes = np.diff(offsets)

    def loss(w: Any) -> tuple[float, Any]:
        scores = matrix @ w
        top = np.repeat(np.maximum.reduceat(scores, starts), sizes)
        mass = np.exp(scores - top)
        every = np.add.reduceat(mass, starts)
        good = np.maximum(np.add.reduceat(mass * right_array, starts), 1e-300)  # a wild step of the search can reach 0
        p = mass / np.repeat(every, sizes)
        q = mass * right_array / np.repeat(good, sizes)
        value = float(np.sum(np.log(every) - np.log(good))) + 0.5 * penalty * float(w @ w)
        return value, matrix.T @ (p - q) + penalty * w

    found = minimize(loss, np.zeros(len(names)), jac=True, method="L-BFGS-B", options={"maxiter": 200})
    if not np.isfinite(found.x).all():
        raise ValueError(f"the weights of {len(decisions)} decisions are no numbers: {found.message}")
    return {f: round(float(x), 3) for f, x in zip(names, found.x, strict=True) if abs(x) > 0.01}


def collect_all(
    items: Sequence[tuple[AnnotatedClass, Segmentation]],
    lexicon: Lexicon,
    profiles: Mapping[str, ProfileModel],
    penalty: float = 1.0,
) -> Decisions:
    """Decisions of all classes in two passes: with the right history, then with the history that weights would make.

    The second pass uses weights of all classes given; they only shape the history that later decisions see.
    """
    pool: Decisions = defaultdict(list)
    for item, segmentation in items:
        for field, found in collect(item, segmentation, lexicon, {}, True, profiles[item.name]).items():
            pool[field] += found
    weights = {field: train_field(pool[field], PENALTY.get(field, penalty)) for field in FIELDS}
    for item, segmentation in items:
        for field, found in collect(item, segmentation, lexicon, weights, False, profiles[item.name]).items():
            if field != "exercise":  # names are best learned from right histories alone
                pool[field] += found
    return pool


def train_rankers(
    pool: Decisions, without: frozenset[str] = frozenset(), penalty: float = 1.0
) -> dict[str, dict[str, float]]:
    """Weights of all fields from the decisions of every class that is not in ``without``."""
    return {
        field: train_field([d for d in pool[field] if d[0] not in without], PENALTY.get(field, penalty))
        for field in FIELDS
        if pool[field]
    }
