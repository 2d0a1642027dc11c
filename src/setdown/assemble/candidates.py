"""Candidates of one decision, merged by value: what several sources agree on is one candidate with all features."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from setdown.assemble.context import ClassContext, Draft
from setdown.assemble.ranker import Candidate
from setdown.model.mention import Mention


class CandidateSet:
    """Collects candidates; adding a value twice adds its features to the one candidate."""

    def __init__(self) -> None:
        self._by_key: dict[str, Candidate] = {}

    def put(
        self,
        value: Any,
        key: str,
        features: Iterable[str],
        evidence: Mention | None = None,
        origin: str = "said",
    ) -> Candidate:
        """The candidate of ``key`` with the features added. The origin of the first source stands."""
        candidate = self._by_key.get(key)
        if candidate is None:
            candidate = self._by_key[key] = Candidate(value, key, origin=origin)
        candidate.features.update(dict.fromkeys(features, 1.0))
        if evidence is not None and evidence not in candidate.evidence:
            candidate.evidence.append(evidence)
        return candidate

    def __contains__(self, key: str) -> bool:
        return key in self._by_key

    def all(self) -> list[Candidate]:
        """Candidates in the order in which their values first came up."""
        return list(self._by_key.values())


def bucket_distance(distance: int) -> str:
    """A distance in words as the name of a range."""
    for limit in (3, 8, 16, 30, 60, 120):
        if distance <= limit:
            return f"<={limit}"
    return ">120"


def place_of(context: ClassContext, draft: Draft, mention: Mention) -> list[str]:
    """Features that tell where a mention lies relative to a set."""
    zone = context.zone(draft, mention.start)
    return [f"in {zone}", f"in {zone} {bucket_distance(abs(mention.start - draft.span.start))}"]


def window_of(draft: Draft) -> tuple[int, int]:
    """Words in which something said may be about this set: from just before the end of the set before to its end."""
    return max(draft.setup_start - 6, 0), max(draft.span.end, draft.span.start + 4)


def describe_set(context: ClassContext, draft: Draft) -> list[str]:
    """Features of the set itself: its movement's kind, its section, how long it lasts."""
    out = [f"section {draft.section}"]
    entry = context.lexicon.movements.get(draft.value("exercise") or "")
    if entry is not None:
        out += [
            f"pattern {entry.pattern}",
            f"counted {entry.counted[0] if entry.counted else 'reps'}",
            f"sided {entry.sided}",
        ]
        out.append("needs kit" if entry.kit else "no kit")
    else:
        out.append("movement unknown")
    words = context.tagged.transcript.words
    span = draft.span
    if span.end > span.start:
        seconds = (words[span.end - 1].end - words[span.start].start) / 1000
        for limit in (10, 16, 24, 34, 48, 70):
            if seconds <= limit:
                out.append(f"lasts <={limit}")
                break
        else:
            out.append("lasts >70")
    return out


def span_seconds(context: ClassContext, draft: Draft) -> float:
    """Length of the work in seconds, from the first to the last word (and the silence up to the next)."""
    words = context.tagged.transcript.words
    span = draft.span
    if span.start >= len(words):
        return 0.0
    stop = words[span.end - 1].end if span.end > span.start else words[span.start].start
    return max(0.0, (stop - words[span.start].start) / 1000)
