"""Running the command, shared with the tests of the command line."""

from cli.conftest import routine_file, run, run_apart, vtt

__all__ = ["routine_file", "run", "run_apart", "vtt"]
