"""One role for each number: choose among the rules' proposals, then read what is left."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from setdown.model.mention import Mention
from setdown.tag.quantities.bare import BareReader, read_run
from setdown.tag.quantities.pattern import Draft, Match
from setdown.tag.quantities.stream import Stream

#: A silence inside a phrase that makes it two phrases, in ms.
BROKEN_BY = 2500
STOP_PENALTY = 0.75
GAP_PENALTY = 0.8

Chosen = tuple[int, int, str, float, Draft]  # start, end, rule, score, draft


def _strength(match: Match, score: float) -> float:
    """A rule's score, less where a full stop or a silence falls inside the phrase."""
    stream = match.stream
    for token in range(match.outer_start, match.outer_end - 1):
        if stream.stop[token] in {".", "…"}:
            score *= STOP_PENALTY
        gap = stream.gap[token + 1]
        if gap >= BROKEN_BY:
            return 0.0
        if gap >= 800:
            score *= GAP_PENALTY
    return score


def _propose(matches: Iterable[Match]) -> list[tuple[float, int, int, str, list[Draft]]]:
    proposals = []
    for match in matches:
        built = match.rule.build(match)
        if built is None:
            continue
        drafts = [built] if isinstance(built, Draft) else list(built)
        drafts = [
            replace(d, start=match.start if d.start is None else d.start, end=match.end if d.end is None else d.end)
            for d in drafts
        ]
        if not drafts:
            continue
        base = drafts[0].score if drafts[0].score is not None else match.rule.score
        score = _strength(match, base)
        if score <= 0:
            continue
        start = min(d.start for d in drafts if d.start is not None)
        end = max(d.end for d in drafts if d.end is not None)
        # the longer phrase says more: a small bonus for each token it needed
        rank = score + 0.015 * (match.outer_end - match.outer_start)
        proposals.append((rank, start, end, match.rule.name, [replace(d, score=score) for d in drafts]))
    return proposals


def resolve_roles(stream: Stream, matches: Iterable[Match]) -> list[Mention]:
    """Mentions in order: chosen proposals that do not overlap, then runs and bare numbers."""
    taken = bytearray(len(stream))
    chosen: list[tuple[int, int, str, Draft]] = []
    for _, start, end, name, drafts in sorted(_propose(matches), key=lambda p: (-p[0], p[1], -p[2], p[3])):
        if any(taken[start:end]):
            continue
        for token in range(start, end):
            taken[token] = 1
        chosen += [(d.start or 0, d.end or 0, name, d) for d in drafts]
    chosen += _read_rest(stream, taken, sorted(chosen, key=lambda c: c[0]))
    chosen.sort(key=lambda c: (c[0], c[1]))
    return [
        Mention(d.kind, stream.first[start], stream.last[end - 1], d.value, name, round(d.score or 0.5, 3))
        for start, end, name, d in chosen
    ]


def _read_rest(
    stream: Stream, taken: bytearray, chosen: list[tuple[int, int, str, Draft]]
) -> list[tuple[int, int, str, Draft]]:
    reader = BareReader(stream)
    out: list[tuple[int, int, str, Draft]] = []
    ahead, k = 0, 0
    positions, numbers = stream.positions, stream.numbers
    while k < len(numbers):
        token = positions[k]
        while ahead < len(chosen) and chosen[ahead][0] <= token:
            reader.note(chosen[ahead][3].kind, chosen[ahead][3].value, chosen[ahead][0])
            ahead += 1
        if taken[token]:
            k += 1
            continue
        form = numbers[k].form
        if form in {"count_up", "count_down"}:
            j = k
            while j + 1 < len(numbers) and _continues(stream, taken, j):
                j += 1
            if j > k and (draft := read_run(list(numbers[k : j + 1]), positions[k : j + 1])) is not None:
                out.append((token, positions[j] + 1, "five six seven", draft))
                reader.note(draft.kind, draft.value, positions[j])
                k = j + 1
                continue
        draft = reader.read(numbers[k], token)
        reader.note(draft.kind, draft.value, token)
        out.append((draft.start or token, draft.end or token + 1, "a number by itself", draft))
        k += 1
    return out


def _continues(stream: Stream, taken: bytearray, j: int) -> bool:
    """Whether number ``j + 1`` goes on with the run of number ``j``."""
    here, there = stream.numbers[j], stream.numbers[j + 1]
    if there.form != here.form or taken[stream.positions[j + 1]] or there.start - here.end > 1:
        return False
    if here.value is None or there.value is None:
        return False
    return there.value - here.value == (1 if here.form == "count_up" else -1)
