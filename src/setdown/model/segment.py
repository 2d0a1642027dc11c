"""Segments: the spans of work that were cut out of the talk."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class WorkSpan:
    """Words ``[start, end)`` said while one set was performed; ``end == start`` for a silent set.

    ``start_score``, ``end_score`` are log-odds of the boundaries by themselves; ``probability`` (0 to 1) is how likely
    there is a set about there, over all ways to cut the class.
    """

    start: int
    end: int
    start_score: float
    end_score: float
    probability: float


@dataclass(frozen=True, slots=True)
class Segmentation:
    """The spans in time order, and the boundary log-odds they were chosen from (for ``explain``).

    ``is_class`` is false when the transcript as a whole does not look like a class; there are no spans then.
    """

    spans: tuple[WorkSpan, ...]
    start_scores: tuple[float, ...] = ()
    end_scores: tuple[float, ...] = ()
    is_class: bool = True
