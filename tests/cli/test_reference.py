"""The reference of the commands: complete, current, and put where it belongs."""

from __future__ import annotations

import pytest

from setdown.cli.reference import MARKS, describe_commands, format_reference, put_reference, write_reference
from setdown.errors import SetdownError


def test_it_is_current(repository):
    """DEVELOPERS.md has what the commands say of themselves; else: python -m setdown.cli.reference DEVELOPERS.md"""
    text = (repository / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert put_reference(text, format_reference(describe_commands()), "DEVELOPERS.md") == text


@pytest.mark.parametrize("command", describe_commands(), ids=lambda command: command.name)
def test_it_has_all_that_the_help_has(run, command):
    """Every option of --help is described, and nothing that --help does not have."""
    shown = run(*command.words, "--help").out
    shown = shown.partition("\nOptions:\n")[2].partition("\nCommands:\n")[0]
    options = {word.strip(",") for line in shown.splitlines() for word in line.split()[:2] if word.startswith("--")}
    listed = {word.strip(",") for one in command.parameters for word in one.written.split() if word.startswith("--")}
    assert listed == {option.partition("[")[0] for option in options} - {"--help"}
    assert command.about


def test_a_file_is_brought_up_to_date(tmp_path, capsys):
    """What lies between the marks is replaced, the rest stays; again, and nothing changes."""
    file = tmp_path / "d.md"
    file.write_text(f"before\n{MARKS[0]}\nold\n{MARKS[1]}\nafter\n", encoding="utf-8")
    assert write_reference(str(file)) == 0
    text = file.read_text(encoding="utf-8")
    assert text.startswith(f"before\n{MARKS[0]}\n### setdown demo\n")
    assert text.endswith(f"```\n{MARKS[1]}\nafter\n")
    assert "old" not in text.split()
    assert write_reference(str(file)) == 0
    assert capsys.readouterr().out == f"{file}: written\n{file}: unchanged\n"


@pytest.mark.parametrize("text", ["", MARKS[0], f"{MARKS[1]} {MARKS[0]}", f"{MARKS[0]}{MARKS[1]}{MARKS[1]}"])
def test_without_a_marked_place_nothing_is_written(text):
    """Both marks, once, in order: else it is refused."""
    with pytest.raises(SetdownError, match="not marked"):
        put_reference(text, "x", "d.md")
