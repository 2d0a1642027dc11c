"""The way in: quick answers first, then the subcommands, and every failure as a message and an exit code."""

from __future__ import annotations

import gc
import sys
from collections.abc import Sequence
from typing import Any, NoReturn

from setdown.cli.outcome import DONE, UNUSABLE, guard
from setdown.cli.terminal import prepare_streams
from setdown.cli.version import print_version

ABOUT = """Set down what was done in an exercise class, from its timed transcript.

\b
A first look:
  setdown extract class.vtt -o class.routine.json
  setdown sheet class.routine.json
  setdown explain class.vtt --at 12:40

\b
Exit codes: 0 done, 1 finished with findings, 2 could not be used, 130 stopped by Ctrl-C.
Nothing leaves this machine.
"""


def main() -> NoReturn:
    """Run the command line of this process and exit."""
    prepare_streams()
    spare_collector()
    sys.exit(run_command(sys.argv[1:]))


def spare_collector() -> None:
    """Let Python look for garbage less often: the lexicon's objects stay to the end, walking them finds nothing."""
    gc.set_threshold(100_000, 25, 25)


def run_command(arguments: Sequence[str]) -> int:
    """Run one command line; the exit code. Never raises for bad input, and never shows a traceback."""
    if list(arguments) in (["version"], ["--version"]):  # answered without loading typer
        return int(guard(print_version)() or DONE)
    return int(guard(_run_app)(list(arguments)) or DONE)


def _run_app(arguments: list[str]) -> int:
    app = build_app()
    try:
        return int(app(arguments, prog_name="setdown", standalone_mode=False) or DONE)
    except Exception as error:
        if not hasattr(error, "format_message"):
            raise
        error.show()  # type: ignore[attr-defined]  # typer's own usage errors, under whatever name it has them
        return UNUSABLE


def build_app() -> Any:
    """The typer application with every subcommand."""
    import typer

    from setdown.cli.catalogue import build_catalogue_app
    from setdown.cli.check import check
    from setdown.cli.compare import compare
    from setdown.cli.diff import diff
    from setdown.cli.explain import explain
    from setdown.cli.extract import extract
    from setdown.cli.lexicon import build_lexicon_app
    from setdown.cli.measure import measure
    from setdown.cli.merge import merge
    from setdown.cli.publish import publish
    from setdown.cli.review import review
    from setdown.cli.revise import revise
    from setdown.cli.schema import schema
    from setdown.cli.score import score
    from setdown.cli.sheet import sheet
    from setdown.cli.signoff import signoff
    from setdown.cli.version import version

    # Plain help: the same text on every terminal, in a pipe and in the tests.
    app = typer.Typer(help=ABOUT, no_args_is_help=True, add_completion=False, rich_markup_mode=None)
    commands = (
        extract,
        sheet,
        check,
        explain,
        review,
        revise,
        diff,
        merge,
        signoff,
        publish,
        measure,
        compare,
        schema,
        score,
    )
    for command in commands:
        app.command()(guard(command))
    app.add_typer(build_catalogue_app(), name="catalogue")
    app.add_typer(build_lexicon_app(), name="lexicon")
    app.command()(guard(version))
    return app
