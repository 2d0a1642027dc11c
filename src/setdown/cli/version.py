"""``setdown version``: a line without loading anything else."""

from __future__ import annotations

from setdown import __version__
from setdown.cli.terminal import say


def print_version() -> None:
    say(f"setdown {__version__}")


def version() -> None:
    """Print the version of this installation.

    \b
    Example:
      setdown version
    """
    print_version()
