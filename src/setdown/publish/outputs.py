"""Everything that can be published of one routine, by name: each output is a function to one or more documents."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import PurePath

from setdown.document import SUFFIX
from setdown.errors import SetdownError
from setdown.lexicon import Lexicon
from setdown.measure import Measures, measure_routine
from setdown.model.routine import Routine
from setdown.model.transcript import Transcript
from setdown.publish.captions import format_captions_srt, format_captions_vtt, format_changes, repair_captions
from setdown.publish.chapters import format_chapter_lines, format_chapters_vtt
from setdown.publish.fixed_text import load_strings
from setdown.publish.inert import dump_json_script, make_file_stem
from setdown.publish.jsonld import build_jsonld
from setdown.publish.markdown import format_plan_markdown
from setdown.publish.options import PublishOptions
from setdown.publish.page import format_plan_page
from setdown.publish.plan import build_plan
from setdown.publish.plan_parts import Plan
from setdown.publish.reading import format_reading, read_captions
from setdown.publish.track import format_track_vtt
from setdown.sheet import format_sheet_csv, routine_to_rows


@dataclass(frozen=True, slots=True)
class Document:
    """One file to write: its name, without a folder, and its bytes."""

    name: str
    data: bytes


class Publication:
    """One routine with all that its outputs share, made when first asked for."""

    def __init__(
        self, routine: Routine, lexicon: Lexicon, options: PublishOptions, transcript: Transcript | None, stem: str
    ) -> None:
        self.routine = routine
        self.lexicon = lexicon
        self.options = options
        self.transcript = transcript
        self.stem = make_file_stem(stem) + (".draft" if routine.status == "draft" else "")

    @cached_property
    def measures(self) -> Measures:
        """What the routine amounts to."""
        return measure_routine(self.routine, lexicon=self.lexicon)

    @cached_property
    def plan(self) -> Plan:
        """The written plan."""
        return build_plan(self.routine, self.lexicon, self.options, self.transcript, self.measures)

    def name(self, ending: str, text: str) -> Document:
        """A document of text with the routine's name."""
        return Document(f"{self.stem}.{ending}", text.encode("utf-8"))


def publish_routine(
    routine: Routine,
    lexicon: Lexicon,
    outputs: Sequence[str],
    options: PublishOptions | None = None,
    transcript: Transcript | None = None,
    stem: str = "",
) -> list[Document]:
    """The documents of the wanted ``outputs`` (names in ``OUTPUTS``), in that order.

    ``stem`` is what their names begin with: the name of the transcript when it is not given.

    Raises:
        SetdownError: the routine is a draft and ``options.draft`` is not set, an output is not known, or the captions
            are wanted and there is no transcript.
    """
    options = options or PublishOptions()
    if routine.status == "draft" and not options.draft:
        hint = "Review it first; --draft publishes it all the same, marked as a draft"
        raise SetdownError("this routine is a draft that nobody has reviewed", hint=hint)
    publication = Publication(routine, lexicon, options, transcript, stem or name_routine(routine))
    documents = []
    for name in dict.fromkeys(outputs):
        if name not in OUTPUTS:
            raise SetdownError(f"no output is called {name!r}", expected=", ".join(OUTPUTS))
        documents += OUTPUTS[name](publication)
    return documents


def name_routine(routine: Routine, path: str = "") -> str:
    """What the documents of a routine are called after: its file, else its transcript, else its title."""
    name = PurePath(path or routine.source.name).name
    stem = name.removesuffix(SUFFIX) if name.endswith(SUFFIX) else name.rpartition(".")[0] or name
    return stem if not stem.startswith("<") and stem else routine.title


def _plan(publication: Publication) -> list[Document]:
    return [publication.name("plan.md", format_plan_markdown(publication.plan))]


def _page(publication: Publication) -> list[Document]:
    linked = build_jsonld(publication.routine, publication.plan, publication.measures, publication.lexicon)
    return [publication.name("plan.html", format_plan_page(publication.plan, linked))]


def _sheet(publication: Publication) -> list[Document]:
    return [publication.name("sheet.csv", format_sheet_csv(routine_to_rows(publication.routine)))]


def _chapters(publication: Publication) -> list[Document]:
    routine = publication.routine
    return [
        publication.name("chapters.vtt", format_chapters_vtt(routine)),
        publication.name("chapters.txt", format_chapter_lines(routine, publication.options.line_gap_s)),
    ]


def _captions(publication: Publication) -> list[Document]:
    transcript, routine = publication.transcript, publication.routine
    if transcript is None:
        problem = f"the captions need the transcript {routine.source.name}"
        raise SetdownError(problem, hint="Put it beside the routine, or name it with --transcript")
    cues, changes = repair_captions(transcript, publication.lexicon, routine)
    report = format_reading(read_captions(cues), load_strings(routine.language))
    return [
        publication.name("captions.vtt", format_captions_vtt(cues, routine)),
        publication.name("captions.srt", format_captions_srt(cues)),
        publication.name("captions.changes.csv", format_changes(changes, routine)),
        publication.name("captions.reading.txt", report),
    ]


def _track(publication: Publication) -> list[Document]:
    return [publication.name("sets.vtt", format_track_vtt(publication.routine))]


def _jsonld(publication: Publication) -> list[Document]:
    linked = build_jsonld(publication.routine, publication.plan, publication.measures, publication.lexicon)
    return [publication.name("jsonld", dump_json_script(linked) + "\n")]


def _figures(publication: Publication) -> list[Document]:
    from setdown.publish.figures import draw_figures

    return draw_figures(publication)


OUTPUTS: dict[str, Callable[[Publication], list[Document]]] = {
    "plan": _plan,
    "page": _page,
    "sheet": _sheet,
    "chapters": _chapters,
    "captions": _captions,
    "track": _track,
    "jsonld": _jsonld,
    "figures": _figures,
}
