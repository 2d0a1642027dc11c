"""One role for each number: choose among the rules' proposals, settle what is open, take back what was corrected."""

from __future__ import annotations

from collections.abc import Iterable

from setdown.model.mention import Mention
from setdown.tag.quantities.corrections import withdraw_corrected
from setdown.tag.quantities.pattern import Draft, Match
from setdown.tag.quantities.settle import Choice, settle_numbers
from setdown.tag.quantities.stream import Stream

#: A silence inside a phrase that makes it two phrases, in ms; common practice in segmenting speech, no source.
BROKEN_BY = {"word": 1200, "clause": 2500, "talk": 6000}
#: The longer phrase says more: a bonus in the choice for each token that a pattern needed.
LENGTH_BONUS = 0.015


def _is_broken(match: Match) -> bool:
    """Whether punctuation or a silence inside the phrase says that it is none."""
    stream, within, start, end = match.stream, match.rule.within, match.outer_start, match.outer_end
    if within != "talk":
        signs = stream.stop[start : end - 1]
        if "." in signs or "…" in signs or (within == "word" and "," in signs):
            return True
    return max(stream.gap[start + 1 : end]) >= BROKEN_BY[within]


def _rank(proposal: tuple[float, int, int, str, list[Draft]]) -> tuple[float, int, int, str]:
    return proposal[:4]


def resolve_roles(stream: Stream, matches: Iterable[Match]) -> list[Mention]:
    """Mentions in the order of their words; every number of the stream is in exactly one."""
    proposals: list[tuple[float, int, int, str, list[Draft]]] = []
    for match in matches:
        length = match.outer_end - match.outer_start
        if length > 1 and _is_broken(match):
            continue
        rule = match.rule
        built = rule.build(match)
        if built is None:
            continue
        drafts = [built] if isinstance(built, Draft) else list(built)
        start, end = len(stream), 0
        for draft in drafts:
            if draft.start < 0:
                draft.start = match.start
            if draft.end < 0:
                draft.end = match.end
            if draft.score < 0:
                draft.score = rule.score
            start, end = min(start, draft.start), max(end, draft.end)
        if drafts:
            proposals.append((-drafts[0].score - LENGTH_BONUS * length, start, -end, rule.name, drafts))
    proposals.sort(key=_rank)
    taken = bytearray(len(stream))
    chosen: list[Choice] = []
    for _, start, minus_end, name, drafts in proposals:
        if 1 in taken[start:-minus_end]:
            continue
        taken[start:-minus_end] = b"\x01" * (-minus_end - start)
        chosen += [(draft, name) for draft in drafts]
    chosen.sort(key=lambda c: c[0].start)
    settled = withdraw_corrected(stream, settle_numbers(stream, taken, chosen))
    first, last = stream.first, stream.last
    return [Mention(d.kind, first[d.start], last[d.end - 1], d.value, name, round(d.score, 3)) for d, name in settled]
