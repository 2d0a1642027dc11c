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
NOTHING = 5.0
LEAST_LOG = -10.0
LIKELY, CLEAR = 0.25, 0.6
NEAR_WORDS = 14


@dataclass(frozen=True, slots=True)
class Told:
    """Fit of the talk with every movement, for the announcement, its last words, and the work; ``top`` are candidates.

    Scores are log-odds against talk in general (so that talk about nothing in particular fits nothing); posteriors
    are over all movements and 'none of them'.
    """

    index: dict[str, int]
    scores: dict[str, NDArray[np.float64]]
    posteriors: dict[str, NDArray[np.float64]]
    top: tuple[str, ...]

    def add_features(self, candidate: Candidate) -> None:
        """Scores and log-probabilities of one candidate, scaled to a few units."""
        if not self.index:
            return
        at = self.index.get(candidate.key)
        for label, posterior in self.posteriors.items():
            if at is None:  # a coach's own movement: nobody wrote how it is taught, so its name alone decides
                at = int(self.posteriors["announced"].argmax())
            p = float(posterior[at])
            candidate.features[f"{label} profile"] = max(float(np.log(max(p, 1e-9))), LEAST_LOG) / 2
            candidate.features[f"{label} odds"] = min(max(float(self.scores[label][at]), -4.0), 32.0) / 8
            if p > LIKELY:
                candidate.add(f"{label} profile likely")
            if p > CLEAR:
                candidate.add(f"{label} profile clear")


def compare_profiles(context: ClassContext, draft: Draft) -> Told:
    """Profiles against the words before and in a span."""
    words = context.tagged.words
    start, end = draft.span.start, draft.span.end
    low = max(draft.setup_start - 3, start - SETUP_WORDS, 0)
    head = words[start : min(start + HEAD_WORDS, max(end, start + 3))]
    body = words[start + HEAD_WORDS : min(end, start + BODY_WORDS)]
    model = context.profiles
    scores = {
        "announced": model.score([*words[low:start], *head]),
        "nearby": model.score([*words[max(low, start - NEAR_WORDS) : start], *head[:NEAR_WORDS]]),
        "worked": model.score([*head, *body]),
    }
    posteriors = {label: _posterior(s) for label, s in scores.items()}
    both = _posterior(scores["announced"] + 0.7 * scores["worked"])
    order = np.argsort(-both, kind="stable")[:TOP]
    top = tuple(model.ids[i] for i in order if both[i] >= LEAST)
    return Told(model.index, scores, posteriors, top)


def _posterior(scores: NDArray[np.float64]) -> NDArray[np.float64]:
    """Softmax over movements and 'none of them', which has the score of talk that fits nothing."""
    if not len(scores):
        return scores
    top = max(float(scores.max()), NOTHING)
    mass = np.exp((scores - top) / TEMPERATURE)
    return np.asarray(mass / (mass.sum() + np.exp((NOTHING - top) / TEMPERATURE)))
