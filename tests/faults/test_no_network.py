"""Nothing leaves the machine: with every socket forbidden the commands do all of their work."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

FORBID = Path(__file__).parent / "no_sockets"
SAMPLES = ("quayside-strength.vtt", "quayside-strength.meta.toml", "slipway-stretch.txt", "allotment-kettlebell.srt")


@pytest.fixture
def offline(tmp_path, repository):
    """Run a command where no process can make a socket; the lines of whoever tried are in ``asked``."""
    folder = tmp_path / "recordings"
    folder.mkdir()
    for name in SAMPLES:
        shutil.copy(repository / "samples" / name, folder)
    asked = tmp_path / "asked"
    path = os.pathsep.join([str(FORBID), os.environ.get("PYTHONPATH", "")])

    def run_offline(*arguments: object, code: int = 0, command: tuple[str, ...] = ("-m", "setdown")):
        done = subprocess.run(
            [sys.executable, *command, *map(str, arguments)],
            capture_output=True,
            cwd=tmp_path,
            env=os.environ | {"PYTHONPATH": path, "SOCKETS_ASKED": str(asked)},
            encoding="utf-8",
            check=False,
        )
        assert done.returncode == code, done.stderr
        return done

    run_offline.asked = asked
    return run_offline


def list_askers(asked: Path) -> list[str]:
    """Who wanted a socket, but for one: a library that is imported makes one to see whether IPv6 is there, binds it to
    this machine's own address and sends nothing; it takes the refusal for a no."""
    lines = asked.read_text(encoding="utf-8").splitlines() if asked.exists() else []
    return [line for line in lines if "connection.py:_has_ipv6" not in line]


@pytest.mark.slow
def test_every_command_works_without_sockets(offline, tmp_path):
    """Extract (in two processes as well), sheet, check, explain, revise, diff, merge, publish, measure, and the
    catalogue: each ends as it should, leaves what it should, and asks for no socket."""
    offline("extract", *(f"recordings/{n}" for n in SAMPLES if "meta" not in n), "-o", "routines", "--jobs", "2")
    one = "routines/quayside-strength.routine.json"
    assert len(list((tmp_path / "routines").glob("*.routine.json"))) == 3
    assert offline("extract", "recordings/quayside-strength.vtt").stdout == (tmp_path / one).read_text(encoding="utf-8")
    sheet = offline("sheet", one, "--csv").stdout
    assert sheet.count("\n") > 5
    offline("check", one)
    assert offline("explain", "recordings/quayside-strength.vtt", "--at", "1:00").stdout
    (tmp_path / "sheet.csv").write_text(sheet, encoding="utf-8")
    offline("revise", one, "sheet.csv", "--by", "Ada", "--dry-run")
    offline("diff", one, one)
    offline("merge", one, one, one, "-o", "merged.json", "--replace")
    offline("publish", one, "--draft", "-o", "out", "--transcript", "recordings/quayside-strength.vtt")
    assert len(list((tmp_path / "out").iterdir())) >= 7
    assert offline("measure", one).stdout
    offline("catalogue", "add", "recordings", "--jobs", "2", "-c", "all.setdown")
    assert "quayside" in offline("catalogue", "find", "-c", "all.setdown").stdout.lower()
    offline("catalogue", "export", "-c", "all.setdown", "-o", "tables")
    offline("catalogue", "export", "-c", "all.setdown", "--html", "site", "--draft")
    offline("catalogue", "balance", "-c", "all.setdown")
    offline("catalogue", "check", "-c", "all.setdown")
    assert (tmp_path / "tables" / "sets.csv").stat().st_size > 500
    assert (tmp_path / "site" / "index.html").exists()
    assert list_askers(offline.asked) == []


@pytest.mark.parametrize(
    "attempt",
    [
        "import socket; socket.socket(socket.AF_INET)",
        "import socket; socket.socket(socket.AF_INET6, socket.SOCK_DGRAM)",
        "import _socket; _socket.socket(_socket.AF_INET)",
        "import socket; socket.getaddrinfo('localhost', 80)",
        "import urllib.request; urllib.request.urlopen('http://127.0.0.1:9/')",
    ],
)
def test_the_guard_catches_what_it_should(offline, attempt):
    """So that the test above could fail: whichever way a program goes about it, it is refused and written down."""
    done = offline(code=1, command=("-c", attempt))
    assert "no sockets here" in done.stderr
    assert len(list_askers(offline.asked)) >= 1


def test_the_guard_leaves_local_sockets_alone(offline):
    """Processes of one machine may talk to each other."""
    offline(command=("-c", "import socket; socket.socketpair()"))
    assert list_askers(offline.asked) == []
