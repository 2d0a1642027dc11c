"""Which classes are in a folder: the files that belong to one class, found by their names.

The files of a class share a folder and a name up to their endings: ``monday.vtt``, ``monday.srt``, ``monday.meta.toml``
and ``monday.routine.json`` are one class. Of several transcripts the one that says most about times is read; what the
``publish`` command makes, and files whose names start with a dot, are no classes.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from setdown.catalogue.places import Place, is_file, list_files
from setdown.document import SUFFIX
from setdown.read.info import strip_endings

META = ".meta.toml"
# What a file's ending promises. A file of the second kind may well be something else.
SURE = (".vtt", ".srt", ".ttml", ".dfxp", ".itt", ".words.json")
UNSURE = (".json", ".xml", ".txt", ".text", ".md", ".markdown")
# What setdown publish writes beside a routine.
PUBLISHED = (
    ".plan.md",
    ".chapters.vtt",
    ".chapters.txt",
    ".captions.vtt",
    ".captions.srt",
    ".captions.reading.txt",
    ".sets.vtt",
)
# Those with a time for each word first, then captions of a few seconds, then blocks.
RANKS = (
    ".words.json",
    ".rolling.vtt",
    ".vtt",
    ".srt",
    ".ttml",
    ".dfxp",
    ".itt",
    ".xml",
    ".json",
    ".txt",
    ".text",
    ".md",
    ".markdown",
)


@dataclass(frozen=True, slots=True)
class ClassFiles:
    """The files of one class. ``location`` names it; the others are paths or addresses, empty where there is none.

    ``sure`` says that the transcript's ending promises a transcript. ``others`` are further transcripts of the class.
    """

    location: str
    transcript: str = ""
    meta: str = ""
    routine: str = ""
    sure: bool = True
    others: tuple[str, ...] = field(default=())


def find_classes_in(roots: Sequence[Place]) -> Iterator[ClassFiles]:
    """The classes in folders (recursively) and of single files, each once, in the order of their locations.

    Raises:
        SetdownError: a root does not exist, or a place needs a library that is not installed.
        OSError: a folder cannot be read.
    """
    stems: dict[str, list[str]] = {}
    for root in roots:
        only = locate(root) if is_file(root) else ""  # a file stands for its whole class
        for path in list_files(root):
            if is_of_a_class(path.rpartition("/")[2]) and (not only or locate(path) == only):
                stems.setdefault(locate(path), []).append(path)
    for location in sorted(stems):
        files = _gather(location, sorted(set(stems[location])))
        if files.transcript or files.routine:
            yield files


def is_of_a_class(name: str) -> bool:
    """Whether a file of this name can belong to a class."""
    low = name.lower()
    if low.startswith(".") or low.endswith(PUBLISHED):
        return False
    return low.endswith((SUFFIX, META, *SURE, *UNSURE))


def locate(path: str) -> str:
    """The name of the class that a file belongs to: its folder and what its name begins with."""
    folder, slash, name = path.rpartition("/")
    low = name.lower()
    if low.endswith(SUFFIX):
        stem = strip_endings(name[: -len(SUFFIX)] + ".vtt")
    elif low.endswith(META):
        stem = strip_endings(name[: -len(META)] + ".vtt")
    else:
        stem = strip_endings(name)
    return f"{folder}{slash}{stem}"


def _gather(location: str, paths: Iterable[str]) -> ClassFiles:
    routines: list[str] = []
    metas: list[str] = []
    transcripts: list[str] = []
    for path in paths:
        low = path.lower()
        (routines if low.endswith(SUFFIX) else metas if low.endswith(META) else transcripts).append(path)
    transcripts.sort(key=lambda path: (rank_transcript(path), path))
    chosen = transcripts[0] if transcripts else ""
    return ClassFiles(
        location=location,
        transcript=chosen,
        meta=metas[0] if metas else "",
        routine=_choose_routine(routines, chosen),
        sure=chosen.lower().endswith(SURE),
        others=tuple(transcripts[1:]),
    )


def rank_transcript(path: str) -> int:
    """How early a transcript is chosen among several of one class: the lower the sooner."""
    low = path.lower()
    return next((rank for rank, ending in enumerate(RANKS) if low.endswith(ending)), len(RANKS))


def _choose_routine(routines: Sequence[str], transcript: str) -> str:
    """The one named after the transcript, else the first."""
    stem = transcript.rpartition(".")[0]
    named = [path for path in routines if path[: -len(SUFFIX)] == stem]
    return (named or list(routines) or [""])[0]
