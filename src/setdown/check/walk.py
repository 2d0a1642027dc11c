"""Walk a routine with the path of every part, so that each check can say where."""

from __future__ import annotations

from collections.abc import Iterator

from setdown.check.finding import Path
from setdown.model.routine import Evidence, Group, Routine, Section, Set


def walk_sections(routine: Routine) -> Iterator[tuple[Path, Section]]:
    for n, section in enumerate(routine.sections):
        yield ("sections", n), section


def walk_groups(routine: Routine) -> Iterator[tuple[Path, Section, Group]]:
    for path, section in walk_sections(routine):
        for n, group in enumerate(section.groups):
            yield (*path, "groups", n), section, group


def walk_sets(routine: Routine) -> Iterator[tuple[Path, Section, Group, Set]]:
    for path, section, group in walk_groups(routine):
        for n, one in enumerate(group.sets):
            yield (*path, "sets", n), section, group, one


def walk_evidence(routine: Routine) -> Iterator[tuple[Path, Evidence]]:
    """Every evidence of the routine: of sets, coaching, queries, declarations and equipment."""
    for path, _, _, one in walk_sets(routine):
        for field, pieces in one.evidence.items():
            for n, piece in enumerate(pieces):
                yield (*path, "evidence", field, n), piece
        for n, coaching in enumerate(one.coaching):
            yield (*path, "coaching", n, "evidence"), coaching.evidence
    lists = {
        "declared": [part.evidence for part in routine.declared],
        "equipment": [part.evidence for part in routine.equipment],
        "queries": [part.evidence for part in routine.queries],
    }
    for name, parts in lists.items():
        for n, pieces in enumerate(parts):
            for k, piece in enumerate(pieces):
                yield (name, n, "evidence", k), piece
