"""Where in a JSON text does a value stand?

``json`` tells lines for syntax errors only, so this walks the text again.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, field

from setdown.check.finding import Path

TOKEN = re.compile(r'"(?:[^"\\]|\\.)*"|[{}\[\],:]|[^\s{}\[\],:"]+|\n')


@dataclass(slots=True)
class JsonLines:
    """``lines``: path of every value -> 1-based line where it starts (a member: where its key stands).

    ``twice``: paths of members whose key had stood in the same object before.
    """

    lines: dict[Path, int] = field(default_factory=dict)
    twice: list[tuple[Path, int]] = field(default_factory=list)


@dataclass(slots=True)
class _Open:
    """An object or array being read: ``part`` is the key or index of the value that comes next."""

    path: Path
    is_array: bool
    part: str | int = ""
    wants_key: bool = False


def locate_values(text: str) -> JsonLines:
    """Walk a JSON text that ``json.loads`` has accepted."""
    found = JsonLines()
    stack: list[_Open] = []
    line = 1
    for match in TOKEN.finditer(text):
        token = match.group()
        if token == "\n":
            line += 1
        elif token in "}]":
            stack.pop()
        elif token == ",":
            top = stack[-1]
            if top.is_array:
                assert isinstance(top.part, int)
                top.part += 1
            else:
                top.wants_key = True
        elif token == ":":
            stack[-1].wants_key = False
        elif stack and stack[-1].wants_key:
            _read_key(found, stack[-1], token, line)
        else:
            path = (*stack[-1].path, stack[-1].part) if stack else ()
            found.lines.setdefault(path, line)
            if token == "{":
                stack.append(_Open(path, is_array=False, wants_key=True))
            elif token == "[":
                stack.append(_Open(path, is_array=True, part=0))
    return found


def _read_key(found: JsonLines, top: _Open, token: str, line: int) -> None:
    top.part = json.loads(token)
    path = (*top.path, top.part)
    if path in found.lines:
        found.twice.append((path, line))
    else:
        found.lines[path] = line
