"""Times of cues: in order, with ends, and none that runs backwards."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from setdown.model.transcript import Notice
from setdown.read.base import RawCue

OVERLAP_MS = 50
"""Cues that overlap by less are rounding, not worth a Notice."""

USUAL_RATE = 2.5
"""Words per second of a talking instructor, used when a file tells nothing (common practice, no source)."""


def repair_times(cues: list[RawCue]) -> tuple[list[RawCue], list[Notice]]:
    """The cues in order of start, each with an end that is not before its start.

    A missing end becomes the next start. The last one is estimated: the cue's words at the class's speaking rate
    (``estimate_rate``), at least one second.
    """
    notices: list[Notice] = []
    backward = [cue for cue in cues if cue.end is not None and cue.end < cue.start]
    if backward:
        message = f"{len(backward)} cue(s) end before they start: taken to end where they start"
        notices.append(Notice("end-before-start", message, backward[0].line or None))
        cues = [cue._replace(end=cue.start) if cue.end is not None and cue.end < cue.start else cue for cue in cues]
    late = next((b for a, b in pairwise(cues) if b.start < a.start), None)
    if late is not None:
        notices.append(Notice("out-of-order", "cues are not in order of time: sorted by start", late.line or None))
        cues = sorted(cues, key=lambda cue: cue.start)
    if any(cue.end is None for cue in cues):
        cues = _fill_ends(cues)
    return cues, notices


def _fill_ends(cues: list[RawCue]) -> list[RawCue]:
    out: list[RawCue] = []
    for i, cue in enumerate(cues):
        if cue.end is None and i + 1 < len(cues):
            cue = cue._replace(end=cues[i + 1].start)
        out.append(cue)
    last = out[-1]
    if last.end is None:
        needed = round(len(last.text.split()) / estimate_rate(out[:-1]) * 1000)
        out[-1] = last._replace(end=last.start + max(needed, 1000))
    return out


def estimate_rate(cues: Sequence[RawCue]) -> float:
    """Words per second while the instructor talks: the 90th percentile over the cues of five words and more.

    A block holds pauses as well as speech, so its own rate is too low; the densest tenth of the blocks is nearly all
    speech. Kept between 1 and 5; ``USUAL_RATE`` when there is nothing to measure.
    """
    rates: list[float] = []
    for cue in cues:
        words = len(cue.text.split())
        if words >= 5 and cue.end is not None and cue.end - cue.start >= 1000:
            rates.append(words * 1000 / (cue.end - cue.start))
    if not rates:
        return USUAL_RATE
    rates.sort()
    return min(max(rates[len(rates) * 9 // 10 if len(rates) > 1 else 0], 1.0), 5.0)


def note_overlaps(cues: Sequence[RawCue]) -> list[Notice]:
    """A Notice when cues (in order of start) overlap by more than ``OVERLAP_MS``."""
    first = None
    count = 0
    for before, cue in pairwise(cues):
        if before.end is not None and before.end - cue.start > OVERLAP_MS:
            count += 1
            first = first or cue
    if first is None:
        return []
    return [Notice("overlap", f"{count} cue(s) begin before the one before has ended", first.line or None)]
