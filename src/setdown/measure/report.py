"""All measures of one routine."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from setdown.lexicon import Lexicon, load_lexicon
from setdown.measure import words
from setdown.measure.balance import PushPull, Sides, measure_push_pull, measure_sides
from setdown.measure.between import Between
from setdown.measure.conventions import DEFAULT_CONVENTIONS, Conventions
from setdown.measure.energy import Energy, measure_energy
from setdown.measure.muscles import MuscleCount, PatternCount, choose_counted, count_muscles, count_patterns
from setdown.measure.performed import list_performed
from setdown.measure.plain import to_plain
from setdown.measure.scale import Own, OwnMax, ScaledLoad, list_own_maxima, scale_class
from setdown.measure.tension import Tension, measure_tension
from setdown.measure.volume import Volume, measure_volume
from setdown.measure.work_rest import WorkRest, measure_work_rest
from setdown.model.routine import Routine


@dataclass(frozen=True, slots=True)
class Measures:
    """What can be counted and reckoned of a routine. Fractions are exact; seconds, kg, lb and kcal as the names say.

    ``sets`` are the sets as performed, ``unknown_movements`` those whose movement the lexicon does not know (they are
    in times and volume, not in patterns and muscles). ``counting`` is how was counted, ``counted_sections`` the kinds
    of section that patterns, muscles, push and pull are counted in. ``density_kg`` is the volume load for a minute from
    the first set to the last. ``gaps``, ``conventions`` and ``cautions`` are sentences
    to print with the figures.
    """

    routine: str
    title: str
    date: str
    status: str
    counting: Conventions
    sets: int
    unknown_movements: int
    work_rest: WorkRest
    counted_sections: tuple[str, ...]
    patterns: tuple[PatternCount, ...]
    muscles: tuple[MuscleCount, ...]
    muscle_groups: tuple[MuscleCount, ...]
    sides: Sides
    push_pull: PushPull
    volume: Volume
    density_kg: Between | None
    tension: Tension
    energy: Energy | None
    own_maxima: tuple[OwnMax, ...]
    own_loads: tuple[ScaledLoad, ...]
    gaps: tuple[str, ...]
    conventions: tuple[str, ...]
    cautions: tuple[str, ...]

    def as_dict(self) -> dict[str, Any]:
        """The measures as plain values for JSON: fractions as numbers, ranges as ``lo`` and ``hi``."""
        plain: dict[str, Any] = to_plain(self)
        return plain


def measure_routine(
    routine: Routine,
    *,
    lexicon: Lexicon | None = None,
    conventions: Conventions = DEFAULT_CONVENTIONS,
    body_mass_kg: Fraction | None = None,
    own: Sequence[Own] = (),
) -> Measures:
    """Measure one routine. Energy needs a body mass; rep-max estimates and scaled loads need sets of the reader's own.

    Raises:
        SetdownError: the lexicon cannot be loaded.
    """
    lexicon = lexicon or load_lexicon()
    sets = list_performed(routine, lexicon, conventions)
    counted = choose_counted(sets, conventions)
    kinds = dict.fromkeys(section.kind for section in routine.sections)
    sections = tuple(kind for kind in kinds if any(one.section == kind for one in counted))
    volume = measure_volume(sets)
    work_rest = measure_work_rest(routine, sets)
    energy = measure_energy(routine, sets, body_mass_kg) if body_mass_kg is not None else None
    unknown = sum(one.movement is None for one in sets)
    minutes = work_rest.training_s / 60
    return Measures(
        routine=routine.id,
        title=routine.title,
        date=routine.source.date,
        status=routine.status,
        counting=conventions,
        sets=len(sets),
        unknown_movements=unknown,
        work_rest=work_rest,
        counted_sections=sections,
        patterns=count_patterns(counted),
        muscles=count_muscles(counted, lexicon.muscles, conventions, grouped=False),
        muscle_groups=count_muscles(counted, lexicon.muscles, conventions, grouped=True),
        sides=measure_sides(sets, conventions),
        push_pull=measure_push_pull(counted),
        volume=volume,
        density_kg=volume.volume_kg.scale(1 / minutes) if volume.volume_kg and minutes else None,
        tension=measure_tension(sets),
        energy=energy,
        own_maxima=list_own_maxima(own, lexicon),
        own_loads=scale_class(sets, own),
        gaps=(*words.describe_gaps(volume), *words.describe_other_gaps(sets)),
        conventions=words.describe_conventions(conventions, sections),
        cautions=words.list_cautions(energy=energy is not None, rep_max=bool(own)),
    )
