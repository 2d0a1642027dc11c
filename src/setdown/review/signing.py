"""Sign off: draft, reviewed, published. Any change afterwards makes a draft of it again (``setdown.review.settle``)."""

from __future__ import annotations

from typing import Literal

from setdown.check.finding import Finding
from setdown.check.run import check_routine
from setdown.errors import SetdownError
from setdown.model.routine import Mark, Query, Routine, Signature


class SignOffRefusedError(SetdownError):
    """Why a routine cannot be signed off.

    Attributes:
        queries: open queries that must be answered first.
        findings: what is wrong with the routine itself.
    """

    def __init__(self, problem: str, queries: list[Query], findings: list[Finding], *, hint: str = "") -> None:
        super().__init__(problem, hint=hint)
        self.queries = queries
        self.findings = findings


def list_obstacles(routine: Routine) -> tuple[list[Query], list[Finding]]:
    """Open queries that must be answered, and what is wrong, before a routine can be signed off."""
    queries = [q for q in routine.queries if q.state == "open" and q.severity == "must"]
    return queries, [f for f in check_routine(routine) if f.severity == "must"]


def sign_off(routine: Routine, status: Literal["reviewed", "published"], mark: Mark) -> Routine:
    """The routine with the next status, signed. A routine that has the status is returned as it is.

    Raises:
        SignOffRefusedError: queries that must be answered are open, something is wrong, or a draft is to be published.
    """
    if routine.status == status or (routine.status == "published" and status == "reviewed"):
        return routine
    if status == "published" and routine.status == "draft":
        raise SignOffRefusedError("a draft cannot be published", [], [], hint="Sign it off as reviewed first")
    queries, findings = list_obstacles(routine)
    if queries or findings:
        told = _count(len(queries), "open query", "open queries") if queries else ""
        wrong = _count(len(findings), "finding", "findings") if findings else ""
        problem = f"it cannot be signed off: {' and '.join(filter(None, (told, wrong)))} first"
        raise SignOffRefusedError(problem, queries, findings)
    signature = Signature(by=mark.by, at=mark.at, status=status)
    return routine.model_copy(update={"status": status, "signatures": [*routine.signatures, signature]})


def _count(number: int, one: str, more: str) -> str:
    return f"{number} {one if number == 1 else more}"
