"""The way in: quick answers first, then the subcommands, and every failure as a message and an exit code."""

from __future__ import annotations

import gc
import os
import shlex
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import Any, NoReturn

from setdown.cli.guide import guide
from setdown.cli.outcome import DONE, UNUSABLE, guard
from setdown.cli.terminal import prepare_streams
from setdown.cli.version import print_version

ABOUT = """Set down what was done in an exercise class, from its timed transcript.

\b
A first look:
  setdown demo practice
  setdown extract class.vtt -o new.routine.json
  setdown sheet new.routine.json
  setdown explain class.vtt --at 1:55

The examples in the help of each command can be tried in the folder that setdown demo makes.

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
    gc.set_threshold(1_000_000, 25, 25)


def run_command(arguments: Sequence[str]) -> int:
    """Run one command line; the exit code. Never raises for bad input, and never shows a traceback."""
    if list(arguments) in (["version"], ["--version"]):  # answered without loading typer
        return int(guard(print_version)() or DONE)
    if not arguments and COMPLETING not in os.environ:
        return int(guard(guide)())
    return int(guard(_run_app)(list(arguments)) or DONE)


def _run_app(arguments: list[str]) -> int:
    app = build_app(arguments[0] if arguments else _find_completed())
    try:
        return int(app(arguments, prog_name="setdown", standalone_mode=False) or DONE)
    except Exception as error:
        if not hasattr(error, "format_message"):
            raise
        error.show()  # type: ignore[attr-defined]  # typer's own usage errors, under whatever name it has them
        return UNUSABLE


def _find_completed() -> str:
    """The command whose options or subcommands a shell wants to have completed; empty for that of a command's name."""
    line = os.environ.get("COMP_WORDS") or os.environ.get("_TYPER_COMPLETE_ARGS") or ""
    try:
        words = shlex.split(line)
    except ValueError:  # a quotation that is not closed yet
        words = line.split()
    return words[1] if len(words) > 2 or (len(words) == 2 and line[-1:].isspace()) else ""


COMPLETING = "_SETDOWN_COMPLETE"  # set by a shell that asks how a line could go on
COMMANDS = (
    "demo",
    "extract",
    "sheet",
    "check",
    "explain",
    "review",
    "revise",
    "diff",
    "merge",
    "signoff",
    "publish",
    "measure",
    "compare",
    "schema",
    "score",
)
GROUPS = ("catalogue", "lexicon")


def build_app(wanted: str = "") -> Any:
    """The typer application with every subcommand; with the ``wanted`` one alone where there is one of that name.

    Reading the parameters of all commands takes longer than many a command does.
    """
    import typer

    from setdown.cli.version import version

    # Plain help: the same text on every terminal, in a pipe and in the tests.
    app = typer.Typer(help=ABOUT, no_args_is_help=True, rich_markup_mode=None)
    alone = wanted in COMMANDS or wanted in GROUPS
    for name in COMMANDS:
        if not alone or name == wanted:
            app.command()(guard(getattr(import_module(f"setdown.cli.{name}"), name)))
    for name in GROUPS:
        if not alone or name == wanted:
            group = getattr(import_module(f"setdown.cli.{name}"), f"build_{name}_app")
            app.add_typer(group(), name=name)
    app.command()(guard(version))  # the second one that keeps the first a subcommand
    return app
