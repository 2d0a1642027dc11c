"""What ``setdown catalogue renew``, ``export`` and ``check`` do and tell."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING

from setdown.cli.catalogue_add import SHOWN, choose_runner, read_own
from setdown.cli.outcome import DONE, FINDINGS, format_failure
from setdown.cli.progress import show_progress
from setdown.cli.terminal import say, warn
from setdown.errors import SetdownError

if TYPE_CHECKING:
    from setdown.catalogue.entry import Indexed
    from setdown.catalogue.renew import RenewReport

LINES_SHOWN = 40  # of one class


def renew_classes(
    catalogue: Path, replace: bool, jobs: int, scheduler: str, quiet: bool, lexicon: Sequence[str]
) -> int:
    """Show what would change, and put it in when told to; the exit code."""
    from setdown.catalogue.renew import apply_renewal, list_stale, preview_renewal
    from setdown.catalogue.store import open_store

    own = read_own(lexicon)
    with closing(open_store(catalogue)) as store:
        stale = list_stale(store, own)
        if not stale:
            say("every class was made with this lexicon and version")
            return DONE
        with show_progress(len(stale), wanted=not quiet and len(stale) > 1, rate="classes") as advance:
            report = preview_renewal(store, stale, run=choose_runner(jobs, scheduler), own=own, told=_tell(advance))
        _show(report)
        if replace:
            say(f"{apply_renewal(store, own)} classes renewed")
        elif report.looked_at > len(report.failed) + len(report.gone):
            say("nothing was replaced; --replace puts it in")
    return FINDINGS if report.failed or report.gone or (report.changes and not replace) else DONE


def _tell(advance: Callable[[str], None]) -> Callable[[Indexed], None]:
    return lambda done: advance(done.location.rpartition("/")[2])


def _show(report: RenewReport) -> None:
    for change in report.changes:
        say(f"{change.title}  {change.location}")
        for line in change.lines[:LINES_SHOWN]:
            say(f"  {line}")
        if len(change.lines) > LINES_SHOWN:
            say(f"  and {len(change.lines) - LINES_SHOWN} lines more")
    say(f"{report.looked_at} classes were made with another lexicon or version: {len(report.changes)} would change")
    for error in report.failed:
        warn(format_failure(error))
    if report.gone:
        shown = "".join(f"\n  {location}" for location in report.gone[:SHOWN])
        warn(f"setdown: the files of {len(report.gone)} classes are gone:{shown}")


def export_catalogue(
    catalogue: Path, output: Path, form: str, html: Path | None, replace: bool, lexicon: Sequence[str], draft: bool
) -> int:
    """Write tables, or the site; the exit code."""
    from setdown.catalogue.export import FORMS, export_tables
    from setdown.catalogue.store import open_store

    for known in FORMS:
        if form == known:
            break
    else:
        raise SetdownError(f"--as {form} is not known", expected=", ".join(FORMS))
    with closing(open_store(catalogue)) as store:
        if html is not None:
            from setdown.cli.catalogue_site import write_catalogue_site

            return write_catalogue_site(store, html, replace, lexicon, draft)
        for path, outcome in export_tables(store, output, known, replace=replace):
            say(f"{path}" + (" (unchanged)" if outcome == "unchanged" else ""))
    return DONE


def check_store(catalogue: Path) -> int:
    """Tell what is wrong with a catalogue; the exit code."""
    from setdown.catalogue.store import open_store
    from setdown.catalogue.verify import check_catalogue

    with closing(open_store(catalogue)) as store:
        problems = check_catalogue(store)
        (classes,) = store.execute("SELECT count(*) FROM class").fetchone() if not problems else (0,)
    for problem in problems:
        say(problem)
    say(f"{len(problems)} problems" if problems else f"{classes} classes, nothing is wrong")
    return FINDINGS if problems else DONE
