"""Exit codes, and how a failure becomes a message instead of a traceback."""

from __future__ import annotations

import contextlib
import functools
import os
import sys
from collections.abc import Callable
from typing import ParamSpec

from setdown.cli.remedies import suggest_step
from setdown.cli.terminal import flush_output, warn
from setdown.errors import SetdownError

DONE = 0
FINDINGS = 1
UNUSABLE = 2
STOPPED = 130  # as a shell reports a program ended by Ctrl-C
READER_LEFT = 141  # as a shell reports a program whose output nobody reads any more

P = ParamSpec("P")


def guard(command: Callable[P, int | None]) -> Callable[P, int]:
    """The same command, which returns an exit code whatever happens. SETDOWN_TRACEBACK=1 lets defects through."""

    @functools.wraps(command)
    def run(*args: P.args, **kwargs: P.kwargs) -> int:
        try:
            code = command(*args, **kwargs) or DONE
            flush_output()
        except KeyboardInterrupt:
            warn("setdown: stopped")
            return STOPPED
        except BrokenPipeError:
            _forget_output()
            return READER_LEFT
        except (SetdownError, OSError) as error:
            warn(format_failure(describe_failure(error)))
            return UNUSABLE
        except Exception as error:
            if os.environ.get("SETDOWN_TRACEBACK") or hasattr(error, "format_message"):
                raise
            warn(format_failure(describe_failure(error)))
            return UNUSABLE
        return code

    return run


def describe_failure(error: Exception, source: str = "") -> SetdownError:
    """Any failure in the form in which it is shown and handed between processes."""
    if isinstance(error, SetdownError):
        error.source = error.source or source
        if isinstance(error.__cause__, OSError):
            error.hint = error.hint or suggest_step(error.__cause__, error.source)
        return error
    if isinstance(error, OSError):
        reason = (error.strerror or str(error)).rstrip(".")
        where = str(error.filename or source)
        return SetdownError(reason[:1].lower() + reason[1:], source=where, hint=suggest_step(error, where))
    problem = f"a defect of setdown ({type(error).__name__}: {error})"
    return SetdownError(problem, source=source, hint="SETDOWN_TRACEBACK=1 shows where; please report it")


def format_failure(error: SetdownError) -> str:
    """``setdown: class.vtt:12: problem``, then what was expected and what to do, each on a line of its own."""
    where = error.source + (f":{error.line}" if error.line is not None else "")
    lines = [f"setdown: {where}: {error.problem}" if where else f"setdown: {error.problem}"]
    if error.expected:
        lines.append(f"  expected: {error.expected}")
    if error.hint:
        lines.append(f"  hint: {error.hint}")
    return "\n".join(lines)


def _forget_output() -> None:
    """Point standard output at nothing, or Python complains at exit that it could not flush it."""
    with contextlib.suppress(OSError, ValueError, AttributeError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
