"""``setdown publish``: everything that goes out of a routine."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from setdown.cli.load import load_routine
from setdown.cli.outcome import DONE, FINDINGS, UNUSABLE, describe_failure, format_failure
from setdown.cli.progress import iterate_files
from setdown.cli.terminal import say, warn
from setdown.errors import SetdownError

if TYPE_CHECKING:
    from setdown.model.routine import Routine
    from setdown.model.transcript import Transcript

OUTPUT_NAMES = "plan|page|sheet|chapters|captions|track|jsonld|figures|all"


def publish(
    files: Annotated[list[str], typer.Argument(metavar="ROUTINE...", help="Routines.", show_default=False)],
    wanted: Annotated[list[str] | None, typer.Option("--as", metavar=OUTPUT_NAMES, help="What to make.")] = None,
    output: Annotated[str, typer.Option("-o", "--output", metavar="FOLDER", help="Where to write.")] = ".",
    draft: Annotated[bool, typer.Option("--draft", help="Publish what nobody reviewed, marked as a draft.")] = False,
    units: Annotated[str, typer.Option(metavar="said|lb|kg|both", help="Units of the loads.")] = "said",
    detail: Annotated[str, typer.Option(metavar="short|full", help="How many cues and options a plan has.")] = "full",
    transcript: Annotated[
        str | None, typer.Option(metavar="FILE", help="The transcript, when it is not beside the routine.")
    ] = None,
    line_gap: Annotated[
        float, typer.Option(metavar="SECONDS", min=0, help="Chapter lines that come sooner are left out.")
    ] = 10.0,
    replace: Annotated[bool, typer.Option("--replace", help="Write over files that are there already.")] = False,
    lexicon: Annotated[list[str] | None, typer.Option(metavar="FILE", help="Movements of your own.")] = None,
) -> int:
    """Make what goes out of a routine: plan, web page, sheet, chapter marks, captions, linked data, figures.

    Everything is made unless --as names some of it (it may be given several times), figures only where Matplotlib is
    installed. The captions, and what the
    instructor advised for afterwards, come from the transcript: the file named in the routine, beside it.

    \b
    Examples:
      setdown publish class.routine.json -o out
      setdown publish class.routine.json --as plan --as page -o metric --units kg
      setdown publish class.routine.json --as captions --transcript class.vtt -o captions
    """
    from setdown.lexicon import load_lexicon
    from setdown.publish import OUTPUTS, PublishOptions

    options = PublishOptions(
        units=_choose("--units", units, ("said", "lb", "kg", "both")),
        detail=_choose("--detail", detail, ("short", "full")),
        line_gap_s=line_gap,
        draft=draft,
    )
    names = [part for name in wanted or ["all"] for part in name.split(",")]
    outputs = [_choose("--as", name, (*OUTPUTS, "all")) for name in names]
    if "all" in outputs:
        missing = _list_missing()
        outputs = [name for name in OUTPUTS if name not in missing or name in outputs]
    if transcript and len(files) > 1:
        raise SetdownError("--transcript is for one routine", hint="Put each transcript beside its routine")
    own = tuple(Path(file) for file in lexicon or ())
    words = load_lexicon(own)
    failed = 0
    for file in iterate_files(files):
        try:
            _publish_one(file, words, own, outputs, options, transcript, Path(output), replace)
        except (SetdownError, OSError) as error:
            failed += 1
            warn(format_failure(describe_failure(error, file)))
    return DONE if not failed else UNUSABLE if failed == len(files) else FINDINGS


def _publish_one(
    file: str,
    words: Any,
    own: tuple[Path, ...],
    outputs: list[str],
    options: Any,
    transcript: str | None,
    folder: Path,
    replace: bool,
) -> None:
    from setdown.files import write_file
    from setdown.publish import publish_routine
    from setdown.publish.outputs import name_routine

    routine = load_routine(file, own)
    spoken = find_transcript(routine, file, transcript)
    documents = publish_routine(routine, words, outputs, options, spoken, name_routine(routine, file))
    if folder.exists() and not folder.is_dir():
        raise SetdownError("this is a file", source=str(folder), expected="a folder")
    folder.mkdir(parents=True, exist_ok=True)
    for document in documents:
        done = write_file(folder / document.name, document.data, replace=replace)
        say(f"{folder / document.name}" + (" (unchanged)" if done == "unchanged" else ""))


def find_transcript(routine: Routine, file: str, named: str | None) -> Transcript | None:
    """The transcript that the routine was made from: the one named, or the one beside it if it is still the same.

    Raises:
        SetdownError: the named file is not the transcript of this routine, or cannot be read.
    """
    from setdown.read import read_transcript

    if named:
        path = Path(named)
    else:
        path = Path(file).parent / Path(routine.source.name).name
        if not path.is_file():
            return None
    read = read_transcript(path)
    if read.sha256 == routine.source.sha256:
        return read
    if named:
        problem = f"this is not the transcript that {Path(file).name} was made from"
        raise SetdownError(problem, source=named, expected=f"{routine.source.name} as it was then")
    warn(f"setdown: {path} has changed since the routine was made, so it was not used")
    return None


def _list_missing() -> tuple[str, ...]:
    """The outputs that this installation cannot make; a word to the user of how it could."""
    from importlib.util import find_spec

    if find_spec("matplotlib") is not None:
        return ()
    warn("setdown: no figures are made without Matplotlib")
    warn('  hint: pip install "setdown[figures]" brings it')
    return ("figures",)


def _choose(option: str, value: str, values: tuple[str, ...]) -> Any:
    if value not in values:
        raise SetdownError(f"{option} {value} is not known", expected=", ".join(values))
    return value
