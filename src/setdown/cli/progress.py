"""A progress bar on standard error, for a person who watches."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager


def iterate_files(files: Sequence[str]) -> Iterator[str]:
    """The files one after another, with a progress bar over them when there are several."""
    with show_progress(len(files), wanted=len(files) > 1) as advance:
        for file in files:
            yield file
            advance(file.rpartition("/")[2])


@contextmanager
def show_progress(total: int, wanted: bool, rate: str = "") -> Iterator[Callable[[str], None]]:
    """Give a function to call with the name of each finished file; it does nothing where nobody watches.

    ``rate`` is what is counted, to show how many of them are done in a second.
    """
    if not wanted or not sys.stderr.isatty():
        yield lambda name: None
        return
    from rich.console import Console
    from rich.markup import escape
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, Task, TextColumn, TimeRemainingColumn
    from rich.text import Text

    class Rate(TextColumn):
        """How many are done in a second, of late."""

        def render(self, task: Task) -> Text:
            speed = task.finished_speed or task.speed  # None until two are done
            return Text("" if speed is None else f"{speed:.1f} {rate}/s", style="progress.data.speed")

    speed = [Rate("")] if rate else []
    columns = (BarColumn(), MofNCompleteColumn(), *speed, TimeRemainingColumn(), TextColumn("{task.description}"))
    # Lines on a terminal must pass the bar; those for a pipe or file must not be taken away from it.
    bar = Progress(
        *columns,
        console=Console(stderr=True),
        transient=True,
        redirect_stdout=sys.stdout.isatty(),
        redirect_stderr=True,
    )
    with bar:
        task = bar.add_task("", total=total)
        yield lambda name: bar.update(task, advance=1, description=escape(name))
