"""A routine, and the speech it came from, as the rows that the catalogue keeps. Counting is that of ``measure``."""

from __future__ import annotations

import hashlib
import json
import zlib
from collections.abc import Iterable, Sequence
from datetime import date
from fractions import Fraction

from setdown.catalogue.entry import ClassEntry, MovementRow, SetRow, Tally
from setdown.catalogue.sources import ClassFiles
from setdown.lexicon import Lexicon, Movement
from setdown.measure import DEFAULT_CONVENTIONS, convert_mass
from setdown.measure.muscles import choose_counted, count_muscles, count_patterns
from setdown.measure.performed import Performed, list_performed
from setdown.model.routine import Load, Routine
from setdown.model.transcript import Transcript

LEVEL = 6  # of compression: 9 takes half as long again and saves two per cent


def describe_class(
    routine: Routine,
    transcript: Transcript | None,
    files: ClassFiles,
    fingerprint: str,
    lexicon: Lexicon,
    version: str,
    notices: tuple[str, ...] = (),
) -> ClassEntry:
    """The entry of one class. Without a transcript there are no words to find it by."""
    performed = list_performed(routine, lexicon, DEFAULT_CONVENTIONS)
    counted = choose_counted(performed, DEFAULT_CONVENTIONS)
    movements = {one.key: describe_movement(one, lexicon) for one in performed}
    places = {key: place for place, key in enumerate(movements)}
    day, doubts = _read_date(routine.source.date)
    worked = {one.section for one in performed}
    return ClassEntry(
        location=files.location,
        transcript=files.transcript,
        routine=files.routine,
        fingerprint=fingerprint,
        lexicon=lexicon.fingerprint,
        version=version,
        status=routine.status,
        title=routine.title,
        instructor=routine.source.instructor,
        date=day,
        media=routine.source.media,
        language=routine.language,
        duration_ms=round(routine.source.duration_s * 1000),
        warm_up="warm_up" in worked,
        cool_down="cool_down" in worked,
        queries=sum(query.state == "open" for query in routine.queries),
        kit_need=describe_kit(routine, performed),
        movements=tuple(movements.values()),
        sets=tuple(_list_sets(routine, performed, places)),
        tallies=tuple(_tally(performed, counted, places)),
        profile=tuple(build_profile(counted, lexicon)),
        captions=pack(_list_captions(transcript)),
        document=pack_routine(routine),
        notices=(*notices, *doubts),
    )


def describe_movement(one: Performed, lexicon: Lexicon) -> MovementRow:
    """The movement of a set as the lexicon has it; one that it does not know has a name and nothing else."""
    movement = one.movement
    if movement is None:
        return MovementRow(one.key, one.name.strip(), "", "", False, ())
    muscles = [*_list_muscles(movement, lexicon, grouped=False), *_list_muscles(movement, lexicon, grouped=True)]
    return MovementRow(movement.id, movement.name, movement.family, movement.pattern, True, tuple(muscles))


def hash_movement(row: MovementRow) -> str:
    """A name for this definition of the movement: the same for the same name, family, pattern and muscles."""
    return hashlib.sha256(json.dumps(row, ensure_ascii=False).encode("utf-8", "surrogatepass")).hexdigest()[:16]


def describe_kit(routine: Routine, performed: Sequence[Performed]) -> str:
    """What a class needs, as JSON. Alternatives of which the class names one, or that another need implies, are out."""
    said = {piece.id for piece in routine.equipment}
    groups = {frozenset(one.movement.kit) for one in performed if one.movement is not None and one.movement.kit}
    open_groups = [group for group in groups if not group & said]
    least = [group for group in open_groups if not any(other < group for other in open_groups)]
    return json.dumps({"said": sorted(said), "needed": sorted(sorted(group) for group in least)}, ensure_ascii=False)


def build_profile(counted: Sequence[Performed], lexicon: Lexicon) -> Iterable[tuple[str, float]]:
    """What a class trains: sets for each group of muscles, for each pattern, and eased sets for each group."""
    for muscle in sorted(count_muscles(counted, lexicon.muscles, DEFAULT_CONVENTIONS, grouped=True), key=_name):
        if muscle.sets:
            yield f"muscle {muscle.muscle}", float(muscle.sets)
        if muscle.eased:
            yield f"eased {muscle.muscle}", float(muscle.eased)
    for pattern in sorted(count_patterns(counted), key=lambda count: count.pattern):
        if pattern.pattern and pattern.sets:
            yield f"pattern {pattern.pattern}", float(pattern.sets)


