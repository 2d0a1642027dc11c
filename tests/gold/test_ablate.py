"""Parts of the extraction are switched off one at a time, each does something, and nothing else changes."""

from __future__ import annotations

from pathlib import Path

import pytest

from gold.ablate import PARTS, Part, cut_class, extract_without, format_ablation
from setdown.lexicon import load_lexicon
from setdown.pipeline import extract
from setdown.read import read_transcript
from setdown.segment.signals import gather_signals
from setdown.segment.weights import load_weights
from setdown.sheet import routine_to_rows
from setdown.tag import tag_transcript

SAMPLES = Path(__file__).resolve().parents[2] / "samples"  # one with a name that is misheard and nothing else
CELLS = ("start", "end", "section", "group", "round", "exercise", "side", "reps", "work_s", "load", "basis", "finisher")


@pytest.fixture(scope="module")
def classes(gold_folder):
    lexicon = load_lexicon()
    names = ("d1-evening-pairs", "e4-park-ladders", "f1-slow-flow")
    files = [*(gold_folder / f"{name}.vtt" for name in names), SAMPLES / "signal-box-intervals.words.json"]
    return [tag_transcript(read_transcript(file), lexicon) for file in files]


def take_cells(rows: list[dict[str, str]]) -> list[tuple[str, ...]]:
    return [tuple(row[cell] for cell in CELLS) for row in rows]


def test_without_nothing_is_the_extraction(gold_folder, classes):
    """With everything switched on the rows are those of the pipeline."""
    lexicon = load_lexicon()
    rows = extract_without(PARTS[0], classes[0], lexicon, PARTS[0].profiles(lexicon))
    assert take_cells(rows) == take_cells(routine_to_rows(extract(gold_folder / "d1-evening-pairs.vtt")))


@pytest.mark.slow
@pytest.mark.parametrize("part", PARTS[1:], ids=lambda part: part.name)
def test_every_part_counts(classes, part: Part):
    """In one of four different classes something changes when it is gone."""
    lexicon = load_lexicon()
    profiles, whole = part.profiles(lexicon), PARTS[0].profiles(lexicon)
    changed = [
        take_cells(extract_without(part, tagged, lexicon, profiles))
        != take_cells(extract_without(PARTS[0], tagged, lexicon, whole))
        for tagged in classes
    ]
    assert any(changed)


def test_the_number_of_sets_is_kept(classes):
    """The bias is found that gives as many spans as wanted, or next to it."""
    signals = gather_signals(classes[0])
    weights = load_weights()[signals.regime]
    usual = len(cut_class(classes[0], signals, weights, None).spans)
    for wanted in (usual - 5, usual, usual + 3):
        assert abs(len(cut_class(classes[0], signals, weights, wanted).spans) - wanted) <= 1


def test_table():
    """What is lost is told in points of effort saved."""
    measures = {"row_f1": 0.5, "seg_f1": 0.75, "perfect_rows": 0.25, "effort_saved": 0.5}
    table = format_ablation({"nothing": measures, "counting": measures | {"effort_saved": 0.45}})
    assert table.splitlines()[2:] == [
        "| nothing | 50.0 | 75.0 | 25.0 | 50.0 | 0.0 |",
        "| counting | 50.0 | 75.0 | 25.0 | 45.0 | 5.0 |",
    ]
