"""Recordings that are no exercise classes give no sets and say so."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from setdown import extract

FOLDER = Path(__file__).parent / "not_classes"
SPLIT = tomllib.loads((FOLDER / "split.toml").read_text(encoding="utf-8"))
FILES = {path.stem: path for path in sorted(FOLDER.iterdir()) if path.suffix in (".vtt", ".srt", ".txt")}


def test_every_transcript_is_in_one_half():
    """Learned from or measured with, never both and never neither."""
    assert sorted([*SPLIT["train"], *SPLIT["test"]]) == sorted(FILES)
    assert len(SPLIT["test"]) > 9


@pytest.mark.parametrize("name", SPLIT["test"])
def test_nothing_is_taken_from_it(name):
    """Commentary, lectures, crafts and talk about training: no sets, and a notice with its code."""
    routine = extract(FILES[name])
    assert [x.exercise.name for _, _, x in routine.iter_sets()] == []
    assert any(notice.startswith("not-a-class") for notice in routine.notices)
