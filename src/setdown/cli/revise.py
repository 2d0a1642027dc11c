"""``setdown revise``: a sheet that was changed goes back into its routine; revisions are listed and undone."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from setdown.cli.outcome import DONE, UNUSABLE, format_failure
from setdown.cli.terminal import say, warn
from setdown.cli.who import make_mark
from setdown.errors import SetdownError

if TYPE_CHECKING:
    from setdown.review.revise import SheetRefusedError
    from setdown.review.store import OpenRoutine


def revise(
    routine: Annotated[str, typer.Argument(metavar="ROUTINE", help="The routine file.", show_default=False)],
    sheet: Annotated[
        str | None, typer.Argument(metavar="[SHEET]", help="Its set sheet (CSV), changed.", show_default=False)
    ] = None,
    by: Annotated[str | None, typer.Option("--by", metavar="NAME", help="Who made the changes.")] = None,
    undo: Annotated[int | None, typer.Option("--undo", metavar="N", help="Take back revision N.")] = None,
    log: Annotated[bool, typer.Option("--log", help="List the revisions.")] = False,
    dry_run: Annotated[bool, typer.Option("--dry-run", help="Say what would change, and write nothing.")] = False,
    lexicon: Annotated[
        list[str] | None, typer.Option(metavar="FILE", help="Movements of your own; may be given several times.")
    ] = None,
) -> int:
    """Put a changed set sheet back into its routine, or list and undo what was changed before.

    Cells that were changed, rows that were deleted and rows that are new are taken over; where cells will not do,
    row and column of each are named and nothing is written. Every revision is kept in a log beside the routine, and any
    of them can be undone. The routine is a draft again afterwards.

    \b
    Examples:
      setdown sheet class.routine.json --csv -o edited.csv
      setdown revise class.routine.json edited.csv --by "Ana Lund"
      setdown revise class.routine.json --log
      setdown revise class.routine.json --undo 1 --by "Ana Lund"
    """
    if (sheet is not None) + (undo is not None) + log != 1:
        raise SetdownError("say what to do", expected="a changed sheet, --undo N or --log")
    path = Path(routine)
    if log:
        return _list_revisions(path)
    mark = make_mark(by)
    from setdown.review.compare import compare_routines
    from setdown.review.store import open_routine, save_routine
    from setdown.review.wording import describe_difference

    opened = open_routine(path)
    if undo is not None:
        from setdown.review.undo import undo_revision

        changed = undo_revision(opened, undo)
    else:
        from setdown.lexicon import load_lexicon
        from setdown.review.revise import SheetRefusedError, revise_routine
        from setdown.review.sheet_cells import read_edited_sheet

        own = [Path(file) for file in lexicon or ()]
        edited = read_edited_sheet(Path(str(sheet)))
        try:
            changed = revise_routine(opened.routine, edited, mark, load_lexicon(own)).routine
        except SheetRefusedError as refused:
            return _say_refused(refused)
    lines = describe_difference(compare_routines(opened.routine, changed))
    for line in lines:
        say(line)
    saved: OpenRoutine | None = None
    if not dry_run:
        saved = save_routine(opened, changed, mark, lines, undoes=undo)
    _say_end(routine, opened, saved)
    return DONE


def _say_refused(refused: SheetRefusedError) -> int:
    for one in (refused, *refused.also):
        warn(format_failure(one))
    warn(f"setdown: {refused.source}: nothing was written")
    return UNUSABLE


def _say_end(name: str, opened: OpenRoutine, saved: OpenRoutine | None) -> None:
    if saved is None:
        say(f"{name}: nothing was written")
    elif saved.fingerprint == opened.fingerprint:
        say(f"{name}: nothing has changed")
    else:
        say(f"{name}: saved as revision {saved.revision}")


def _list_revisions(path: Path) -> int:
    from setdown.review.history import read_history
    from setdown.review.store import open_routine

    open_routine(path)  # says so when the routine itself cannot be read
    revisions = read_history(path)
    for one in revisions:
        who = f" by {one.by}" if one.by else ""
        taken_back = f" (undoes revision {one.undoes})" if one.undoes is not None else ""
        say(f"revision {one.number}, {one.at}{who}{taken_back}")
        for line in one.what:
            say(f"  {line}")
    if not revisions:
        say(f"{path}: never edited")
    return DONE
