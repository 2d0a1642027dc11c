"""The reference of all commands, made from the commands themselves.

python -m setdown.cli.reference                  prints it, as Markdown
python -m setdown.cli.reference DEVELOPERS.md    puts it between its marks in that file
"""

from __future__ import annotations

import inspect
import re
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from textwrap import wrap
from typing import Any

from setdown.cli.outcome import DONE, guard
from setdown.cli.terminal import say, write_result
from setdown.errors import SetdownError
from setdown.files import read_text, write_file

WIDTH = 120  # characters of a line of prose
MARKS = ("<!-- commands -->", "<!-- /commands -->")


@dataclass(frozen=True, slots=True)
class Parameter:
    """An argument or option: how it is written, and what it is for."""

    written: str
    help: str


@dataclass(frozen=True, slots=True)
class Described:
    """A command: its words, what it does, its parameters, and its examples as lines for a shell."""

    words: tuple[str, ...]
    about: str
    parameters: tuple[Parameter, ...]
    examples: tuple[str, ...]

    @property
    def name(self) -> str:
        """``setdown catalogue find``"""
        return " ".join(("setdown", *self.words))


def describe_commands() -> list[Described]:
    """Every command with its subcommands, the whole first, in the order of ``setdown --help``."""
    import typer

    from setdown.cli.main import build_app

    return list(_walk(typer.main.get_command(build_app()), ()))


def format_reference(commands: Sequence[Described]) -> str:
    """A heading a command, what it does, its parameters as a list and its examples, as Markdown."""
    return "\n".join(_format_command(command) for command in commands if command.words)


def put_reference(document: str, reference: str, source: str) -> str:
    """The document with the reference between its marks.

    Raises:
        SetdownError: it does not have each of the marks once.
    """
    first, last = MARKS
    if document.count(first) != 1 or document.count(last) != 1 or document.index(first) > document.index(last):
        raise SetdownError("the place of the reference is not marked", source=source, expected=f"{first} and {last}")
    return document[: document.index(first)] + f"{first}\n{reference}{document[document.index(last) :]}"


def write_reference(file: str | None = None) -> int:
    """Print the reference, or bring that of a file up to date."""
    reference = format_reference(describe_commands())
    if file is None:
        write_result(reference)
    else:
        text = put_reference(read_text(Path(file)), reference, file)
        say(f"{file}: {write_file(Path(file), text.encode('utf-8'), replace=True)}")
    return DONE


def _walk(command: Any, words: tuple[str, ...]) -> Iterator[Described]:
    about, examples = _divide(inspect.cleandoc(command.help or ""))
    yield Described(words, about, tuple(_list_parameters(command)), examples)
    for name, sub in getattr(command, "commands", {}).items():
        yield from _walk(sub, (*words, name))


def _divide(text: str) -> tuple[str, tuple[str, ...]]:
    """The prose of a help text, and its examples: the indented lines that start with the command."""
    examples = tuple(line.strip() for line in text.splitlines() if line.startswith("  setdown "))
    prose = [part for part in re.split(r"\n\s*\n", text) if "\b" not in part and not part.startswith("  ")]
    return "\n\n".join(" ".join(part.split()) for part in prose), examples


def _list_parameters(command: Any) -> Iterator[Parameter]:
    for one in command.params:
        if one.name == "help" or getattr(one, "hidden", False):
            continue
        if one.param_type_name == "argument":
            metavar = (one.metavar or one.name.upper()).strip("[]")
            yield Parameter(metavar if one.required else f"[{metavar}]", _read_help(one))
        else:
            yield Parameter(", ".join(one.opts) + ("" if one.is_flag else f" {_read_metavar(one)}"), _read_help(one))


def _read_metavar(option: Any) -> str:
    """What stands for its value. The types themselves are told differently by each version of typer."""
    return str(option.metavar or ("N" if isinstance(option.default, int | float) else "TEXT"))


def _read_help(parameter: Any) -> str:
    """What it is for, with the value that holds when it is not given."""
    given = parameter.default
    if isinstance(given, bool) or not isinstance(given, str | int | float | Path) or given == "":
        return str(parameter.help or "")
    return f"{parameter.help} Default: `{given}`."


def _format_command(command: Described) -> str:
    about = [line for part in command.about.split("\n\n") for line in ("", *wrap(part, WIDTH))]
    lines = [f"### {command.name}", *about, ""]
    lines += [f"- `{one.written}`: {one.help}" for one in command.parameters]
    if command.parameters:
        lines.append("")
    return "\n".join([*lines, "```console", *command.examples, "```", ""])


if __name__ == "__main__":
    sys.exit(guard(write_reference)(*sys.argv[1:2]))
