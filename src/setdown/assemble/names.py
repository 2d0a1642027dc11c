"""Who is who: which movement a span of work is.

Candidates are the movements mentioned around the span, and those the class has shown before (a round whose names are
no longer said, the other side, 'same again'). What speaks for one: where and how it was named, whether the words
around the name take it back ('not a', 'like a', 'last week'), and whether the order of the class expects it.
"""

from __future__ import annotations

from dataclasses import dataclass

from setdown.assemble.context import LOOKBACK_WORDS, ClassContext, Draft
from setdown.assemble.ranker import Candidate, Ranked
from setdown.assemble.told import compare_profiles
from setdown.model.mention import Mention

NAME_KINDS = ("movement", "movement_weak", "movement_guess", "described")
REACH_BACK_SETS = 12
LIST_REACH_WORDS = 350
LIST_GAP_WORDS = 9
DOUBTS = {
    "negated": (6, 0, 3),
    "likened": (5, 0, 2),
    "past": (12, 8, 12),
    "future": (12, 6, 12),
    "option": (8, 0, 8),
    "aside": (10, 4, 10),
}


@dataclass(frozen=True, slots=True)
class Naming:
    """One mention of a movement seen from a span."""

    mention: Mention
    movement: str
    zone: str
    doubts: frozenset[str]
    in_list: int  # 0: alone; else its place (1, 2, …) among names said close together


def find_doubts(context: ClassContext, mention: Mention) -> frozenset[str]:
    """Kinds of phrases near a name that speak against its being performed now."""
    found: set[str] = set()
    for kind, (before, after, reach) in DOUBTS.items():
        for m in context.index.within(kind, mention.start - before, mention.end + after):
            if m.start >= mention.end or mention.start - m.end <= reach - 1:
                found.add(kind)
    return frozenset(found)


def gather_namings(context: ClassContext, draft: Draft) -> list[Naming]:
    """All names from shortly before the end of the set before to the end of this one."""
    low, high = draft.setup_start - LOOKBACK_WORDS, max(draft.span.end, draft.span.start + 3)
    mentions = sorted(
        (m for kind in NAME_KINDS for m in context.index.within(kind, max(low, 0), high)), key=lambda m: (m.start, m.end)
    )
    found: list[Naming] = []
    run = 0
    for i, m in enumerate(mentions):
        close = i > 0 and m.start - mentions[i - 1].end <= 7 and m.value.movement != mentions[i - 1].value.movement
        follows = (
            i + 1 < len(mentions)
            and mentions[i + 1].start - m.end <= 7
            and mentions[i + 1].value.movement != m.value.movement
        )
        run = run + 1 if close else (1 if follows else 0)
        found.append(Naming(m, m.value.movement, context.zone(draft, m.start), find_doubts(context, m), run))
    return found


def name_candidates(context: ClassContext, at: int, history: list[str]) -> list[Candidate]:
    """Candidates for span ``at``; ``history`` holds the movement ids chosen for the spans before it.

    Always returns at least one candidate; the id is empty for 'not known'.
    """
    draft = context.drafts[at]
    namings = gather_namings(context, draft)
    by_movement: dict[str, list[Naming]] = {}
    for naming in namings:
        by_movement.setdefault(naming.movement, []).append(naming)
    recent = history[-REACH_BACK_SETS:]
    for movement in (m for m in recent if m in context.lexicon.movements):
        by_movement.setdefault(movement, [])
    expected = expect_next(history)
    listed = expect_from_list(context, draft, history)
    for movement in listed:
        by_movement.setdefault(movement, [])
    cues = read_cues(context, draft)
    told = compare_profiles(context, draft)
    for movement in told.top:
        by_movement.setdefault(movement, [])
    candidates: list[Candidate] = []
    firm = [n for n in namings if n.zone in ("setup", "head") and n.mention.kind != "described" and not n.doubts]
    for movement, own in by_movement.items():
        if not movement:
            continue
        candidate = Candidate(movement, movement, origin="said" if own else "carried")
        _add_naming_features(context, draft, candidate, own, firm)
        _add_order_features(candidate, movement, history, expected, cues, bool(own), bool(firm))
        _add_movement_features(context, candidate, movement, by_movement, at)
        told.add_features(candidate)
        for why in listed.get(movement, ()):
            candidate.add(why, f"{why}, {'named' if own else 'not named'}")
            if not firm:
                candidate.add(f"{why}, nothing named")
        if not own and movement in listed and movement not in recent:
            candidate.origin = "declared"
        candidates.append(candidate)
    unknown = Candidate("", "", {"unknown": 1.0}, origin="inferred")
    unknown.add("unknown, something named" if firm else "unknown, nothing named")
    if not namings:
        unknown.add("unknown, no name at all")
    candidates.append(unknown)
    return candidates


def choose_name(ranked: Ranked) -> Ranked:
    """A movement goes before 'not known' however unsure it is: the reviewer is asked, with the doubt in figures."""
    order = sorted(range(len(ranked.candidates)), key=lambda i: not ranked.candidates[i].key)
    return Ranked(tuple(ranked.candidates[i] for i in order), tuple(ranked.probabilities[i] for i in order))


