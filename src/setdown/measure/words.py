"""What is said beside the figures: how they were counted, what is missing from them, and what they are not."""

from __future__ import annotations

from collections.abc import Sequence

from setdown.measure.conventions import Conventions
from setdown.measure.performed import Performed
from setdown.measure.rep_max import VALID
from setdown.measure.units import format_amount
from setdown.measure.volume import Volume

CAUTION = (
    "These are figures about what one instructor did on one day, with the loads that they used. They are a record, not "
    "advice. Exercise can hurt: choose your own loads, stop on pain, and ask a doctor, physiotherapist or qualified "
    "coach when in doubt."
)
ENERGY_CAUTION = (
    "The energy is a rough estimate from averages of adults; one person's can lie well outside the range. It is not a "
    "measurement, and nothing to eat or diet by."
)
REP_MAX_CAUTION = (
    f"Rep-max estimates hold for {VALID}. They are averages of formulas that disagree, for one movement at a time: a "
    "range to start below, not a load to attempt. Do not test a maximum alone or without a qualified coach."
)
NO_NORM = "There is no published norm for push to pull in training volume: the ratio is given without a verdict."

# Why a loaded set is not in the volume load: for one set and for several.
GAPS = {
    "only_relative": ("says only lighter or heavier", "say only lighter or heavier"),
    "per_cent": ("has its load in per cent", "have their load in per cent"),
    "no_unit": ("has a load without a unit", "have a load without a unit"),
    "no_basis": ("does not say whether the load is in each hand", "do not say whether the load is in each hand"),
    "to_failure": ("was done for as many reps as possible", "were done for as many reps as possible"),
    "no_reps": ("has no reps", "have no reps"),
}


def describe_conventions(conventions: Conventions, sections: tuple[str, ...]) -> tuple[str, ...]:
    """One sentence for each choice of how to count."""
    part = format_amount(conventions.secondary, 3)
    side = format_amount(conventions.side_share, 3)
    kinds = ", ".join(kind.replace("_", " ") for kind in sections)
    return (
        f"A set counts 1 for a muscle that it works first and {part} for one that helps.",
        f"A set on one side counts {side}, so that two sides make one set.",
        f"Sets by pattern and muscle are those of these sections: {kinds}.",
        "Stretches, poses, mobility and breathing are counted apart from sets of work.",
        (
            f"A load in each hand counts {conventions.both_hands} times, once where one arm works alone "
            "or the move is usually done with one weight and nobody said 'each hand'."
        ),
        f"Repetitions on each side count {conventions.each_side} times.",
        "Pulses, holds and partial repetitions at the end of a set are not in the repetitions.",
        "Rest is all time between the first and the last set that is in no set.",
    )


def describe_gaps(volume: Volume) -> tuple[str, ...]:
    """'3 of 12 loaded sets have no reps', one sentence for each reason."""
    gaps = [describe_gap(GAPS[reason], count, volume.loaded_sets, "loaded ") for reason, count in volume.missing]
    if volume.weighted_without_load:
        sets = "set" if volume.weighted_without_load == 1 else "sets"
        gaps.append(f"{volume.weighted_without_load} {sets} of moves usually done with weights: no load was said")
    return tuple(gaps)


def describe_other_gaps(sets: Sequence[Performed]) -> tuple[str, ...]:
    """What is unknown about the sets beside their volume load."""
    unknown = sum(one.movement is None for one in sets)
    untold = sum(one.one.reps is None and one.one.work_s is None for one in sets)
    found = (
        (
            unknown,
            ("is of a movement that the lexicon does not know", "are of movements that the lexicon does not know"),
        ),
        (untold, ("has neither reps nor seconds said", "have neither reps nor seconds said")),
    )
    return tuple(describe_gap(words, count, len(sets)) for count, words in found if count)


def describe_gap(words: tuple[str, str], count: int, of: int, kind: str = "") -> str:
    """``3 of 12 loaded sets have no reps``; ``words`` are for one and for several."""
    return f"{count} of {of} {kind}{'set' if of == 1 else 'sets'} {words[0] if count == 1 else words[1]}"


def list_cautions(*, energy: bool, rep_max: bool) -> tuple[str, ...]:
    """The cautions that the figures call for."""
    return (CAUTION, NO_NORM, *((ENERGY_CAUTION,) if energy else ()), *((REP_MAX_CAUTION,) if rep_max else ()))
