"""Coaching cues, cautions and easier or harder options said for a set."""

from __future__ import annotations

from setdown.assemble.context import ClassContext, Draft
from setdown.assemble.evidence import quote_words
from setdown.model.mention import Mention
from setdown.model.routine import Coaching
from setdown.model.transcript import Word

KINDS = ("caution", "option", "form", "breath", "target")
MOST_PER_SET = 12
BEFORE, AFTER = 3, 9
SILENCE_MS = 700
HARDER = ("harder", "heavier", "advanced", "too easy", "jump it", "challenge")


def gather_coaching(context: ClassContext, draft: Draft) -> list[Coaching]:
    """Cues in the set-up and the work of a set, in order of time; phrases that run together are one cue."""
    low, high = draft.setup_start, draft.span.end
    mentions = sorted(context.index.within_any(KINDS, low, high), key=lambda m: (m.start, m.end, m.kind))
    found: list[Coaching] = []
    covered = -1
    for m in mentions:
        if m.start < covered or len(found) == MOST_PER_SET:
            continue
        start, end = _widen(context, m, low, high)
        start = max(start, covered)
        covered = end
        quotes = quote_words(context.tagged.transcript, start, end, m.rule)
        if not quotes:
            continue
        kind = m.kind
        if kind == "option":
            text = " ".join(context.tagged.words[start:end])
            kind = "harder" if any(h in text for h in HARDER) else "easier"
        found.append(Coaching(kind=kind, evidence=max(quotes, key=lambda q: len(q.quote))))
    return found


def _widen(context: ClassContext, mention: Mention, low: int, high: int) -> tuple[int, int]:
    """The clause around a phrase: up to sentence punctuation, a caption's edge or a silence, a few words at most."""
    words = context.tagged.transcript.words
    start = mention.start
    while start > max(low, mention.start - BEFORE) and not _breaks(words, start):
        start -= 1
    end = mention.end
    while end < min(high, mention.end + AFTER) and not _breaks(words, end):
        end += 1
    return start, end


def _breaks(words: tuple[Word, ...], at: int) -> bool:
    """Whether a clause may end between the words ``at - 1`` and ``at``."""
    left, right = words[at - 1], words[at]
    return left.text[-1] in ".?!;" or right.start - left.end > SILENCE_MS or right.cue != left.cue
