"""Movements named around a span: where, how, and whether the words around the name take it back."""

from __future__ import annotations

from dataclasses import dataclass

from setdown.assemble.context import LOOKBACK_WORDS, ClassContext, Draft
from setdown.lexicon.profiles import stem_word
from setdown.model.mention import Mention

NAME_KINDS = ("movement", "movement_weak", "movement_guess", "described")
DOUBTS = {
    "negated": (6, 0, 3),
    "likened": (5, 0, 2),
    "past": (12, 8, 12),
    "future": (12, 6, 12),
    "option": (8, 0, 8),
    "aside": (10, 4, 10),
}

MOST_BEFORE = max(before for before, _, _ in DOUBTS.values())
MOST_AFTER = max(after for _, after, _ in DOUBTS.values())
_NONE: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Naming:
    """One mention of a movement seen from a span."""

    mention: Mention
    movement: str
    zone: str
    doubts: frozenset[str]
    in_list: int  # 0: alone; else its place (1, 2, …) among names said close together
    stems: frozenset[str]  # of the words that name it


def find_doubts(context: ClassContext, mention: Mention) -> frozenset[str]:
    """Kinds of phrases near a name that speak against its being performed now."""
    near = context.index.within_any(tuple(DOUBTS), mention.start - MOST_BEFORE, mention.end + MOST_AFTER)
    if not near:
        return _NONE
    found: set[str] = set()
    for m in near:
        before, after, reach = DOUBTS[m.kind]
        if mention.start - before <= m.start < mention.end + after and (
            m.start >= mention.end or mention.start - m.end <= reach - 1
        ):
            found.add(m.kind)
    return frozenset(found)


def gather_namings(context: ClassContext, draft: Draft) -> list[Naming]:
    """All names from shortly before the end of the set before to the end of this one."""
    low, high = draft.setup_start - LOOKBACK_WORDS, max(draft.span.end, draft.span.start + 3)
    mentions = sorted(
        context.index.within_any(NAME_KINDS, max(low, 0), high),
        key=lambda m: (m.start, m.end),
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
        stems = frozenset(stem_word(w) for w in context.tagged.words[m.start : m.end])
        found.append(Naming(m, m.value.movement, context.zone(draft, m.start), find_doubts(context, m), run, stems))
    return found