def pack(value: object) -> bytes:
    """A value as compressed JSON, the same bytes for the same value."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    return zlib.compress(text.encode("utf-8", "surrogatepass"), LEVEL)


def pack_routine(routine: Routine) -> bytes:
    """The same bytes as ``pack`` makes of what the routine holds, but faster."""
    try:
        text = routine.model_dump_json(exclude_defaults=True)
    except ValueError:  # a lone surrogate, which JSON may hold
        return pack(routine.model_dump(mode="json", exclude_defaults=True))
    return zlib.compress(text.encode("utf-8"), LEVEL)


def unpack_routine(data: bytes) -> Routine:
    """Undo ``pack_routine``."""
    return Routine.model_validate(unpack(data))


def unpack(data: bytes) -> object:
    """Undo ``pack``."""
    return json.loads(zlib.decompress(data).decode("utf-8", "surrogatepass"))


def _name(count: object) -> str:
    return str(getattr(count, "muscle", ""))


def _list_muscles(movement: Movement, lexicon: Lexicon, *, grouped: bool) -> Iterable[tuple[str, bool, bool]]:
    """Each muscle once: one that works first does not help as well."""
    rolled = {
        id: (lexicon.muscles[id].group or id) if grouped and id in lexicon.muscles else id
        for id in (*movement.primary, *movement.secondary)
    }
    first = dict.fromkeys(rolled[id] for id in movement.primary)
    helping = dict.fromkeys(rolled[id] for id in movement.secondary)
    yield from ((id, grouped, True) for id in first)
    yield from ((id, grouped, False) for id in helping if id not in first)


def _list_sets(routine: Routine, performed: Sequence[Performed], places: dict[str, int]) -> Iterable[SetRow]:
    numbers = {id(group): n for n, group in enumerate((g for s in routine.sections for g in s.groups), 1)}
    for (_, group, one), known in zip(routine.iter_sets(), performed, strict=True):
        load, reps = one.load, one.reps
        yield SetRow(
            movement=places[known.key],
            section=known.section,
            arrangement=known.arrangement,
            group_number=numbers[id(group)],
            round=one.round,
            side=one.side or "",
            reps_lo=reps.lo if reps else None,
            reps_hi=reps.hi if reps else None,
            to_failure=bool(reps and reps.to_failure),
            work_s=one.work_s,
            load=float(load.value) if load and load.value is not None else None,
            unit=(load and load.unit) or "",
            basis=(load and load.basis) or "",
            rel=(load and load.rel) or "",
            load_kg=_weigh(load),
            finisher=one.finisher.kind if one.finisher else "",
            start_ms=known.start_ms,
            end_ms=known.end_ms,
            confidence=min(one.confidence.values()) if one.confidence else None,
        )


def _weigh(load: Load | None) -> float | None:
    if load is None or load.value is None or load.unit not in ("lb", "kg"):
        return None
    return float(convert_mass(load.value, load.unit, "kg"))


def _tally(performed: Sequence[Performed], counted: Sequence[Performed], places: dict[str, int]) -> Iterable[Tally]:
    sets = dict.fromkeys(places, 0)
    halves = dict.fromkeys(places, Fraction(0))
    for one in performed:
        sets[one.key] += 1
    for one in counted:
        halves[one.key] += 2 * one.share
    return [Tally(place, sets[key], int(halves[key])) for key, place in places.items()]


def _list_captions(transcript: Transcript | None) -> list[list[object]]:
    return [[cue.start, cue.text] for cue in transcript.cues] if transcript else []


def _read_date(text: str) -> tuple[str, list[str]]:
    """The day in ISO 8601, empty when there is none or what stands there is no day."""
    try:
        return (date.fromisoformat(text.strip()).isoformat() if text.strip() else ""), []
    except ValueError:
        return "", [f"the date {text.strip()!r} is no day and was left out"]
