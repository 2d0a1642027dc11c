"""Check a routine: its shape, its times, its ids, its evidence, and whether its numbers are likely.

``check_routine`` runs every check on a routine in memory; ``check_document`` starts from the text of a routine file
and adds lines. Nothing is changed and nothing is raised for a bad routine: what is wrong comes back as findings.
"""

from setdown.check.document import (
    CheckedDocument,
    check_document,
    find_transcript,
    parse_json,
    parse_routine,
)
from setdown.check.finding import Finding
from setdown.check.run import check_routine
from setdown.check.schema import format_schema, read_published_schema, routine_schema

__all__ = [
    "CheckedDocument",
    "Finding",
    "check_document",
    "check_routine",
    "find_transcript",
    "format_schema",
    "parse_json",
    "parse_routine",
    "read_published_schema",
    "routine_schema",
]
