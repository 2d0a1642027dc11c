"""Why the routine says what it says at a moment: the words, the rules that read them, what was chosen and what lost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from setdown.assemble import assemble_with_drafts
from setdown.assemble.context import ClassContext, Draft
from setdown.assemble.ranker import Ranked, load_ranker_weights
from setdown.lexicon import Lexicon
from setdown.model.mention import Mention
from setdown.model.routine import Set
from setdown.model.segment import WorkSpan
from setdown.model.transcript import Transcript, Word
from setdown.segment import segment_mentions
from setdown.tag import tag_transcript

AROUND_MS = 15_000
MOST_ALTERNATIVES = 4
MOST_REASONS = 4


@dataclass(frozen=True, slots=True)
class Alternative:
    """One value that a field could have had: how likely it was held to be, and what spoke for or against it most."""

    field: str
    value: str
    probability: float
    reasons: tuple[str, ...]

    def __str__(self) -> str:
        why = "; ".join(self.reasons)
        return f"{self.field:<9} {self.value or 'none'}  {self.probability:.2f}" + (f"  ({why})" if why else "")


@dataclass(frozen=True, slots=True)
class Explanation:
    """``words`` and ``mentions`` around a moment, the ``spans`` of work there, the ``set`` and its ``alternatives``."""

    words: tuple[Word, ...]
    mentions: tuple[Mention, ...]
    spans: tuple[WorkSpan, ...]
    alternatives: tuple[str, ...]
    set: Set | None


def explain_moment(transcript: Transcript, at_ms: int, lexicon: Lexicon) -> Explanation:
    """What was said around ``at_ms``, what was recognised, and how the set at that moment (if any) was decided."""
    tagged = tag_transcript(transcript, lexicon)
    _, sets, context = assemble_with_drafts(tagged, segment_mentions(tagged), lexicon)
    near = [i for i, w in enumerate(transcript.words) if abs(w.start - at_ms) <= AROUND_MS]
    low, high = (near[0], near[-1] + 1) if near else (0, 0)
    found = next((i for i, s in enumerate(sets) if s.start * 1000 <= at_ms <= s.end * 1000), None)
    if found is not None:
        draft = context.drafts[found]
        low, high = min(low, max(draft.setup_start, draft.span.start - 40)), max(high, draft.span.end)
    return Explanation(
        words=tuple(transcript.words[low:high]),
        mentions=tuple(m for m in tagged.mentions if low <= m.start < high),
        spans=tuple(d.span for d in context.drafts if d.span.start < high and d.span.end > low),
        alternatives=tuple(str(a) for a in _list_alternatives(context, found)),
        set=sets[found] if found is not None else None,
    )


def _list_alternatives(context: ClassContext, found: int | None) -> Sequence[Alternative]:
    if found is None:
        return ()
    draft: Draft = context.drafts[found]
    out: list[Alternative] = []
    for field, ranked in draft.ranked.items():
        out += _of_field(field, ranked)
    return out


def _of_field(field: str, ranked: Ranked) -> list[Alternative]:
    table = load_ranker_weights().get(field, {})
    out = []
    for candidate, probability in list(zip(ranked.candidates, ranked.probabilities, strict=True))[:MOST_ALTERNATIVES]:
        if probability < 0.01 and candidate is not ranked.best:
            continue
        weighed = [(table.get(name, 0.0) * x, name) for name, x in candidate.features.items() if table.get(name)]
        weighed.sort(key=lambda w: (-abs(w[0]), w[1]))
        reasons = tuple(f"{name} {gain:+.1f}" for gain, name in weighed[:MOST_REASONS])
        out.append(Alternative(field, candidate.key, probability, reasons))
    return out
