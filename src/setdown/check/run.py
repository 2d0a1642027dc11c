"""Every check of a routine, in order."""

from __future__ import annotations

from collections.abc import Callable

from setdown.check.finding import Finding
from setdown.check.identity import check_ids
from setdown.check.plausibility import check_plausibility
from setdown.check.schema import check_schema
from setdown.check.support import check_quotes, check_support
from setdown.check.timeline import check_timeline
from setdown.model.routine import Routine
from setdown.model.transcript import Transcript

CHECKS: tuple[Callable[[Routine], list[Finding]], ...] = (check_timeline, check_ids, check_support, check_plausibility)


def check_routine(routine: Routine, transcript: Transcript | None = None) -> list[Finding]:
    """What is wrong with a routine; quotes are compared only when its transcript is given."""
    return check_schema(routine.model_dump(mode="json")) + check_content(routine, transcript)


def check_content(routine: Routine, transcript: Transcript | None = None) -> list[Finding]:
    """The same for a routine whose shape is known to be right."""
    findings = [finding for check in CHECKS for finding in check(routine)]
    return findings if transcript is None else findings + check_quotes(routine, transcript)
