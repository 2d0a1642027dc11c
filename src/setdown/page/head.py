"""What stands at the head of the page."""

from __future__ import annotations

from setdown.page.journal import Line
from setdown.page.steps import Steps
from setdown.page.view import View


def describe_head(steps: Steps, unsaved: int, by: str) -> View:
    """What stands at the head of the page: the status, and what could be saved, undone and done again."""
    routine = steps.routine
    signed = routine.signatures[-1] if routine.signatures else None
    return {
        "title": routine.title,
        "status": routine.status,
        "signed": f"{routine.status} by {signed.by} on {signed.at[:10]}" if signed else "",
        "duration": routine.source.duration_s,
        "by": by,
        "unsaved": unsaved,
        "undo": steps.done[-1].what if steps.done else "",
        "redo": steps.undone[-1].what if steps.undone else "",
    }


def describe_kept(lines: list[Line], fits: bool) -> View | None:
    """The offer to take up what an earlier run left; ``None`` when it left nothing."""
    if not lines:
        return None
    count = sum("edit" in line or "undo" in line or "redo" in line for line in lines)
    dated = [line for line in lines if line.get("at")]
    when = f", the last at {dated[-1]['at'][11:16]} UTC on {dated[-1]['at'][:10]}" if dated else ""
    what = f"{count} changes were" if count > 1 else "Changes were" if count == 0 else "A change was"
    message = f"{what} made in an earlier run and never saved{when}."
    if not fits:
        message += " The file has changed since: each is taken up where it still fits."
    return {"message": message}
