"""Is this a class at all? A cookery show also says 'go', counts, and names a press.

One decision over the whole transcript, from how densely it names movements, counts, coaches form and breath, and from
how sure the spans of work are; weights are learned from annotated classes and from transcripts that are none.
"""

from __future__ import annotations

import bisect
import math
from collections.abc import Mapping, Sequence

from setdown.model.mention import TaggedTranscript
from setdown.model.segment import WorkSpan

KINDS = (
    "movement",
    "movement_weak",
    "described",
    "form",
    "breath",
    "target",
    "go",
    "stop",
    "keep_on",
    "last",
    "halfway",
    "setup",
    "count",
    "remaining",
    "countdown",
    "reps",
    "sets",
    "load",
    "work_s",
    "side_left",
    "side_right",
    "side_other",
    "each_side",
    "again",
    "rest",
    "warm_up",
    "cool_down",
    "hold",
    "past",
    "aside",
)
NEAR_WORDS = 30
MOST = 6.0  # mentions of one kind per hundred words beyond which more say nothing


def gate_features(tagged: TaggedTranscript, spans: Sequence[WorkSpan]) -> dict[str, float]:
    """Densities per hundred words (square roots, capped), and how much of the talk is work and how surely."""
    hundred = max(len(tagged.words), 1) / 100
    counts: dict[str, int] = {}
    for m in tagged.mentions:
        counts[m.kind] = counts.get(m.kind, 0) + 1
    features = {kind: math.sqrt(min(counts.get(kind, 0) / hundred, MOST)) for kind in KINDS}
    inside = sum(s.end - s.start for s in spans)
    features["spans"] = math.sqrt(min(len(spans) / hundred, MOST))
    features["share of work"] = min(inside / max(len(tagged.words), 1), 1.0)
    features["sureness of spans"] = sum(s.probability for s in spans) / len(spans) if spans else 0.0
    named = [m for m in tagged.mentions if m.kind in ("movement", "movement_guess")]
    features["distinct movements"] = math.sqrt(min(len({m.value.movement for m in named}) / hundred, MOST))
    features["spans with a name"] = _share(spans, [m.start for m in named])
    coached = [m.start for m in tagged.mentions if m.kind in ("form", "breath", "target", "caution")]
    features["spans with coaching"] = _share(spans, coached)
    return features


def _share(spans: Sequence[WorkSpan], places: Sequence[int]) -> float:
    """Share of spans with one of the word positions shortly before or in them; 0 without spans."""
    hits = 0
    for s in spans:
        at = bisect.bisect_left(places, s.start - NEAR_WORDS)
        hits += at < len(places) and places[at] < max(s.end, s.start + 1)
    return hits / len(spans) if spans else 0.0


def score_gate(tagged: TaggedTranscript, spans: Sequence[WorkSpan], weights: Mapping[str, float]) -> float:
    """Log-odds that the transcript is a class; ``weights`` holds one number per feature and ``intercept``."""
    total = weights["intercept"]
    for name, value in gate_features(tagged, spans).items():
        total += weights.get(name, 0.0) * value
    return total
