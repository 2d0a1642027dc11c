"""``setdown demo``: a sample class, taken from its captions to what is published of it, one command after another."""

from __future__ import annotations

import contextlib
import csv
import io
import shlex
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer

from setdown.cli.demo_folder import prepare_folder
from setdown.cli.outcome import DONE
from setdown.cli.terminal import say
from setdown.errors import SetdownError

REVIEWER = "Ada Lorrimer"
SHEET = "class.csv"


@dataclass(frozen=True, slots=True)
class Step:
    """A heading, what is done by hand before the command (it says so itself), and the command."""

    about: str
    command: tuple[str, ...]
    by_hand: Callable[[], None] | None = None


def demo(
    folder: Annotated[str, typer.Argument(metavar="DIR", help="A new folder for it.", show_default=False)],
    replace: Annotated[
        bool, typer.Option("--replace", help="Make the demonstration that is there already anew.")
    ] = False,
) -> int:
    """Write a sample class into a new folder, and walk through extract, sheet, review, publish and catalogue with it.

    Each command is printed before it runs, with what came of it below. The class is invented. Nothing outside the
    folder is touched, no browser is opened, and nothing that is there already is written over.

    \b
    Examples:
      setdown demo practice
      setdown demo practice --replace
    """
    place = Path(folder)
    prepare_folder(place, replace=replace)
    say(f"A sample class was written into {folder}: its captions are in class.vtt.")
    say(f"\n$ cd {shlex.quote(folder)}")
    with contextlib.chdir(place):
        for number, step in enumerate(STEPS, 1):
            code = _walk(step, number)
            if code != DONE:
                hint = "The message above says why; the steps before it stand"
                raise SetdownError(f"the demonstration stopped at step {number}", source=folder, hint=hint)
    say(CLOSING.replace("DIR", shlex.quote(folder)))
    return DONE


def _walk(step: Step, number: int) -> int:
    from setdown.cli.main import run_command

    say(f"\n{number}. {step.about}")
    if step.by_hand:
        step.by_hand()
    say(f"$ setdown {shlex.join(step.command)}")
    return run_command(step.command)


def _change_sheet() -> None:
    """Change one cell as a person would in a spreadsheet: the load of the first set that has one."""
    path = Path(SHEET)
    rows = list(csv.DictReader(io.StringIO(path.read_text(encoding="utf-8"), newline="")))
    heading, changed = list(rows[0]), next(row for row in rows if row["load"])
    before = changed["load"]
    changed["load"] = "15" if before != "15" else "20"
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, heading)
    writer.writeheader()
    writer.writerows(rows)
    path.write_bytes(text.getvalue().encode("utf-8"))
    say(f"(In {SHEET} the load of the {changed['exercise']} was just changed from {before} to {changed['load']}.)")


STEPS = (
    Step("Set down what was done: captions in, a routine out.", ("extract", "class.vtt", "-o", "class.routine.json")),
    Step("Read it as a table.", ("sheet", "class.routine.json", "--table")),
    Step("See what is doubtful: the queries are the questions to a reviewer.", ("check", "class.routine.json")),
    Step("Review it. First as a sheet to correct ...", ("sheet", "class.routine.json", "--csv", "-o", SHEET)),
    Step(
        "... then the corrected sheet goes back. Suppose that you know better what one dumbbell weighed:",
        ("revise", "class.routine.json", SHEET, "--by", REVIEWER),
        _change_sheet,
    ),
    Step("Sign it off: until then it is a draft.", ("signoff", "class.routine.json", "--by", REVIEWER)),
    Step(
        "Publish it: a written plan, a page to print, chapter marks, captions put right.",
        ("publish", "class.routine.json", "--as", "plan,page,chapters,captions", "-o", "out"),
    ),
    Step("Index it together with the other classes in the folder ...", ("catalogue", "add", ".")),
    Step("... and find every moment with a squat in it.", ("catalogue", "find", "-m", "squat")),
)
CLOSING = """
That was all of it. Next, in DIR:
  open out/class.plan.html                   the plan, as a page to read and print
  setdown review class.routine.json          the same review in your browser; Ctrl-C ends it
  setdown explain class.vtt --at 1:55        why the routine says what it says
With a class of your own:
  setdown extract CAPTIONS -o NAME.routine.json
  setdown review NAME.routine.json
setdown COMMAND --help has examples that can be tried in DIR."""
