"""``setdown explain``: why does the routine say what it says at this moment?"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from setdown.cli.terminal import say
from setdown.errors import SetdownError

if TYPE_CHECKING:
    from setdown.model.transcript import Transcript


def explain(
    file: Annotated[str, typer.Argument(metavar="FILE", help="A transcript.")],
    at: Annotated[str, typer.Option(metavar="TIME", help="The moment: 12:40, 1:02:33 or seconds.")],
    format: Annotated[str | None, typer.Option(metavar="NAME", help="Format of the transcript.")] = None,
    lexicon: Annotated[
        list[str] | None,
        typer.Option(metavar="FILE", help="Movements of your own; may be given several times."),
    ] = None,
) -> None:
    """Show what was said around a moment, what was recognised in it, and the set that came of it.

    Each mention names the rule that made it, so that a wrong value leads to the place to mend.

    \b
    Example:
      setdown explain class.vtt --at 1:55
    """
    moment = parse_moment(at)
    from setdown.cli.explain_text import render_explanation
    from setdown.lexicon import load_lexicon
    from setdown.pipeline import explain_moment
    from setdown.read import read_transcript

    transcript = read_transcript(file, format=format)
    _refuse_outside(transcript, moment)
    explanation = explain_moment(transcript, moment, load_lexicon([Path(own) for own in lexicon or ()]))
    for line in render_explanation(explanation, transcript, moment):
        say(line)


def parse_moment(text: str) -> int:
    """``12:40`` -> ms.

    Raises:
        SetdownError: not a time.
    """
    from setdown.model.timecode import parse_clock

    try:
        return parse_clock(text)
    except (ValueError, OverflowError) as error:
        raise SetdownError(f"--at {text} is no time", expected="12:40, 1:02:33 or seconds") from error


def _refuse_outside(transcript: Transcript, moment: int) -> None:
    from setdown.model.timecode import format_clock

    if moment > transcript.duration:
        problem = f"{format_clock(moment)} is after the end of the transcript"
        raise SetdownError(problem, source=transcript.name, expected=f"at most {format_clock(transcript.duration)}")
