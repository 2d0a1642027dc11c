"""What ``setdown catalogue export --html`` does: the search of the catalogue with the published plans."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from setdown.cli.outcome import DONE
from setdown.cli.terminal import say, warn
from setdown.errors import SetdownError

if TYPE_CHECKING:
    from setdown.model.routine import Routine


def write_catalogue_site(
    store: sqlite3.Connection, folder: Path, replace: bool, lexicon: Sequence[str], draft: bool
) -> int:
    """Write the site; the exit code."""
    from setdown.catalogue.site import write_site
    from setdown.lexicon import load_lexicon
    from setdown.publish import PublishOptions, publish_routine
    from setdown.publish.inert import clean_line, make_file_stem

    if folder.exists() and not folder.is_dir():
        raise SetdownError("this is a file", source=str(folder), expected="a folder")
    known = load_lexicon([Path(file) for file in lexicon])
    options = PublishOptions(draft=draft)

    def render(routine: Routine) -> bytes | None:
        if routine.status == "draft" and not draft:
            return None
        [document] = publish_routine(routine, known, ["page"], options)
        return document.data

    report = write_site(store, folder, known, render=render, clean=clean_line, name=make_file_stem, replace=replace)
    say(f"{folder / 'index.html'}  {report.classes} classes, {report.pages} with a plan")
    if report.without:
        warn(
            f"setdown: {report.without} classes are drafts and have no plan; --draft gives them one, marked as a draft"
        )
    return DONE
