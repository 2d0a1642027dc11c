"""Where things stand in a TOML file: the standard reader keeps no line numbers, but a message to a person needs one."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

_HEADER = re.compile(r"\s*\[\[\s*([A-Za-z0-9_-]+)\s*\]\]")
_OTHER_HEADER = re.compile(r"\s*\[")
_KEY = re.compile(r"\s*([A-Za-z0-9_-]+)\s*=")
_AT_LINE = re.compile(r"\(at line (\d+)")


@dataclass(slots=True)
class Block:
    """One ``[[table]]``: the line of its heading and of its keys, from 1."""

    line: int
    keys: dict[str, int] = field(default_factory=dict)


def locate_blocks(text: str) -> dict[str, list[Block]]:
    """The ``[[...]]`` blocks by table, in the order of the file. Tables written in another way are not found."""
    found: dict[str, list[Block]] = {}
    block: Block | None = None
    for number, line in enumerate(text.splitlines(), start=1):
        if header := _HEADER.match(line):
            block = Block(number)
            found.setdefault(header[1], []).append(block)
        elif _OTHER_HEADER.match(line) and not _KEY.match(line):
            # A list of several lines may start a line with a bracket, but then with a comma or quote behind it.
            block = block if block and not re.match(r"\s*\[[A-Za-z0-9_. -]+\]\s*(#.*)?$", line) else None
        elif block is not None and (key := _KEY.match(line)):
            block.keys.setdefault(key[1], number)
    return found


def read_error_line(message: str) -> int | None:
    """The line that an error of the TOML reader speaks of."""
    found = _AT_LINE.search(message)
    return int(found[1]) if found else None
