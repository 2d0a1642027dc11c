"""Each sample has the routine that this version makes of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from setdown import extract
from setdown.check import check_document
from setdown.document import SUFFIX, format_routine
from setdown.read import FORMATS, read_transcript

SAMPLES = Path(__file__).parent.parent / "samples"
ENDINGS = (".vtt", ".srt", ".ttml", ".words.json", ".txt")
TRANSCRIPTS = sorted(p for p in SAMPLES.iterdir() if p.name.endswith(ENDINGS))
AGAIN = f"make them anew: setdown extract {' '.join('samples/*' + e for e in ENDINGS)} -o samples --replace"


def test_there_are_samples():
    """One at least in each format that is read, each with its routine and nothing left over."""
    assert {read_transcript(p).format for p in TRANSCRIPTS} == set(FORMATS)
    assert sorted(p.name.removesuffix(SUFFIX) for p in SAMPLES.glob("*" + SUFFIX)) == sorted(
        p.stem for p in TRANSCRIPTS
    )


@pytest.mark.parametrize("transcript", TRANSCRIPTS, ids=lambda p: p.name)
def test_the_routine_beside_a_sample_is_current(transcript):
    """Extracting the sample gives the bytes that lie beside it."""
    beside = transcript.with_name(transcript.stem + SUFFIX)
    assert format_routine(extract(transcript)) == beside.read_text(encoding="utf-8"), AGAIN


@pytest.mark.parametrize("transcript", TRANSCRIPTS, ids=lambda p: p.name)
def test_the_routine_of_a_sample_is_sound(transcript):
    """No finding but notes, with every quote compared."""
    text = transcript.with_name(transcript.stem + SUFFIX).read_text(encoding="utf-8")
    checked = check_document(text, transcript.name, lambda routine: read_transcript(transcript))
    assert checked.compared
    assert [f for f in checked.findings if f.severity != "note"] == []
