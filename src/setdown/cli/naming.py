"""Which file does the routine of each transcript go to?"""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

from setdown.document import SUFFIX
from setdown.errors import SetdownError

STDIN = "-"


def plan_targets(sources: Sequence[str], output: str | None) -> list[Path | None]:
    """One target a source, in order; ``None`` stands for standard output.

    ``output`` is a file for one source, and a folder when it is one, ends like one, or there are several sources.

    The source ``-`` is standard input.

    Raises:
        SetdownError: several sources and no folder, a file in no folder, two sources that would be written to one
            file, or a target that is itself one of the sources.
    """
    if len(sources) > 1 and STDIN in sources:
        raise SetdownError("standard input (-) can only be extracted alone")
    if output is None:
        if len(sources) > 1:
            hint = "Add -o FOLDER, and each routine is written into it"
            raise SetdownError(f"{len(sources)} transcripts cannot share standard output", hint=hint)
        return [None]
    targets = _list_targets(sources, output)
    _refuse_twins(sources, targets)
    inputs = {os.path.realpath(source) for source in sources}
    for target in targets:
        if os.path.realpath(target) in inputs:
            raise SetdownError("this would be written over a transcript", source=str(target))
    return list(targets)


def _list_targets(sources: Sequence[str], output: str) -> list[Path]:
    ends_like_folder = output.endswith(("/", os.sep))
    if len(sources) == 1 and not ends_like_folder and not Path(output).is_dir():
        if not Path(output).parent.is_dir():  # told before the work rather than after it
            raise SetdownError("its folder does not exist", source=output, hint=f"Make {Path(output).parent} first")
        return [Path(output)]
    return [Path(output) / (_name_source(source) + SUFFIX) for source in sources]


def _name_source(source: str) -> str:
    return "stdin" if source == STDIN else Path(source).stem


def _refuse_twins(sources: Sequence[str], targets: Sequence[Path]) -> None:
    taken: dict[str, str] = {}
    for source, target in zip(sources, targets, strict=True):
        # Folders of some systems do not tell capitals apart.
        name = str(target).casefold()
        if name in taken:
            problem = f"{taken[name]} and {source} would both be written to {target}"
            raise SetdownError(problem, hint="Extract them into different folders")
        taken[name] = source
