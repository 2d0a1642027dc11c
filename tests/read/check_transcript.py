"""What must hold of every transcript, whatever it was read from."""

from __future__ import annotations

from setdown.model.transcript import Transcript


def check_transcript(transcript: Transcript) -> None:
    """Words and asides are the cue's characters, cover all but spaces once, and run forward in time."""
    last = 0
    for index, cue in enumerate(transcript.cues):
        assert cue.index == index
        assert last <= cue.start <= cue.end
        assert cue.text == cue.text.strip() != ""
        assert "\n" not in cue.text
        last = cue.start
    covered = [bytearray(len(cue.text)) for cue in transcript.cues]
    last = 0
    for word in transcript.words:
        assert word.text
        assert not any(c.isspace() for c in word.text)
        assert transcript.cues[word.cue].text[word.char_start : word.char_end] == word.text
        assert last <= word.start <= word.end
        assert word.probability is None or 0 <= word.probability <= 1
        last = word.start
        assert not any(covered[word.cue][word.char_start : word.char_end])
        covered[word.cue][word.char_start : word.char_end] = b"\1" * len(word.text)
    for cue in transcript.cues:
        for aside in cue.asides:
            assert aside.kind in ("speaker", "sound", "artefact")
            assert cue.text[aside.char_start : aside.char_end] == aside.text != ""
            assert not any(covered[cue.index][aside.char_start : aside.char_end])
            covered[cue.index][aside.char_start : aside.char_end] = b"\1" * len(aside.text)
        left = "".join(c for c, seen in zip(cue.text, covered[cue.index], strict=True) if not seen)
        assert not left.strip()
    assert transcript.timing in ("word", "cue")
    assert transcript.words
    assert transcript.resolution >= 0


def list_words(transcript: Transcript) -> list[str]:
    """The spoken words in order."""
    return [word.text for word in transcript.words]


def list_starts(transcript: Transcript) -> list[tuple[str, int]]:
    """The spoken words with their starts in ms."""
    return [(word.text, word.start) for word in transcript.words]


def list_codes(transcript: Transcript) -> list[str]:
    """The codes of the notices."""
    return [notice.code for notice in transcript.notices]
