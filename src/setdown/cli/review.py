"""``setdown review``: the page on which a routine is read through, corrected and signed off."""

from __future__ import annotations

import getpass
import threading
import webbrowser
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from setdown.cli.outcome import describe_failure, format_failure
from setdown.cli.terminal import say, warn
from setdown.errors import SetdownError

if TYPE_CHECKING:
    from setdown.model.routine import Routine
    from setdown.model.transcript import Transcript


def review(
    file: Annotated[str, typer.Argument(metavar="ROUTINE", help="The routine to review.", show_default=False)],
    media: Annotated[str | None, typer.Option(metavar="FILE", help="The recording, video or audio.")] = None,
    transcript: Annotated[
        str | None, typer.Option(metavar="FILE", help="The transcript, when it is not beside its routine.")
    ] = None,
    by: Annotated[str | None, typer.Option(metavar="NAME", help="Who reviews (default: your name here).")] = None,
    lexicon: Annotated[list[str] | None, typer.Option(metavar="FILE", help="Movements of your own.")] = None,
    port: Annotated[int, typer.Option(min=0, max=65535, help="The port; 0 takes any that is free.")] = 0,
    no_open: Annotated[bool, typer.Option("--no-open", help="Print the address, but do not open a browser.")] = False,
) -> None:
    """Serve the review page of a routine on this machine, and open it in the browser. Ctrl-C ends it.

    Only this machine can reach the page, and only with the address that is printed: it holds a key for this run. Edits
    are on disk as soon as they are made; what was not saved is offered again the next time. With --media FILE the
    recording plays beside the words.

    \b
    Examples:
      setdown review class.routine.json
      setdown review class.routine.json --by "Oda Fenwright" --no-open
    """
    from setdown.page.app import make_app
    from setdown.page.desk import Desk
    from setdown.page.media import find_recording
    from setdown.page.serve import make_address, open_socket, run_server

    if not file.lower().endswith(".json"):
        hint = f"setdown extract {file} makes one" if Path(file).is_file() else ""
        raise SetdownError("this is not a routine file", source=file, expected="a .json file", hint=hint)
    recording = find_recording(media) if media else None
    path = Path(file)
    desk = Desk(
        path,
        by=(by or _find_name()).strip()[:200] or "reviewer",
        lexicon_files=tuple(Path(own) for own in lexicon or ()),
        find_transcript=lambda routine: find_words(path, routine, transcript),
    )
    listener = open_socket(port)
    address = make_address(listener)
    app = make_app(desk, key=address.key, hosts=address.hosts, recording=recording, ticket=address.ticket)

    def open_page() -> None:
        say(f"Reviewing {file} as {desk.by}. Ctrl-C ends it.")
        say(address.url)
        threading.Thread(target=desk.warm_up, daemon=True).start()
        if not no_open:
            webbrowser.open(address.once)

    try:
        run_server(app, listener, open_page)
    finally:
        listener.close()
        desk.close()


def find_words(path: Path, routine: Routine, named: str | None) -> Transcript | None:
    """The transcript that was named, or the one beside the routine; a word to the user when the quotes will not fit."""
    from setdown.check import find_transcript
    from setdown.read import read_transcript

    file = named or find_transcript(path, routine)
    if file is None:
        warn(f"setdown: {routine.source.name} is not beside the routine as it was; the page shows no transcript")
        warn("  hint: name it with --transcript")
        return None
    try:
        found = read_transcript(file)
    except (SetdownError, OSError) as error:
        if named:
            raise
        warn(format_failure(describe_failure(error, str(file))))
        return None
    if found.sha256 != routine.source.sha256:
        problem = "the routine was made from other bytes than this transcript"
        raise SetdownError(problem, source=str(file), hint="Extract it again, and merge the edits")
    return found


def _find_name() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):  # a machine where this user has no name
        return "reviewer"
