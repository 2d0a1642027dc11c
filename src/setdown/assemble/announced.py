"""What an instructor announces once and relies on later: mentions whose words say that they are for everything."""

from __future__ import annotations

from setdown.assemble.context import ClassContext, MentionIndex
from setdown.model.mention import Mention

REACH = 14


def announced(context: ClassContext, kind: str, before: int, most: int | None = None) -> list[Mention]:
    """Mentions of ``kind`` ahead of word ``before`` that are declarations, in order; with ``most`` the last ones only.

    A mention declares when it stands before the first set, or close to words such as 'every', 'each move', 'tonight',
    'the plan', or far from any set's start.
    """
    found = context.announced.get(kind)
    if found is None:
        end = len(context.tagged.words)
        first = context.drafts[0].span.start if context.drafts else end
        found = context.announced[kind] = MentionIndex(
            m
            for m in context.index.within(kind, 0, end)
            if m.start < first - 30 or context.index.has("announce", m.start - REACH, m.end + REACH)
        )
    return found.within(kind, 0, before) if most is None else found.latest(kind, before, most)
