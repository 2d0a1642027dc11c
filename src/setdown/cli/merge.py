"""``setdown merge``: a new extraction of a class, with the edits of the old one."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from setdown.cli.outcome import DONE, FINDINGS
from setdown.cli.terminal import say, warn, write_result
from setdown.errors import SetdownError

if TYPE_CHECKING:
    from setdown.model.routine import Routine


def merge(
    base: Annotated[str, typer.Argument(metavar="BASE", help="The routine before it was edited.", show_default=False)],
    edited: Annotated[str, typer.Argument(metavar="EDITED", help="The same, edited.", show_default=False)],
    new: Annotated[str, typer.Argument(metavar="NEW", help="The class extracted anew.", show_default=False)],
    output: Annotated[str | None, typer.Option("-o", "--output", metavar="FILE", help="Write it to a file.")] = None,
    by: Annotated[
        str | None, typer.Option("--by", metavar="NAME", help="Who merges; needed to write over EDITED.")
    ] = None,
    replace: Annotated[bool, typer.Option("--replace", help="Write over a file that is there already.")] = False,
) -> int:
    """Keep what people edited, and take what a better lexicon or corrected captions found elsewhere.

    Where both changed the same value, differently, the edit stays and a query holds both values; the exit code is 1
    then. BASE may be - for the routine as the edit log of EDITED has it from before the first edit. When -o names
    EDITED itself, the merge is a revision in its log, and can be undone.

    \b
    Examples:
      setdown extract class.vtt -o new.routine.json
      setdown merge - class.routine.json new.routine.json -o merged.routine.json
      setdown merge - class.routine.json new.routine.json -o class.routine.json --by "Ana Lund"
    """
    from setdown.cli.who import make_mark
    from setdown.document import format_routine
    from setdown.files import write_file
    from setdown.review.compare import compare_routines
    from setdown.review.merge import merge_routines
    from setdown.review.store import open_routine, save_routine
    from setdown.review.wording import describe_difference

    opened = open_routine(Path(edited))
    merged = merge_routines(_read_base(base, edited), opened.routine, _read(new))
    if output is None:
        write_result(format_routine(merged.routine))
    elif _is_same(output, edited):
        mark = make_mark(by)
        lines = describe_difference(compare_routines(opened.routine, merged.routine))
        saved = save_routine(opened, merged.routine, mark, [f"merged with {Path(new).name}", *lines])
        count = f"{len(lines)} difference{'' if len(lines) == 1 else 's'}"
        say(f"{output}: {count} to what it was, revision {saved.revision}")
    else:
        write_file(Path(output), format_routine(merged.routine).encode("utf-8"), replace=replace)
    for clash in merged.clashes:
        warn(f"query {clash.severity} {clash.code}: {clash.message}")
    return FINDINGS if merged.clashes else DONE


def _read(file: str) -> Routine:
    from setdown.check import parse_routine
    from setdown.files import read_text

    return parse_routine(read_text(Path(file)), file)


def _read_base(base: str, edited: str) -> Routine:
    if base != "-":
        return _read(base)
    from setdown.review.history import read_history
    from setdown.review.store import read_revision

    if not read_history(Path(edited)):
        raise SetdownError("it has no edit log to take the base from", source=edited, expected="BASE as a file")
    return read_revision(Path(edited), 0)


def _is_same(a: str, b: str) -> bool:
    return Path(a).exists() and Path(b).exists() and Path(a).samefile(b)
