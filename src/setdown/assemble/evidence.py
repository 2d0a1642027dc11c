"""Every value points at its words: mentions turned into quotes of the captions."""

from __future__ import annotations

from setdown.model.mention import Mention
from setdown.model.routine import Evidence
from setdown.model.transcript import Transcript


def to_seconds(ms: int) -> float:
    """Milliseconds as seconds with three decimals."""
    return round(ms / 1000, 3)


def quote_words(transcript: Transcript, start: int, end: int, rule: str = "") -> list[Evidence]:
    """Words ``[start, end)`` as quotes, one per caption they lie in; empty for an empty range."""
    found: list[Evidence] = []
    words = transcript.words
    at = start
    while at < min(end, len(words)):
        first = last = words[at]
        while at < min(end, len(words)) and words[at].cue == first.cue:
            last = words[at]
            at += 1
        text = transcript.cues[first.cue].text[first.char_start : last.char_end]
        found.append(
            Evidence(
                cue=first.cue,
                char_start=first.char_start,
                char_end=last.char_end,
                quote=text,
                at=to_seconds(first.start),
                rule=rule,
            )
        )
    return found


def quote_mentions(transcript: Transcript, mentions: list[Mention], most: int = 3) -> list[Evidence]:
    """The first ``most`` mentions as quotes, in the order given (what speaks loudest first)."""
    return [e for m in mentions[:most] for e in quote_words(transcript, m.start, m.end, m.rule)]
