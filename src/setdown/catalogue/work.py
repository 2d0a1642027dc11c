"""The work on one class, done in whatever process or machine is free: read its files, extract, describe.

Files are read once, here, and what is hashed is what is used. Nothing is printed or written: the answer travels back.
"""

from __future__ import annotations

import hashlib
import tempfile
import time
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from setdown import __version__
from setdown.catalogue.describe import describe_class
from setdown.catalogue.entry import Indexed
from setdown.catalogue.places import read_place
from setdown.catalogue.sources import ClassFiles
from setdown.check import parse_routine
from setdown.errors import SetdownError
from setdown.lexicon import Lexicon, load_lexicon
from setdown.model.routine import Routine
from setdown.model.transcript import ClassInfo, Transcript
from setdown.pipeline import extract_transcript
from setdown.read import parse_transcript
from setdown.read.info import parse_sidecar

OwnLexicon = tuple[str, bytes]  # name and bytes of a coach's own lexicon file: the other machine may not have it


@dataclass(frozen=True, slots=True)
class Job:
    """One class to look at. ``known`` is the fingerprint that the catalogue has, empty for a new class.

    ``lexicon`` is the fingerprint of the lexicon that all machines must have.
    """

    files: ClassFiles
    known: str
    lexicon: str
    own: tuple[OwnLexicon, ...] = ()


@dataclass(frozen=True, slots=True)
class _Bytes:
    transcript: bytes | None
    meta: bytes | None
    routine: bytes | None

    def fingerprint(self) -> str:
        """SHA-256 over the parts and which of them there are."""
        digest = hashlib.sha256()
        for part in (self.transcript, self.meta, self.routine):
            digest.update(b"-" if part is None else b"+" + hashlib.sha256(part).digest())
        return digest.hexdigest()


def index_class(job: Job) -> Indexed:
    """Look at one class: unchanged, an entry for the catalogue, or an error. Never raises for what is in the files."""
    start = time.perf_counter()
    try:
        return _index(job, start)
    except SetdownError as error:
        error.source = error.source or job.files.transcript or job.files.routine
        return Indexed(job.files.location, error=error, seconds=time.perf_counter() - start)
    except OSError as error:
        source = str(error.filename or job.files.transcript or job.files.routine)
        problem = (error.strerror or str(error)).rstrip(".").lower()
        return Indexed(job.files.location, error=SetdownError(problem, source=source))
    except Exception as error:  # a defect costs one class, not the other nine thousand
        problem = f"a defect of setdown ({type(error).__name__}: {error})"
        return Indexed(
            job.files.location, error=SetdownError(problem, source=job.files.transcript or job.files.routine)
        )


def _index(job: Job, start: float) -> Indexed:
    files = job.files
    read = _Bytes(*(read_place(place) if place else None for place in (files.transcript, files.meta, files.routine)))
    fingerprint = read.fingerprint()
    if fingerprint == job.known:
        return Indexed(files.location, seconds=time.perf_counter() - start)
    lexicon = load_own(job.own)
    if lexicon.fingerprint != job.lexicon:
        problem = f"this worker has another lexicon ({lexicon.fingerprint}, not {job.lexicon})"
        raise SetdownError(problem, hint="Install the same version of setdown on every machine")
    begin = time.perf_counter()
    transcript = None
    if read.transcript is not None:
        info = parse_sidecar(read.meta, files.meta) if read.meta is not None else ClassInfo()
        try:
            transcript = parse_transcript(read.transcript, name=name_of(files.transcript), info=info)
        except SetdownError as error:
            error.source = files.transcript  # with its folder: many a folder may have this name
            if files.sure:
                raise
            if read.routine is None:  # any text or JSON may lie in a folder
                return Indexed(files.location, error=error, passed_over=True, seconds=time.perf_counter() - start)
    written = read_routine(read.routine, files.routine) if read.routine is not None else None
    routine, notices = choose_routine(written, transcript, lexicon)
    extraction = time.perf_counter() - begin
    used = ClassFiles(
        files.location, files.transcript if transcript else "", files.meta, files.routine if routine is written else ""
    )
    entry = describe_class(routine, transcript, used, fingerprint, lexicon, __version__, notices)
    return Indexed(files.location, entry, seconds=time.perf_counter() - start, extraction_s=extraction)


def choose_routine(
    written: Routine | None, transcript: Transcript | None, lexicon: Lexicon
) -> tuple[Routine, tuple[str, ...]]:
    """The routine that counts, and what the user should know about it.

    What a person reviewed or edited goes before extraction; a draft that nobody touched does not, unless there is no
    transcript or the very same extraction made it.
    """
    if written is None:
        assert transcript is not None  # a class has one or the other
        return extract_transcript(transcript, lexicon), ()
    if transcript is None:
        return written, ()
    if written.status != "draft" or is_edited(written):
        same = written.source.sha256 == transcript.sha256
        return written, () if same else ("the transcript has changed since this routine was reviewed",)
    made = (written.made_by.version, written.made_by.lexicon, written.source.sha256)
    if made == (__version__, lexicon.fingerprint, transcript.sha256) and _told_alike(written, transcript):
        return written, ()
    return extract_transcript(transcript, lexicon), ()


def is_edited(routine: Routine) -> bool:
    """Whether a person has put in a value of their own."""
    return any("edited" in one.origin.values() for _, _, one in routine.iter_sets())


def read_routine(data: bytes, source: str) -> Routine:
    """A routine from the bytes of its file.

    Raises:
        SetdownError: not a routine, with the line and what is wrong.
    """
    try:
        return Routine.model_validate_json(data, strict=True)
    except ValueError:  # told apart by the slower reading, which knows lines; it may also put up with more
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            raise SetdownError("the text is not UTF-8", source=source, expected="a UTF-8 file") from error
        return parse_routine(text, source)


def name_of(place: str) -> str:
    """The file's own name."""
    return place.rpartition("/")[2]


@lru_cache(maxsize=4)
def load_own(own: tuple[OwnLexicon, ...]) -> Lexicon:
    """The lexicon with a coach's own files on top, given as bytes; kept, so that a worker loads it once."""
    if not own:
        return load_lexicon()
    with tempfile.TemporaryDirectory() as folder:
        paths = []
        for number, (name, data) in enumerate(own):
            path = Path(folder) / f"{number}" / Path(name).name
            path.parent.mkdir()
            path.write_bytes(data)
            paths.append(path)
        return load_lexicon(paths)


def _told_alike(written: Routine, transcript: Transcript) -> bool:
    """Whether title, instructor and the rest are still what the routine was made with."""
    info, source = transcript.info, written.source
    told = (written.title, source.instructor, source.date, source.media, tuple(source.tags))
    return told == (info.title, info.instructor, info.date, info.media, info.tags)
