"""``setdown`` without anything: what to do next, from what lies in this folder. Nothing heavy is loaded for it."""

from __future__ import annotations

import os
import shlex
from collections.abc import Iterable
from itertools import islice
from pathlib import Path

from setdown.cli.outcome import UNUSABLE
from setdown.cli.terminal import say

ROUTINE = ".routine.json"
CAPTIONS = (".vtt", ".srt", ".ttml", ".words.json")
LOOKED_AT = 5000  # names in a folder: an answer is quick in a folder of any size


def guide() -> int:
    """Say what to do next. The exit code is that of a usage error, so that no script goes on without a command."""
    say("Setdown sets down what was done in an exercise class, from its timed transcript. Nothing leaves this machine.")
    say("")
    for about, command in list_next_steps(_list_names(Path())):
        say(f"  {about}\n    {command}")
    say("")
    say("setdown --help lists all commands; setdown COMMAND --help has examples.")
    say("setdown --install-completion lets the Tab key complete them.")
    return UNUSABLE


def list_next_steps(names: Iterable[str]) -> list[tuple[str, str]]:
    """What can be done next in a folder with files of these names: each as a sentence and a command."""
    found = sorted(names)
    routines = [name for name in found if name.lower().endswith(ROUTINE)]
    stems = {name[: -len(ROUTINE)] for name in routines}
    captions = [name for name in found if name.lower().endswith(CAPTIONS) and _strip_ending(name) not in stems]
    demo = ("See all of it done with a sample class, step by step:", "setdown demo practice")
    if not captions and not routines:
        own = "With captions of your own (WebVTT, SubRip, TTML ...):"
        return [demo, (own, "setdown extract CLASS.vtt -o CLASS.routine.json")]
    steps = []
    if captions:
        one, count = captions[0], len(captions)
        about = f"{one} has no routine yet. Set it down:" if count == 1 else f"{count} transcripts have no routine yet:"
        steps.append((about, f"setdown extract {_quote(one)} -o {_quote(_strip_ending(one) + ROUTINE)}"))
    if routines:
        one = _quote(routines[0])
        steps.append(("Read a routine through, correct it and sign it off, in the browser:", f"setdown review {one}"))
        steps.append(("Or look at it here, as a table:", f"setdown sheet {one} --table"))
    return [*steps, demo]


def _quote(name: str) -> str:
    return shlex.quote(name if not name.startswith("-") else f"./{name}")


def _strip_ending(name: str) -> str:
    return name.rpartition(".")[0]


def _list_names(folder: Path) -> list[str]:
    try:
        with os.scandir(folder) as entries:
            return [entry.name for entry in islice(entries, LOOKED_AT) if not entry.name.startswith(".")]
    except OSError:  # a folder that is gone or closed to us: advice does not depend on it
        return []
