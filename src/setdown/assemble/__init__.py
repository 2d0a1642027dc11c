"""From spans of work to the routine: every field is ranked over its candidates, then built with its evidence."""

from setdown.assemble.routine import assemble_routine, assemble_with_drafts

__all__ = ["assemble_routine", "assemble_with_drafts"]
