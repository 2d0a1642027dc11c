"""Times: nothing ends before it starts, parts lie inside their whole, what follows comes later."""

from __future__ import annotations

from setdown.check.finding import Finding, Path, format_path
from setdown.check.walk import walk_groups, walk_sections, walk_sets
from setdown.model.routine import Routine

SLACK = 0.0015  # seconds; times are written with three decimals


def check_timeline(routine: Routine) -> list[Finding]:
    return [
        *_check_sections(routine),
        *_check_sets_inside(routine),
        *_check_set_order(routine),
        *_check_rounds(routine),
    ]


def _find(path: Path, problem: str, code: str, hint: str = "") -> Finding:
    return Finding(code, format_path(path), problem, hint)


def _check_sections(routine: Routine) -> list[Finding]:
    found = []
    last_end = 0.0
    duration = routine.source.duration_s
    for path, section in walk_sections(routine):
        if section.end < section.start:
            found.append(_find((*path, "end"), f"the section ends at {section.end}, before it starts", "ends-early"))
        if section.start < last_end - SLACK:
            problem = f"the section starts at {section.start}, before the one before it ends ({last_end})"
            found.append(_find((*path, "start"), problem, "sections-overlap"))
        if section.end > duration + SLACK:
            problem = f"the section ends at {section.end}, after the recording ({duration})"
            found.append(_find((*path, "end"), problem, "after-the-recording"))
        last_end = max(last_end, section.end)
    return found


def _check_sets_inside(routine: Routine) -> list[Finding]:
    found = []
    for path, section, _, one in walk_sets(routine):
        if one.start < section.start - SLACK or one.end > section.end + SLACK:
            problem = (
                f"the set ({one.start} to {one.end}) is not inside its {section.kind} section "
                f"({section.start} to {section.end})"
            )
            found.append(_find(path, problem, "outside-section"))
        if one.finisher:
            start, end = one.finisher.start, one.finisher.end
            times = [t for t in (start, end) if t is not None]
            if any(not one.start - SLACK <= t <= one.end + SLACK for t in times) or times != sorted(times):
                found.append(_find((*path, "finisher"), "the finisher is not inside its set", "outside-set"))
    return found


def _check_set_order(routine: Routine) -> list[Finding]:
    found = []
    before = None
    for path, _, _, one in walk_sets(routine):
        if before and one.start < before.start - SLACK:
            problem = f"the set starts at {one.start}, before the one before it ({before.start})"
            found.append(_find((*path, "start"), problem, "out-of-order"))
        elif before and one.start < before.end - SLACK:
            problem = f"the set starts at {one.start}, while the one before it lasts until {before.end}"
            found.append(_find((*path, "start"), problem, "sets-overlap", "One instructor does one set at a time"))
        before = one
    return found


def _check_rounds(routine: Routine) -> list[Finding]:
    found = []
    for path, _, group in walk_groups(routine):
        highest = max((one.round for one in group.sets), default=1)
        if highest > group.rounds:
            problem = f"the group says {group.rounds} rounds, its sets count to {highest}"
            found.append(_find((*path, "rounds"), problem, "rounds-differ"))
        last: dict[tuple[str, str | None], int] = {}
        for n, one in enumerate(group.sets):
            key = (one.exercise.name, one.side)
            if one.round < last.get(key, 1):
                problem = f"round {one.round} of {one.exercise.name} comes after round {last[key]}"
                found.append(_find((*path, "sets", n, "round"), problem, "rounds-back"))
            last[key] = one.round
    return found
