"""The command without anything says what to do next, and the Tab key knows how to go on."""

from __future__ import annotations

import os
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from setdown.cli.guide import list_next_steps
from setdown.cli.main import COMMANDS, GROUPS


def read_commands(names: list[str]) -> list[str]:
    return [command for _, command in list_next_steps(names)]


def test_in_a_strange_folder_the_demonstration_comes_first(run, tmp_path, monkeypatch):
    """Nothing to work on: the demonstration, then how it goes with captions of one's own; a usage error to a script."""
    monkeypatch.chdir(tmp_path)
    ran = run()
    assert (ran.code, ran.err) == (2, "")
    assert ran.out.index("setdown demo practice") < ran.out.index("setdown extract CLASS.vtt")
    assert "setdown --help" in ran.out


def test_beside_captions_the_first_command_can_be_pasted(run, tmp_path, monkeypatch, vtt):
    """The command that is printed for a transcript works as it stands, also with spaces and quotes in its name."""
    odd = tmp_path / "here" / "Monday's 'long' class.vtt"
    odd.parent.mkdir()
    shutil.copy(vtt, odd)
    monkeypatch.chdir(odd.parent)
    line = next(line.strip() for line in run().out.splitlines() if line.strip().startswith("setdown extract "))
    assert run(*shlex.split(line)[1:]).code == 0
    assert [p.name for p in odd.parent.glob("*.routine.json")] == ["Monday's 'long' class.routine.json"]
    [review] = [line.strip() for line in run().out.splitlines() if line.strip().startswith("setdown review ")]
    assert shlex.split(review)[2:] == ["Monday's 'long' class.routine.json"]


def test_what_has_a_routine_is_not_extracted_again():
    """Transcripts without a routine come first, then the review of a routine; hidden endings do not mislead."""
    assert read_commands(["a.vtt", "a.routine.json", "b.srt"])[:2] == [
        "setdown extract b.srt -o b.routine.json",
        "setdown review a.routine.json",
    ]
    assert read_commands(["c.words.json"])[0] == "setdown extract c.words.json -o c.words.routine.json"
    assert read_commands(["-o.vtt"])[0] == "setdown extract ./-o.vtt -o ./-o.routine.json"
    assert read_commands(["notes.doc"]) == read_commands([])


def test_a_closed_folder_is_no_obstacle(run, tmp_path, monkeypatch):
    """Advice is given also where the folder is gone."""
    gone = tmp_path / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    assert "setdown demo practice" in run().out


def test_the_guide_loads_nothing_heavy(tmp_path):
    """It is there at once: without typer, pydantic, rich or numpy."""
    heavy = {"typer", "click", "rich", "pydantic", "numpy", "spacy"}
    code = (
        f"import sys; from setdown.cli.main import run_command as r; r([]); print(sorted(set(sys.modules) & {heavy}))"
    )
    out = subprocess.run([sys.executable, "-c", code], cwd=tmp_path, capture_output=True, check=True, encoding="utf-8")
    assert out.stdout.splitlines()[-1] == "[]"


@pytest.fixture
def complete(tmp_path):
    """What bash offers for a line, by the script that the command itself prints."""
    if shutil.which("bash") is None:
        pytest.skip("no bash on this machine")
    command = tmp_path / "bin" / "setdown"
    command.parent.mkdir()
    command.write_text(f'#!/bin/sh\nexec {shlex.quote(sys.executable)} -m setdown "$@"\n', encoding="utf-8")
    command.chmod(0o755)
    path = f"{command.parent}{os.pathsep}{os.environ['PATH']}"

    def ask(line: str) -> list[str]:
        words = line.split(" ")
        script = (
            'eval "$(setdown --show-completion bash)"\n'
            f"COMP_WORDS=({' '.join(shlex.quote(word) for word in words)})\nCOMP_CWORD={len(words) - 1}\n"
            '_setdown_completion setdown\nprintf "%s\\n" "${COMPREPLY[@]}"\n'
        )
        env = os.environ | {"PATH": path, "HOME": str(tmp_path), "SHELL": shutil.which("bash") or ""}
        done = subprocess.run(["bash", "--norc", "-c", script], env=env, capture_output=True, check=True, cwd=tmp_path)
        assert done.stderr == b""
        return done.stdout.decode().split()

    return ask


@pytest.mark.slow
@pytest.mark.parametrize(
    ("line", "offered"),
    [
        ("setdown ", [*COMMANDS, "version", *GROUPS]),
        ("setdown ext", ["extract"]),
        ("setdown extract --ti", ["--title"]),
        ("setdown catalogue ba", ["balance"]),
        ("setdown catalogue balance --we", ["--weeks"]),
        ("setdown lexicon ", ["lint", "find", "learn"]),
        ("setdown nonsense --x", []),
    ],
)
def test_the_tab_key_completes_in_bash(complete, line, offered):
    """Commands, subcommands and options; for the names of files, bash is left to itself."""
    assert complete(line) == offered


@pytest.mark.slow
@pytest.mark.parametrize(("shell", "variable"), [("zsh", "_TYPER_COMPLETE_ARGS"), ("fish", "_TYPER_COMPLETE_ARGS")])
def test_other_shells_are_answered(run_apart, shell, variable):
    """What zsh and fish ask by their own protocols is answered with the option and what it does."""
    asked = {variable: "setdown extract --ti", "_SETDOWN_COMPLETE": f"complete_{shell}"}
    if shell == "fish":
        asked["_TYPER_COMPLETE_FISH_ACTION"] = "get-args"
    ran = run_apart(**asked)
    assert (ran.code, ran.err) == (0, "")
    assert "--title" in ran.out
    assert "--tag" not in ran.out


def test_an_open_quotation_is_no_traceback(run_apart):
    """The line that is completed may be anything."""
    ran = run_apart(COMP_WORDS="setdown extract 'half", COMP_CWORD="2", _SETDOWN_COMPLETE="complete_bash")
    assert "Traceback" not in ran.err


@pytest.mark.slow
def test_completion_is_installed_for_the_user_alone(run_apart, tmp_path):
    """--install-completion writes into the home folder, and says where."""
    ran = run_apart("--install-completion", "bash", HOME=str(tmp_path))
    assert (ran.code, ran.err) == (0, "")
    written = [p for p in Path(tmp_path).rglob("*") if p.is_file()]
    assert any("_setdown_completion" in p.read_text(encoding="utf-8") for p in written)
