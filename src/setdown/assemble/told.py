"""How well the talk around a span fits each movement's profile: evidence for moves that are described, not named."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setdown.assemble.context import ClassContext, Draft
from setdown.assemble.ranker import Candidate

LABELS = ("announced", "nearby", "worked")
NAMES = tuple((f"{x} profile", f"{x} odds", f"{x} profile likely", f"{x} profile clear") for x in LABELS)
SETUP_WORDS = 45
HEAD_WORDS = 18
BODY_WORDS = 90
TEMPERATURE = 4.0
TOP = 8
LEAST = 0.006
NOTHING = 8.0
LEAST_LOG = -10.0
LEAST_P = math.exp(LEAST_LOG)
LIKELY, CLEAR = 0.25, 0.6
MOST_ODDS = 4.0
NEAR_WORDS = 14


@dataclass(frozen=True, slots=True)
class Told:
    """Fit of the talk with every movement, for the announcement, its last words, and the work; ``top`` are candidates.

    Scores are log-odds against talk in general (so that talk about nothing in particular fits nothing); posteriors
    are over all movements and 'none of them'.
    """

    index: dict[str, int]
    scores: NDArray[np.float64]  # one row for each of LABELS, one column for each movement
    posteriors: NDArray[np.float64]  # likewise
    top: tuple[str, ...]

    def add_features(self, candidate: Candidate) -> None:
        """Scores and log-probabilities of one candidate, scaled to a few units."""
        if not self.index:
            return
        at = self.index.get(candidate.key)
        features = candidate.features
        own_and_named = False
        if at is None:  # a coach's own movement: nobody wrote how it is taught, so its name alone decides
            at = int(self.posteriors[0].argmax())
            own_and_named = any(name.endswith(", firm") for name in features)
        for names, p, score in zip(NAMES, self.posteriors[:, at].tolist(), self.scores[:, at].tolist(), strict=True):
            profile, odds, likely, clear = names
            features[profile] = math.log(p) / 2 if p > LEAST_P else LEAST_LOG / 2
            features[odds] = score / 8 if -4.0 <= score <= 32.0 else -0.5 if score < -4.0 else MOST_ODDS
            if p > LIKELY:
                features[likely] = 1.0
                if p > CLEAR:
                    features[clear] = 1.0
        if own_and_named:  # who has a name of their own for a move means it where they say it
            features[NAMES[0][1]] = 2 * MOST_ODDS


def compare_profiles(context: ClassContext, draft: Draft) -> Told:
    """Profiles against the words before and in a span."""
    words = context.read_words()
    total = len(context.tagged.words)
    start, end = draft.span.start, draft.span.end
    low = max(draft.setup_start - 3, start - SETUP_WORDS, 0)
    head_end = min(start + HEAD_WORDS, max(end, start + 3), total)
    model = context.profiles
    scores = np.empty((len(LABELS) + 1, len(model.ids)))
    scores[0] = words.score(low, head_end)
    scores[1] = words.score(max(low, start - NEAR_WORDS), min(start + NEAR_WORDS, head_end))
    scores[2] = words.score(start, max(head_end, min(end, start + BODY_WORDS)))
    scores[3] = scores[0] + 0.7 * scores[2]
    posteriors = _posterior(scores)
    both = posteriors[3]
    found = np.flatnonzero(both >= LEAST)
    order = found[np.argsort(-both[found], kind="stable")[:TOP]]
    return Told(model.index, scores[:3], posteriors[:3], tuple(model.ids[i] for i in order))


def _posterior(scores: NDArray[np.float64]) -> NDArray[np.float64]:
    """Softmax of every row over movements and 'none of them', which has the score of talk that fits nothing."""
    if not scores.size:
        return scores
    top = np.maximum(scores.max(axis=1, keepdims=True), NOTHING)
    mass = np.exp((scores - top) / TEMPERATURE)
    return np.asarray(mass / (mass.sum(axis=1, keepdims=True) + np.exp((NOTHING - top) / TEMPERATURE)))
