"""The story of Setdown, in order: a transcript is read, tagged, cut into work and talk, assembled, and checked.

read_transcript ─▶ tag_transcript ─▶ segment_mentions ─▶ assemble_routine (raise_queries inside)
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from setdown.assemble import assemble_routine
from setdown.explain import Explanation, explain_moment
from setdown.lexicon import Lexicon, load_lexicon
from setdown.model.routine import Routine
from setdown.model.segment import Segmentation
from setdown.model.transcript import ClassInfo, Transcript
from setdown.read import read_transcript
from setdown.segment import segment_mentions
from setdown.tag import tag_transcript

__all__ = ["Explanation", "explain_moment", "extract", "extract_transcript", "is_english"]


NOT_A_CLASS = (
    "not-a-class: this does not sound like an exercise class, so no sets were taken from it. "
    "If it is one, check that the whole class is in the transcript"
)


def extract(
    path: str | Path,
    *,
    format: str | None = None,
    info: ClassInfo | None = None,
    lexicon_files: Sequence[str | Path] = (),
) -> Routine:
    """The routine of one class.

    Args:
        path: a timed transcript in any of ``setdown.read.FORMATS``; ``-`` is standard input.
        format: one of ``setdown.read.FORMATS``; found from the content when not given.
        info: title, instructor and so on; what is empty comes from ``NAME.meta.toml`` or the file's name.
        lexicon_files: a coach's own lexicon files, on top of the shipped lexicon.

    Raises:
        SetdownError: the transcript or a lexicon file cannot be read or used.
    """
    lexicon = load_lexicon([Path(p) for p in lexicon_files])
    return extract_transcript(read_transcript(path, format=format, info=info), lexicon)


def extract_transcript(transcript: Transcript, lexicon: Lexicon) -> Routine:
    """The routine of a transcript that is read already. The same transcript and lexicon give the same routine."""
    tagged = tag_transcript(transcript, lexicon)
    segmentation = segment_mentions(tagged) if is_english(transcript) else Segmentation(())
    routine = assemble_routine(tagged, segmentation, lexicon)
    if not segmentation.is_class:
        routine.notices.append(NOT_A_CLASS)
    return routine


def is_english(transcript: Transcript) -> bool:
    """Whether the speech is English, so that its words can be understood at all."""
    return all(notice.code != "not-english" for notice in transcript.notices)
