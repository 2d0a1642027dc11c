"""The scores are those of the reference scorer, to the last digit."""

from __future__ import annotations

import csv
import random
from pathlib import Path

import pytest

from setdown.evaluate import align_rows, format_line, is_same_name, score_rows, total_measures
from setdown.sheet import read_sheet_csv

TOLERANCES = (1.0, 5.0, 30.0, 90.0)


def test_real_sheets_score_as_in_the_reference(gold_folder, reference, disturb):
    """Each annotated class against itself, an empty sheet and disturbed copies of it gives the very same figures."""
    rng = random.Random(1)
    files = sorted(gold_folder.glob("*.gold.csv"))
    assert len(files) >= 30
    ours, theirs = [], []
    for n, file in enumerate(files):
        gold = reference.load(file)
        for pred in (gold, [], disturb(gold, rng), disturb(gold, rng)):
            tol = TOLERANCES[n % len(TOLERANCES)]
            expected, pairs = reference.score(gold, pred, tol)
            assert score_rows(gold, pred, tol) == (expected, pairs)
            assert format_line(file.stem, expected) == reference.show(file.stem, expected)
            ours.append(score_rows(gold, pred, tol)[0])
            theirs.append(expected)
    assert total_measures(ours) == reference.total(theirs)
    assert format_line("ALL", total_measures(ours)) == reference.show("ALL", reference.total(theirs))


@pytest.mark.parametrize("seed", range(150))
def test_random_sheets_score_as_in_the_reference(seed, reference, disturb, nonsense):
    """Empty sheets, ties, rows of no length and unknown values give the very same figures and pairs."""
    rng = random.Random(seed)
    gold = nonsense(rng)
    as_seconds = [dict(row, start=str(reference.seconds(row["start"]))) for row in gold]
    pred = disturb(as_seconds, rng) if rng.random() < 0.7 else nonsense(rng)
    tol = rng.choice(TOLERANCES)
    expected, pairs = reference.score(gold, pred, tol)
    assert score_rows(gold, pred, tol) == (expected, pairs)
    assert align_rows(gold, pred, tol) == reference.align(gold, pred, tol)
    assert list(score_rows(gold, pred, tol)[0]) == list(expected), "and in the same order"


@pytest.mark.parametrize("seed", range(40))
def test_totals_are_those_of_the_reference(seed, reference, disturb, nonsense):
    """Classes that lack a measure are left out of its total, as in the reference."""
    rng = random.Random(seed)
    golds = [nonsense(rng) for _ in range(rng.randrange(1, 6))]
    results = [reference.score(g, disturb([dict(r, start="5", end="9") for r in g], rng), 30.0)[0] for g in golds]
    assert total_measures(results) == reference.total(results)


def test_names_agree_as_in_the_reference(gold_folder, reference):
    """Every name of the annotated classes against every other gives the reference's answer."""
    names = sorted({row["exercise"] for f in gold_folder.glob("*.gold.csv") for row in reference.load(f)})
    singles = sorted({name for cell in names for name in cell.split("|")})
    rng = random.Random(2)
    for cell in names:
        for other in [*rng.sample(singles, 40), *cell.split("|")]:
            assert is_same_name(cell, other) == reference.same_name(cell, other)


def test_a_sheet_file_reads_as_the_reference_reads_it(gold_folder, reference):
    """Reading a gold sheet gives the same cells, and empty ones for the columns that it lacks."""
    for file in gold_folder.glob("*.gold.csv"):
        ours, theirs = read_sheet_csv(file), reference.load(file)
        assert [{k: row[k] for k in theirs[0]} for row in ours] == theirs
        assert all(row["queries"] == "" for row in ours)


def test_nothing_to_total_is_an_error():
    """A total over no class would be a figure about nothing."""
    with pytest.raises(ValueError, match="nothing"):
        total_measures([])


def test_the_reference_is_the_one_the_measures_were_defined_by():
    """The copy of the reference scorer is not edited to fit: it has the digest that it came with."""
    import hashlib

    data = Path(__file__).with_name("reference_score.py").read_bytes()
    assert hashlib.sha256(data).hexdigest() == "e824a65cca8804d9bf9cdade44c053f389d72bc99a6613e98decb867d0faed4f"


def test_a_perfect_sheet_has_perfect_scores(gold_folder):
    """The gold sheet itself saves all the effort, and dropping one row costs exactly that row's cells."""
    file = sorted(gold_folder.glob("*.gold.csv"))[0]
    with file.open(newline="", encoding="utf-8") as stream:
        gold = list(csv.DictReader(stream))
    perfect, _ = score_rows(gold, gold)
    assert (perfect["row_f1"], perfect["effort_saved"], perfect["perfect_rows"], perfect["edits"]) == (1, 1, 1, 0)
    stated = sum(bool(gold[-1][f]) for f in ("round", "side", "reps", "work_s", "load", "basis", "finisher"))
    assert score_rows(gold, gold[:-1])[0]["edits"] == 1 + stated
