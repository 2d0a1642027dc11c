"""Warm-up, main work, cool-down: one monotone cut of the sets, by what each set and the talk before it look like."""

from __future__ import annotations

import math
from collections.abc import Mapping

from setdown.assemble.context import ClassContext
from setdown.assemble.ranker import Candidate, rank

ORDER = ("warm_up", "main", "cool_down")
CUES = (
    "warm_up",
    "main_part",
    "cool_down",
    "outro",
    "superset",
    "circuit",
    "interval_talk",
    "interval",
    "rest",
    "stop",
    "round_end",
)


def section_candidates(context: ClassContext, at: int) -> list[Candidate]:
    """The three sections a set can be in, each with what speaks for it."""
    draft = context.drafts[at]
    index, n = context.index, len(context.drafts)
    shared: list[str] = []
    entry = context.lexicon.movements.get(draft.value("exercise") or "")
    if entry is not None:
        shared += [f"pattern {entry.pattern}", f"counted {entry.counted[0] if entry.counted else 'reps'}"]
        shared.append("kit" if entry.kit else "no kit")
    share = at / max(n - 1, 1)
    shared.append(f"tenth {min(int(share * 10), 9)}")
    if at < 3:
        shared.append(f"set {at + 1}")
    if n - at <= 3:
        shared.append(f"set {n - at} from the end")
    for cue in CUES:
        if index.has(cue, draft.setup_start, draft.span.start + 3):
            shared.append(f"{cue} said before")
        if index.has(cue, 0, draft.span.start + 3):
            shared.append(f"{cue} said so far")
    for kind in ("load", "reps", "work_s", "sets", "round", "interval", "breaths", "count"):
        if index.has(kind, draft.setup_start, draft.span.end):
            shared.append(f"{kind} here")
    if index.has("load", 0, draft.span.start):
        shared.append("load said so far")
    shared.append("long talk before" if draft.span.start - draft.setup_start > 60 else "short talk before")
    times = context.count_drafts(at)
    shared.append("done once" if times == 1 else "done twice" if times == 2 else "done often")
    return [Candidate(s, s, dict.fromkeys([s, *(f"{s}, {x}" for x in shared)], 1.0)) for s in ORDER]


def assign_sections(context: ClassContext, weights: Mapping[str, Mapping[str, float]]) -> None:
    """Choose the two cuts (warm-up | main | cool-down) that make all sets together likeliest."""
    drafts = context.drafts
    logs: list[dict[str, float]] = []
    for at in range(len(drafts)):
        ranked = rank("section", section_candidates(context, at), weights)
        drafts[at].ranked["section"] = ranked
        logs.append(
            {c.key: math.log(max(p, 1e-9)) for c, p in zip(ranked.candidates, ranked.probabilities, strict=True)}
        )
    n = len(drafts)
    best: tuple[float, int, int] | None = None
    warm = [0.0]
    main = [0.0]
    cool = [0.0]
    for log in logs:
        warm.append(warm[-1] + log["warm_up"])
        main.append(main[-1] + log["main"])
        cool.append(cool[-1] + log["cool_down"])
    best_first = 0
    for second in range(n + 1):
        if warm[second] - main[second] > warm[best_first] - main[best_first]:
            best_first = second
        first = best_first
        total = warm[first] + main[second] - main[first] + cool[n] - cool[second]
        if best is None or total > best[0]:
            best = (total, first, second)
    assert best is not None
    _, first, second = best
    for at, draft in enumerate(drafts):
        draft.section = "warm_up" if at < first else "main" if at < second else "cool_down"
