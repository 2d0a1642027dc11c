"""The sets of a routine with what the lexicon knows about their movement: what every measure starts from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from setdown.lexicon import Lexicon, Movement
from setdown.measure.between import Between
from setdown.measure.conventions import Conventions
from setdown.model.routine import Routine, Set

# Patterns in which the working limb is an arm: a side that is said is the arm that holds the load.
ARM_PATTERNS = frozenset(
    {
        "horizontal_push",
        "vertical_push",
        "horizontal_pull",
        "vertical_pull",
        "elbow_flexion",
        "elbow_extension",
        "shoulder_isolation",
        "carry",
        "grip",
        "trunk_flexion",
        "trunk_extension",
        "trunk_rotation",
        "trunk_stability",
    }
)
# Origins of a load's basis that are weaker than what is known of the movement.
GUESSED = ("carried", "declared", "inferred")
# Patterns that ease, lengthen or pose rather than work against a load: counted apart.
EASING_PATTERNS = frozenset({"mobility", "stretch", "pose", "breathing"})


@dataclass(frozen=True, slots=True)
class Performed:
    """One set. ``movement`` is None when the lexicon does not know it.

    ``reps`` are all repetitions of the set, both sides of 'each side' counted, None when no number is known. ``hands``
    is how many hands hold a per-hand load. ``share`` is what it counts as: one side of two is half a set. ``loaded`` is
    whether a load was said, ``weighted`` whether the movement is usually done with one. ``start_ms`` and ``end_ms`` are
    integer milliseconds of the recording.
    """

    one: Set
    section: str
    section_at: int
    arrangement: str
    movement: Movement | None
    reps: Between | None
    hands: int
    share: Fraction
    loaded: bool
    weighted: bool
    start_ms: int
    end_ms: int

    @property
    def pattern(self) -> str:
        """The movement's pattern, empty when the movement is unknown."""
        return self.movement.pattern if self.movement else ""

    @property
    def name(self) -> str:
        """The exercise's name as the routine has it."""
        return self.one.exercise.name

    @property
    def key(self) -> str:
        """What the same exercise has in common: its id, or its name when the lexicon does not know it."""
        return self.one.exercise.id or self.one.exercise.name.strip().lower()


def list_performed(routine: Routine, lexicon: Lexicon, conventions: Conventions) -> tuple[Performed, ...]:
    """Every set of the routine, in order."""
    weights = {id for id, kit in lexicon.kit.items() if kit.loaded}
    return tuple(
        _describe(one, section.kind, at, group.arrangement, lexicon.movements, weights, conventions)
        for at, section in enumerate(routine.sections)
        for group in section.groups
        for one in group.sets
    )


def _describe(
    one: Set,
    section: str,
    at: int,
    arrangement: str,
    movements: Mapping[str, Movement],
    weights: set[str],
    conventions: Conventions,
) -> Performed:
    movement = movements.get(one.exercise.id)
    return Performed(
        one=one,
        section=section,
        section_at=at,
        arrangement=arrangement,
        movement=movement,
        reps=count_reps(one, conventions),
        hands=count_hands(one, movement, conventions),
        share=conventions.side_share if one.side in ("left", "right") else Fraction(1),
        loaded=one.load is not None and (one.load.value is not None or one.load.rel is not None),
        weighted=bool(movement and weights.intersection(movement.kit)),
        start_ms=round(one.start * 1000),
        end_ms=round(one.end * 1000),
    )


def count_reps(one: Set, conventions: Conventions) -> Between | None:
    """All repetitions of the set: '12 each side' is 24. None for 'as many as possible' and when none were said."""
    if one.reps is None or one.reps.lo is None or one.reps.hi is None:
        return None
    times = conventions.each_side if one.side == "each" else 1
    return Between(Fraction(one.reps.lo), Fraction(one.reps.hi)).scale(times)


def count_hands(one: Set, movement: Movement | None, conventions: Conventions) -> int:
    """How many hands hold a per-hand load in each repetition.

    One, when the arms take turns or one arm works alone, and for moves that are usually done with one weight (a goblet
    squat) unless 'each hand' was said of this set; two otherwise, also for moves whose side is a leg's (a split squat
    with a weight in each hand). A routine that holds a single weight there says ``total``.
    """
    if movement is not None and movement.basis == "total" and one.origin.get("basis") in GUESSED:
        return 1
    if movement is not None and movement.sided in ("one", "alternating"):
        return 1 if movement.pattern in ARM_PATTERNS else conventions.both_hands
    return conventions.both_hands if one.side is None else 1