def _add_naming_features(
    context: ClassContext, draft: Draft, candidate: Candidate, own: list[Naming], firm: list[Naming]
) -> None:
    if not own:
        candidate.add("not named")
        return
    start = draft.span.start
    features = candidate.features
    clean = [n for n in own if not n.doubts]
    for n in own:
        sure = "firm" if not n.doubts else "doubted"
        features[f"{n.zone}, {n.mention.kind}, {sure}"] = 1.0
        for doubt in n.doubts:
            features[f"{n.zone}, {doubt}"] = 1.0
    best = min(clean or own, key=lambda n: (_ZONE_ORDER[n.zone], abs(n.mention.start - start)))
    distance = abs(best.mention.start - start)
    candidate.add(f"nearest {best.zone} {_bucket(distance)}", f"kind {best.mention.kind}")
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
    if any(
        context.index.has(kind, n.mention.start - 4, n.mention.start) for n in clean for kind in ("setup", "again")
    ):
        candidate.add("led in")
    if any(context.index.has("go", n.mention.end, n.mention.end + 6) for n in clean):
        candidate.add("go follows")
    candidate.evidence = [n.mention for n in sorted(own, key=lambda n: (bool(n.doubts), _ZONE_ORDER[n.zone]))][:3]


_ZONE_ORDER = {"setup": 0, "head": 1, "tail": 2, "body": 3, "after": 4}


def _bucket(distance: int) -> str:
    for limit in (3, 8, 16, 30, 60, 120):
        if distance <= limit:
            return f"<={limit}"
    return ">120"


def expect_next(history: list[str]) -> dict[str, float]:
    """What the order of the class makes likely next: name of the expectation -> movement, as 'why|movement' keys."""
    out: dict[str, float] = {}
    if not history:
        return out
    last = history[-1]
    out[f"same|{last}"] = 1.0
    for back in range(len(history) - 2, max(-1, len(history) - 40), -1):
        if history[back] == last and history[back + 1] != last:
            out[f"successor|{history[back + 1]}"] = 1.0
            if back >= 1 and len(history) >= 2 and history[back - 1] == history[-2]:
                out[f"successor of two|{history[back + 1]}"] = 1.0
            break
    for period in range(2, 11):
        if len(history) >= period and last not in history[-period:-1]:
            out[f"period {period}|{history[-period]}"] = 1.0
    return out


def expect_from_list(context: ClassContext, draft: Draft, history: list[str]) -> dict[str, list[str]]:
    """Movements of the last list announced ('squats, press-ups, then a bridge') and why one of them may be due."""
    high = draft.setup_start
    low = max(0, high - LIST_REACH_WORDS)
    names = sorted(
        (m for kind in ("movement", "movement_guess", "movement_weak") for m in context.index.within(kind, low, high)),
        key=lambda m: (m.start, m.end),
    )
    runs: list[list[str]] = []
    ends = -100
    for m in names:
        if m.start - ends <= LIST_GAP_WORDS and runs:
            if m.value.movement not in runs[-1]:
                runs[-1].append(m.value.movement)
        else:
            runs.append([m.value.movement])
        ends = m.end
    out: dict[str, list[str]] = {}
    last = history[-1] if history else ""
    for run in runs:
        if len(run) < 2:
            continue
        for i, movement in enumerate(run):
            why = out.setdefault(movement, [])
            if "listed" not in why:
                why.append("listed")
            if i and run[i - 1] == last and "listed next" not in why:
                why.append("listed next")
            if movement not in history and "listed, not yet done" not in why:
                why.append("listed, not yet done")
    return out


def read_cues(context: ClassContext, draft: Draft) -> tuple[str, ...]:
    """Cues between the sets that say how this one relates to those before."""
    low, high = max(draft.setup_start - 4, 0), draft.span.start + 4
    cues = [k for k in ("side_other", "again", "round_end", "rest", "side_left", "side_right") if context.index.has(k, low, high)]
    if context.index.has("round", low, high):
        cues.append("round said")
    words = draft.span.start - draft.setup_start
    cues.append("short setup" if words <= 8 else "long setup" if words > 45 else "middle setup")
    return tuple(cues)


def _add_order_features(
    candidate: Candidate,
    movement: str,
    history: list[str],
    expected: dict[str, float],
    cues: tuple[str, ...],
    named: bool,
    anything_named: bool,
) -> None:
    for key in expected:
        why, _, who = key.partition("|")
        if who != movement:
            continue
        why = why if not why.startswith("period") else "period"
        candidate.add(f"expected {why}", f"expected {why}, {'named' if named else 'not named'}")
        if not anything_named:
            candidate.add(f"expected {why}, nothing named")
        for cue in cues:
            candidate.add(f"expected {why}, {cue}")
    done = history.count(movement)
    candidate.add("done before" if done else "new")
    if done and movement in history[-4:]:
        candidate.add("done lately")
    elif done:
        candidate.add("done long ago")


def _add_movement_features(
    context: ClassContext, candidate: Candidate, movement: str, by_movement: dict[str, list[Naming]], at: int
) -> None:
    entry = context.lexicon.movements.get(movement)
    if entry is None:
        return
    candidate.add(f"movement {movement}", f"pattern {entry.pattern}")
    for other, namings in by_movement.items():
        if other == movement or not namings or other not in context.lexicon.movements:
            continue
        kin = context.lexicon.movements[other]
        if kin.family == movement and other != movement:
            candidate.add("a variant of it is named too")
        if entry.family == other:
            candidate.add("its basic form is named too")
    share = at / max(len(context.drafts), 1)
    stretch = entry.pattern in ("stretch", "pose", "breathing")
    if stretch:
        candidate.add("stretch late" if share > 0.75 else "stretch early" if share < 0.2 else "stretch midway")
    if entry.pattern == "mobility":
        candidate.add("mobility early" if share < 0.25 else "mobility later")
