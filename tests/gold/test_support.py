"""Every value of every set points at its words, over the annotated classes in the styles in which captions come."""

from __future__ import annotations

from pathlib import Path

import pytest

from setdown.check.run import check_content
from setdown.lexicon import load_lexicon
from setdown.model.routine import Evidence, Routine, Set
from setdown.model.transcript import Transcript
from setdown.pipeline import extract_transcript
from setdown.read import read_transcript

STYLES = (".vtt", ".rolling.vtt", ".words.json", ".txt")
VALUES = ("exercise", "side", "reps", "counted", "work_s", "load", "tempo", "effort", "finisher")
ORIGINS = {"said", "carried", "declared", "inferred"}
EVERY = 4  # each class in one of the four styles
SLACK_S = 0.002  # times are written with three decimals


def list_files(folder: Path) -> list[Path]:
    """Each class in one style, all styles equally often."""
    names = sorted(path.name.removesuffix(".gold.csv") for path in folder.glob("*.gold.csv"))
    return [folder / (name + STYLES[n % EVERY]) for n, name in enumerate(names)]


def find_wrong_quotes(transcript: Transcript, pieces: list[Evidence]) -> list[str]:
    """Quotes that are not what the transcript holds at that place and time."""
    wrong = []
    for piece in pieces:
        cue = transcript.cues[piece.cue]
        if cue.text[piece.char_start : piece.char_end] != piece.quote or not piece.quote.strip():
            wrong.append(f"cue {piece.cue}: {piece.quote!r}")
        if not cue.start / 1000 - SLACK_S <= piece.at <= cue.end / 1000 + SLACK_S:
            wrong.append(f"cue {piece.cue}: at {piece.at}")
    return wrong


def list_values(one: Set) -> list[str]:
    """The fields of a set that hold a value; the basis of a load is one of its own."""
    found = [field for field in VALUES if getattr(one, field) is not None]
    return [*found, "basis"] if one.load is not None and one.load.basis is not None else found


def find_unsupported(one: Set) -> list[str]:
    """Values without an origin or a confidence, and values that are said without words to quote."""
    wrong = []
    for field in list_values(one):
        if one.origin.get(field) not in ORIGINS:
            wrong.append(f"{one.id}: {field} has the origin {one.origin.get(field)!r}")
        if field not in one.confidence:
            wrong.append(f"{one.id}: {field} has no confidence")
        quoted = one.evidence.get("load" if field == "basis" else field)
        if one.origin.get(field) == "said" and not quoted:
            wrong.append(f"{one.id}: {field} is said, but nothing is quoted")
    return wrong


def list_evidence(routine: Routine) -> list[Evidence]:
    """All quotes of a routine, wherever they stand."""
    found = [e for d in routine.declared for e in d.evidence]
    found += [e for kit in routine.equipment for e in kit.evidence]
    found += [e for query in routine.queries for e in query.evidence]
    for _, _, one in routine.iter_sets():
        found += [e for pieces in one.evidence.values() for e in pieces]
        found += [cue.evidence for cue in one.coaching]
    return found


@pytest.mark.slow
def test_every_value_points_at_its_words(gold_folder):
    """Quoted words stand in the caption at that place and time; what is not said says where else it comes from."""
    wrong, sets = [], 0
    for path in list_files(gold_folder):
        transcript = read_transcript(path)
        routine = extract_transcript(transcript, load_lexicon())
        found = find_wrong_quotes(transcript, list_evidence(routine))
        for _, _, one in routine.iter_sets():
            found += find_unsupported(one)
            sets += 1
        found += [str(f) for f in check_content(routine, transcript) if f.severity != "note"]
        wrong += [f"{path.name}: {w}" for w in found]
    assert wrong == []
    assert sets > 1000  # there was something to check


def test_the_search_finds_what_it_is_for(gold_folder):
    """The checks above can fail: a changed quote, a time elsewhere, an origin taken away."""
    path = list_files(gold_folder)[0]
    transcript = read_transcript(path)
    routine = extract_transcript(transcript, load_lexicon())
    pieces = list_evidence(routine)
    assert pieces
    first = pieces[0]
    assert find_wrong_quotes(transcript, [first.model_copy(update={"quote": first.quote + "x"})])
    assert find_wrong_quotes(transcript, [first.model_copy(update={"at": first.at + 600})])
    one = routine.iter_sets()[0][2]
    assert find_unsupported(one.model_copy(update={"origin": {}}))
    assert find_unsupported(one.model_copy(update={"confidence": {}}))
    assert find_unsupported(one.model_copy(update={"evidence": {}, "origin": one.origin | {"exercise": "said"}}))
