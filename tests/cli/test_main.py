"""The command as a whole: help, usage, interruption, and that no failure ends in a traceback."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time

import pytest

from make_routine import VTT
from setdown.cli import outcome
from setdown.cli.main import run_command
from setdown.errors import SetdownError

COMMANDS = (
    "extract",
    "sheet",
    "check",
    "explain",
    "schema",
    "score",
    "version",
    "lexicon lint",
    "lexicon find",
    "demo",
)
HEAVY = ("spacy", "pydantic", "rich", "typer", "jsonschema", "click")


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_explains_itself(run, command):
    """--help states what the command does, and shows an example that starts with the command."""
    ran = run(*command.split(), "--help")
    assert ran.code == 0
    assert f"Usage: setdown {command}" in ran.out
    if command != "version":
        assert f"    setdown {command}" in ran.out


def test_the_help_lists_every_command(run):
    """So does the page without any command, which is a usage error."""
    ran = run("--help")
    for command in COMMANDS:
        assert f"\n  {command.split()[0]} " in ran.out
    assert run().code == 2


def test_an_unknown_command_is_a_usage_error(run):
    """It is named, on standard error."""
    ran = run("compile")
    assert (ran.code, ran.out) == (2, "")
    assert "compile" in ran.err


def test_quick_commands_load_nothing_heavy():
    """``setdown version`` is answered without spaCy, pydantic, rich, typer or jsonschema; --help without spaCy."""
    script = (
        "import sys; from setdown.cli.main import run_command as run; run({!r}); print(sorted({!r} & set(sys.modules)))"
    )
    for arguments, heavy in ((["version"], HEAVY), (["--help"], ("spacy", "pydantic", "jsonschema"))):
        code = script.format(arguments, set(heavy))
        out = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, encoding="utf-8").stdout
        assert out.splitlines()[-1] == "[]"


def test_the_package_itself_loads_nothing_heavy():
    """``import setdown`` is quick; what is heavy comes on first use."""
    code = f"import sys, setdown; print(sorted(set(sys.modules) & {set(HEAVY)!r}))"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True, encoding="utf-8").stdout
    assert out == "[]\n"


@pytest.mark.parametrize(
    ("error", "code", "message"),
    [
        (
            SetdownError(
                "the cue ends early", source="a.vtt", line=7, expected="an end after the start", hint="Mend it"
            ),
            2,
            "setdown: a.vtt:7: the cue ends early\n  expected: an end after the start\n  hint: Mend it\n",
        ),
        (SetdownError("no"), 2, "setdown: no\n"),
        (PermissionError(13, "Permission denied", "a.vtt"), 2, "setdown: a.vtt: permission denied\n"),
        (OSError("odd"), 2, "setdown: odd\n"),
        (KeyboardInterrupt(), 130, "setdown: stopped\n"),
        (KeyError("x"), 2, "setdown: a defect of setdown (KeyError: 'x')\n  hint: SETDOWN_TRACEBACK=1 shows where"),
        (RecursionError("deep"), 2, "setdown: a defect of setdown (RecursionError: deep)\n"),
        (SetdownError("a\x1b[2Jb"), 2, "setdown: a\\x1b[2Jb\n"),
    ],
)
def test_failures_become_messages(capsys, monkeypatch, error, code, message):
    """Source, line, what was expected, what to do; never a traceback."""
    monkeypatch.delenv("SETDOWN_TRACEBACK", raising=False)

    def fail() -> None:
        raise error

    assert outcome.guard(fail)() == code
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith(message)


def test_a_developer_can_have_the_traceback(monkeypatch):
    """With SETDOWN_TRACEBACK a defect is raised; bad input still is not."""
    monkeypatch.setenv("SETDOWN_TRACEBACK", "1")

    def fail(error: Exception) -> None:
        raise error

    with pytest.raises(KeyError):
        outcome.guard(fail)(KeyError("x"))
    assert outcome.guard(fail)(SetdownError("x")) == 2


@pytest.mark.parametrize("command", COMMANDS[:6])
def test_arguments_of_any_bytes(run, command):
    """Names with NUL, lone surrogates or thousands of characters are refused like any missing file."""
    for name in ("a\0b", "\udc80.json", "x" * 5000, "-"):
        if name != "-":
            ran = run(*command.split(), name, *(["--at", "1"] if command == "explain" else []))
            assert ran.code == 2


def test_a_reader_who_leaves_early(tmp_path):
    """``setdown schema | head -1``: no traceback, no complaint, the exit code of a broken pipe."""
    command = [sys.executable, "-m", "setdown", "schema"]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert process.stdout and process.stderr
    process.stdout.close()
    err = process.stderr.read()
    process.stderr.close()
    assert (process.wait(60), err) == (141, b"")


@pytest.mark.slow
@pytest.mark.parametrize("jobs", ["1", "2"])
def test_ctrl_c_stops_with_a_word(tmp_path, jobs):
    """Interrupted in the middle: one line, exit code 130, no half-written or temporary file."""
    for n in range(400):
        (tmp_path / f"c{n}.vtt").write_bytes(VTT.encode())
    out = tmp_path / "out"
    files = sorted(map(str, tmp_path.glob("*.vtt")))
    command = [sys.executable, "-m", "setdown", "extract", *files, "-o", str(out), "--jobs", jobs]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, start_new_session=True)
    assert process.stdout and process.stderr
    process.stdout.readline()  # the first is done
    os.killpg(process.pid, signal.SIGINT)  # as a terminal does
    _, err = process.communicate(timeout=60)
    assert process.returncode == 130
    assert b"Traceback" not in err
    assert b"setdown: stopped" in err
    time.sleep(0)
    assert all(file.name.endswith(".routine.json") for file in out.iterdir())


def test_module_and_command_are_the_same(run_apart):
    """``python -m setdown`` is the ``setdown`` command."""
    ran = run_apart("version")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.startswith("setdown ")


def test_exit_codes_are_numbers_for_a_shell():
    """Every way out gives a whole number from 0 to 255."""
    for arguments in (["version"], ["--help"], ["nonsense"], ["extract", "no-such-file.vtt"]):
        code = run_command(arguments)
        assert type(code) is int
        assert 0 <= code <= 255
