"""Rep targets as values: made of numbers that are said, and as the key of a candidate."""

from __future__ import annotations

from setdown.model.routine import Reps


def rep_key(reps: Reps | None) -> str:
    """The sheet's form of a rep target; empty for none."""
    return str(reps) if reps is not None else ""


def make_reps(lo: int | None, hi: int | None, to_failure: bool = False) -> Reps | None:
    """A target that the model accepts, or ``None`` for numbers that are no rep count."""
    if to_failure:
        return Reps(to_failure=True)
    if lo is None or hi is None or not 1 <= lo <= hi <= 1000:
        return None
    return Reps(lo=lo, hi=hi)
