"""How well the talk around a span fits each movement's profile: evidence for moves that are described, not named."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setdown.assemble.context import ClassContext, Draft
from setdown.assemble.ranker import Candidate

SETUP_WORDS = 45
HEAD_WORDS = 18
BODY_WORDS = 90
TEMPERATURE = 2.5
TOP = 8
LEAST = 0.006


@dataclass(frozen=True, slots=True)
class Told:
    """Posterior of every movement under the profiles, for the announcement and for the work; ``top`` are candidates."""

    index: dict[str, int]
    announced: NDArray[np.float64]
    worked: NDArray[np.float64]
    top: tuple[str, ...]

    def add_features(self, candidate: Candidate) -> None:
        """Log-probabilities (scaled to 0..1) and ranks of one candidate."""
        at = self.index.get(candidate.key)
        if at is None:
            candidate.add("no profile")
            return
        for label, posterior in (("announced", self.announced), ("worked", self.worked)):
            p = float(posterior[at])
            candidate.features[f"{label} profile"] = max(0.0, 1.0 + np.log10(max(p, 1e-5)) / 5)
            rank = int((posterior > p).sum())
            if rank == 0 and p > 2.0 / len(posterior):
                candidate.add(f"{label} profile first")
                if p > 0.5:
                    candidate.add(f"{label} profile first, clearly")
            elif rank < 4:
                candidate.add(f"{label} profile among four")


def compare_profiles(context: ClassContext, draft: Draft) -> Told:
    """Profiles against the words before and in a span."""
    words = context.tagged.words
    start, end = draft.span.start, draft.span.end
    before = words[max(draft.setup_start - 3, start - SETUP_WORDS, 0) : start]
    head = words[start : min(start + HEAD_WORDS, max(end, start + 3))]
    body = words[start + HEAD_WORDS : min(end, start + BODY_WORDS)]
    model = context.profiles
    announced = model.score([*before, *head]).astype(np.float64)
    worked = model.score([*head, *body]).astype(np.float64)
    both = _posterior(announced + 0.7 * worked)
    order = np.argsort(-both, kind="stable")[:TOP]
    top = tuple(model.ids[i] for i in order if both[i] >= LEAST)
    return Told(model.index, _posterior(announced), _posterior(worked), top)


def _posterior(scores: NDArray[np.float64]) -> NDArray[np.float64]:
    if not len(scores):
        return scores
    mass = np.exp((scores - scores.max()) / TEMPERATURE)
    return np.asarray(mass / mass.sum())
