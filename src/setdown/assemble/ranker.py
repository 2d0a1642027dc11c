"""One way to decide a value: list the candidates, weigh what speaks for each, take the likeliest.

Every field of a set is decided like this, so that each decision can be explained: the candidates that lost are there
with their probabilities. Weights are learned from annotated classes and shipped as a readable file.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from importlib import resources
from typing import Any

from setdown.model.mention import Mention


@dataclass(slots=True)
class Candidate:
    """A possible value: ``key`` tells candidates of one decision apart; ``features`` map a name to its strength."""

    value: Any
    key: str
    features: dict[str, float] = field(default_factory=dict)
    evidence: list[Mention] = field(default_factory=list)
    origin: str = "said"

    def add(self, *names: str) -> None:
        """Set features to 1."""
        for name in names:
            self.features[name] = 1.0


@dataclass(frozen=True, slots=True)
class Ranked:
    """Candidates by falling probability, which sum to 1."""

    candidates: tuple[Candidate, ...]
    probabilities: tuple[float, ...]

    @property
    def best(self) -> Candidate:
        return self.candidates[0]

    @property
    def confidence(self) -> float:
        return self.probabilities[0]


@lru_cache(maxsize=1)
def load_ranker_weights() -> dict[str, dict[str, float]]:
    """Weights by field, from ``weights.json`` beside this file."""
    raw: dict[str, dict[str, float]] = json.loads(
        resources.files("setdown.assemble").joinpath("weights.json").read_text(encoding="utf-8")
    )["fields"]
    return raw


def weigh(features: Mapping[str, float], table: Mapping[str, float]) -> float:
    """The weighted sum of features; what has no weight says nothing."""
    total = 0.0
    for name, value in features.items():
        if name in table:
            total += table[name] * value
    return total


def add_up(names: Iterable[str], table: Mapping[str, float], total: float = 0.0) -> float:
    """``total`` and the weights of features of strength 1."""
    for name in names:
        if name in table:
            total += table[name]
    return total


def rank(field_name: str, candidates: Sequence[Candidate], weights: Mapping[str, Mapping[str, float]]) -> Ranked:
    """Order candidates by the softmax of their weighted features; ties keep the order given.

    Raises:
        ValueError: there are no candidates.
    """
    if not candidates:
        raise ValueError(f"no candidates for {field_name}")
    table = weights.get(field_name, {})
    return rank_scored(candidates, [weigh(c.features, table) for c in candidates])


def rank_scored(candidates: Sequence[Candidate], scores: Sequence[float]) -> Ranked:
    """Order candidates by the softmax of their scores; ties keep the order given. There must be one at least."""
    top = max(scores)
    mass = [math.exp(s - top) for s in scores]
    total = sum(mass)
    order = sorted(range(len(candidates)), key=lambda i: (-scores[i], i))
    return Ranked(tuple(candidates[i] for i in order), tuple(mass[i] / total for i in order))
