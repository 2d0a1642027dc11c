"""Every word that reaches the user passes here: results to standard output, messages to standard error."""

from __future__ import annotations

import io
import re
import sys

# Text of a transcript or a file name may hold control characters that would steer the terminal.
CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]")


def prepare_streams() -> None:
    """Text is UTF-8 whatever the locale says, and nothing that cannot be shown stops the command."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")


def clean_text(text: str) -> str:
    """The text with control characters (but tabs and line ends) made visible as ``\\x1b``."""
    return CONTROL.sub(lambda m: f"\\x{ord(m.group()):02x}", text)


def write_result(text: str) -> None:
    """A document to standard output, as UTF-8 with its own line ends on every system."""
    sys.stdout.flush()
    raw = getattr(sys.stdout, "buffer", None)
    if raw is None:
        sys.stdout.write(text)
    else:
        raw.write(text.encode("utf-8"))
        raw.flush()


def say(text: str) -> None:
    """A line for the reader to standard output."""
    print(clean_text(text), flush=True)


def warn(text: str) -> None:
    """A line for the reader to standard error."""
    print(clean_text(text), file=sys.stderr, flush=True)


def flush_output() -> None:
    """Hand over what is still held back, so that a reader who has left is noticed now."""
    sys.stdout.flush()


def is_terminal() -> bool:
    """Whether results are shown to a person rather than handed to a program or a file."""
    return sys.stdout.isatty()
