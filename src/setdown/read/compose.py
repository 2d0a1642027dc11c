"""From a file to a Transcript: the steps in their order, the same for every format."""

from __future__ import annotations

import hashlib
import sys
from dataclasses import replace
from pathlib import Path

from setdown.errors import SetdownError
from setdown.model.transcript import ClassInfo, Cue, Notice, Transcript
from setdown.read.artefacts import find_artefacts
from setdown.read.asides import find_asides, find_names, merge_asides
from setdown.read.base import MAX_BYTES, MAX_CHARACTERS, MAX_WORDS, RawCue, RawWord, refuse_excess
from setdown.read.cue_times import note_overlaps, repair_times
from setdown.read.decode import decode_text, too_large
from setdown.read.detect import choose_reader
from setdown.read.info import make_title, merge_info, read_sidecar
from setdown.read.language import judge_language
from setdown.read.rolling import unroll_captions
from setdown.read.timing import Spoken, place_words

STDIN = "<stdin>"


def read_transcript(path: str | Path, *, format: str | None = None, info: ClassInfo | None = None) -> Transcript:
    """Read a timed transcript from a file, or from standard input when ``path`` is ``-``.

    Args:
        path: the file. Beside it ``NAME.meta.toml`` is read when it is there (``info.py`` has its keys).
        format: one of ``FORMATS``; by default it is recognised by the content.
        info: what is known about the class; wins field by field over the file beside it.

    Raises:
        SetdownError: the file cannot be read or used; with source, line where one is to blame, and a hint.
    """
    if str(path) == "-":
        return parse_transcript(sys.stdin.buffer.read(MAX_BYTES + 1), name=STDIN, format=format, info=info)
    path = Path(path)
    try:
        size = path.stat().st_size
        if size > MAX_BYTES:
            raise too_large(size)
        with path.open("rb") as file:
            data = file.read(MAX_BYTES + 1)
        beside = read_sidecar(path)
        return _compose(data, path.name, format, merge_info(info, beside))
    except OSError as error:
        problem = f"cannot be read ({error.strerror or error})"
        raise SetdownError(problem, source=str(path), expected="a readable file") from error
    except ValueError as error:  # a path with a NUL in it
        raise SetdownError(f"cannot be read ({error})", source=repr(path), expected="a readable file") from error
    except SetdownError as error:
        error.source = error.source or str(path)
        raise


def parse_transcript(data: bytes, *, name: str, format: str | None = None, info: ClassInfo | None = None) -> Transcript:
    """The same from bytes. ``name`` stands in for the file's name (title, errors); no file beside it is looked for."""
    try:
        return _compose(data, name, format, info or ClassInfo())
    except SetdownError as error:
        error.source = error.source or name
        raise


def _compose(data: bytes, name: str, format: str | None, info: ClassInfo) -> Transcript:
    text, notices = decode_text(data)
    reader = choose_reader(text, format)
    reading = reader.read(text)
    del text
    raw = [cue for cue in reading.cues if cue.text and not cue.text.isspace()]
    _refuse_excess(raw)
    raw, repaired = repair_times(raw)
    if reading.rolls:
        raw = unroll_captions(raw)
    notices += [*reading.notices, *repaired, *note_overlaps(raw)]
    spoken, cues = _build_cues(raw)
    left_out = sum(aside.kind == "artefact" for cue in cues for aside in cue.asides)
    if left_out:
        notices.append(Notice("artefacts", f"{left_out} line(s) or phrase(s) that nobody said were left out"))
    words, timing, resolution = place_words(spoken)
    if not words:
        raise SetdownError(
            "there is no speech in the file",
            expected="captions with words",
            hint="Sounds such as [Music] are not speech." if cues else "",
        )
    language, message = judge_language([word.text for word in words], reading.language)
    if message:
        notices.append(Notice("not-english", message))
    if not info.title:
        info = replace(info, title=reading.title or make_title(name))
    return Transcript(
        name=Path(name).name or name,
        format=reader.name,
        sha256=hashlib.sha256(data).hexdigest(),
        size=len(data),
        cues=tuple(cues),
        words=words,
        timing=timing,
        resolution=resolution,
        language=language,
        info=info,
        notices=tuple(notices),
    )


def _refuse_excess(raw: list[RawCue]) -> None:
    characters = sum(len(cue.text) for cue in raw)
    refuse_excess(characters, MAX_CHARACTERS, "characters of speech")
    if characters > MAX_WORDS:
        refuse_excess(sum(len(cue.text.split()) for cue in raw), MAX_WORDS, "words")


def _build_cues(raw: list[RawCue]) -> tuple[list[Spoken], list[Cue]]:
    names = find_names(cue.text for cue in raw)
    capitals = not any(any(c.islower() for c in cue.text) for cue in raw)
    spoken: list[Spoken] = []
    cues: list[Cue] = []
    raw = [_trim(cue) for cue in raw]
    artefacts = find_artefacts(raw)
    for index, cue in enumerate(raw):
        asides, speaker = find_asides(cue.text, names, capitals=capitals)
        if index in artefacts:
            asides = merge_asides(artefacts[index], asides)
        text = cue.text
        if "\n" in text:  # lines become one: the characters keep their places
            text = text.replace("\n", " ")
            cue = cue._replace(text=text)
        end = cue.start if cue.end is None else cue.end
        spoken.append(Spoken(cue, end, asides))
        cues.append(Cue(index, cue.start, end, text, cue.line, cue.identifier, cue.speaker or speaker, asides))
    return spoken, cues


def _trim(cue: RawCue) -> RawCue:
    """Without space around the text; offsets move along."""
    text = cue.text.strip()
    if len(text) == len(cue.text):
        return cue
    cut = len(cue.text) - len(cue.text.lstrip())
    marks = tuple((max(at - cut, 0), ms) for at, ms in cue.marks)
    words = tuple(RawWord(w.char_start - cut, w.char_end - cut, w.start, w.end, w.probability) for w in cue.words)
    return cue._replace(text=text, marks=marks, words=words)
