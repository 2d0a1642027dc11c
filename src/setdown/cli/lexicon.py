"""``setdown lexicon``: check the word lists, and look a phrase up in them."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from setdown.cli.outcome import DONE, FINDINGS, guard
from setdown.cli.terminal import clean_text, say, warn, write_result
from setdown.errors import SetdownError

ABOUT = """Check the word lists, or look words up in them.

\b
A first look:
  setdown lexicon find gobble its quat
  setdown lexicon lint
"""
RUNNER_UP = "runner-up"  # how the lexicon marks names that come close but do not match


def build_lexicon_app() -> Any:
    """The subcommands of ``setdown lexicon``."""
    app = typer.Typer(help=ABOUT, no_args_is_help=True)
    app.command()(guard(lint))
    app.command()(guard(find))
    app.command()(guard(learn))
    return app


def lint(
    folder: Annotated[
        str | None, typer.Argument(metavar="FOLDER", help="A lexicon folder; without it, the one in use.")
    ] = None,
) -> int:
    """List what is wrong with the word lists: file, line, what, and what to do.

    \b
    Example:
      setdown lexicon lint
    """
    from setdown.lexicon import lint_lexicon

    if folder is not None and not Path(folder).is_dir():
        raise SetdownError("there is no such folder", source=folder, expected="a folder with movements/*.csv")
    problems = list(lint_lexicon(Path(folder) if folder is not None else None))
    for problem in problems:
        say(str(problem))
    say(f"{len(problems)} findings")
    return FINDINGS if problems else DONE


def find(
    text: Annotated[list[str], typer.Argument(metavar="TEXT", help="Words as a caption has them.")],
    lexicon: Annotated[
        list[str] | None,
        typer.Option(metavar="FILE", help="Movements of your own; may be given several times."),
    ] = None,
) -> int:
    """Show what the lexicon finds in some words, and how sure it is. The exit code is 1 when it finds nothing.

    \b
    Examples:
      setdown lexicon find gobble its quat
      setdown lexicon find "lift your arms out to the side"
    """
    from setdown.lexicon import load_lexicon

    told = load_lexicon([Path(file) for file in lexicon or ()]).explain(" ".join(text))
    found = [one for one in told if not one.why.startswith(RUNNER_UP)]
    if not found:
        say("no movement found")
    for one in told:
        say(f"{one.hit.movement:<24} {one.why}")
    return DONE if found else FINDINGS


def learn(
    routines: Annotated[list[str], typer.Argument(metavar="ROUTINE", help="Reviewed routines.", show_default=False)],
    lexicon: Annotated[
        list[str] | None,
        typer.Option(metavar="FILE", help="Movements of your own; may be given several times."),
    ] = None,
    add: Annotated[
        str | None, typer.Option("--add", metavar="FILE", help="Write the entries to the end of this lexicon of yours.")
    ] = None,
) -> int:
    """Propose entries for a lexicon of your own, from the names that were put right in review.

    Each entry is printed under its evidence, as it goes into the file for --lexicon: mis-hearings, other names, moves
    of the house. Nothing is added to any file without --add, and what is in that file stays as it is.

    \b
    Examples:
      setdown lexicon learn class.routine.json
      setdown lexicon learn *.routine.json --add mine.toml
    """
    from setdown.check import parse_routine
    from setdown.files import read_text
    from setdown.lexicon import load_lexicon
    from setdown.review.learn import propose_entries
    from setdown.review.learn_file import add_proposals, format_proposals

    own = [Path(file) for file in lexicon or ()]
    known = load_lexicon(own)
    read = [(Path(file).name, parse_routine(read_text(Path(file)), file)) for file in routines]
    proposals = propose_entries(read, known)
    write_result(clean_text(format_proposals(proposals)))
    if not proposals:
        warn("nothing to learn: no name that a person put right is unknown to the lexicon")
    if add and proposals:
        done = add_proposals(Path(add), proposals, known)
        for one in done.refused:
            warn(f"{add}: has {one.words or one.name!r} in another meaning; left as it is")
        warn(f"{add}: {len(done.added)} entries added")
    return DONE
