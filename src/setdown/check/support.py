"""Support: every value says where it comes from, and the words it quotes are really in the transcript."""

from __future__ import annotations

from setdown.check.finding import Finding, Path, format_path
from setdown.check.walk import walk_evidence, walk_sets
from setdown.model.routine import Evidence, Routine, Set
from setdown.model.transcript import Cue, Transcript, Word

# Fields of a set that are values somebody may ask about; times and ids are not.
VALUES = ("exercise", "side", "reps", "work_s", "load", "tempo", "effort", "finisher")
QUOTED = ("said", "carried", "declared")  # origins that rest on words
FIELDS = frozenset(Set.model_fields) | {"basis", "span", "row"}  # of a load; begin and end; the set as a whole
SLACK_MS = 1  # times are written with three decimals


def check_support(routine: Routine) -> list[Finding]:
    """Values without origin or confidence, words that are missing, and notes on fields that no set has."""
    found = []
    for path, _, _, one in walk_sets(routine):
        for field in VALUES:
            if getattr(one, field) is not None:
                found += _check_value(one, field, path)
        for kind, keys in (("evidence", one.evidence), ("origin", one.origin), ("confidence", one.confidence)):
            for key in keys:
                if key.split(".")[0] not in FIELDS:
                    where = format_path((*path, kind, key))
                    found.append(Finding("no-such-field", where, f"a set has no field {key!r}"))
    return found


def check_quotes(routine: Routine, transcript: Transcript) -> list[Finding]:
    """Evidence that the transcript does not bear out: cue, characters, quote and time."""
    if routine.source.sha256 != transcript.sha256:
        problem = f"the routine was made from other bytes than {transcript.name}"
        return [Finding("other-transcript", "$.source.sha256", problem, "Extract it again, or give its own transcript")]
    words: dict[int, list[Word]] = {}
    for word in transcript.words:
        words.setdefault(word.cue, []).append(word)
    found = []
    for path, piece in walk_evidence(routine):
        problem = _compare_quote(piece, transcript.cues, words.get(piece.cue, []))
        if problem:
            found.append(Finding("not-in-transcript", format_path(path), problem))
    return found


def _check_value(one: Set, field: str, path: Path) -> list[Finding]:
    found = []
    for kind, known in (("origin", one.origin), ("confidence", one.confidence)):
        if field not in known:
            where = format_path((*path, kind))
            found.append(Finding("no-" + kind, where, f"{field} of set {one.id} has no {kind}"))
    if one.origin.get(field) in QUOTED and not one.evidence.get(field):
        where = format_path((*path, "evidence"))
        problem = f"{field} of set {one.id} is {one.origin[field]}, but no words are quoted for it"
        found.append(Finding("no-evidence", where, problem))
    return found


def _compare_quote(piece: Evidence, cues: tuple[Cue, ...], words: list[Word]) -> str:
    if piece.cue >= len(cues):
        return f"there is no cue {piece.cue}; the transcript has {len(cues)}"
    cue = cues[piece.cue]
    if not piece.char_start < piece.char_end <= len(cue.text):
        return f"characters {piece.char_start} to {piece.char_end} are not in the cue ({len(cue.text)} characters)"
    held = cue.text[piece.char_start : piece.char_end]
    if held != piece.quote:
        return f"the quote is {piece.quote[:60]!r}, the cue holds {held[:60]!r}"
    quoted = [w for w in words if w.char_start < piece.char_end and piece.char_start < w.char_end]
    first = min((w.start for w in quoted), default=cue.start)
    last = max((w.end for w in quoted), default=cue.end)
    if not first - SLACK_MS <= round(piece.at * 1000) <= last + SLACK_MS:
        return f"the quote is said from {first / 1000} to {last / 1000} s, not at {piece.at}"
    return ""
