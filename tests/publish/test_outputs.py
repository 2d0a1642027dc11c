"""All outputs of all samples, against the files that were looked at when they last changed."""

from __future__ import annotations

from pathlib import Path

import pytest

from publish.shared import SAMPLES, read_sample
from setdown.errors import SetdownError
from setdown.publish import OUTPUTS, PublishOptions, publish_routine

GOLDEN = Path(__file__).parent / "golden"
TEXTS = [name for name in OUTPUTS if name != "figures"]
AGAIN = (
    "read the difference, then make them anew: setdown publish samples/*.routine.json --draft --replace "
    f"-o tests/publish/golden --as {','.join(TEXTS)}"
)


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda p: p.name.removesuffix(".routine.json"))
def test_the_outputs_of_a_sample_are_as_they_were(sample, lexicon):
    """Every text output is, byte for byte, the golden file; and made twice, it is the same."""
    routine, transcript = read_sample(sample)
    stem = sample.name.removesuffix(".routine.json")
    options = PublishOptions(draft=True)
    made = publish_routine(routine, lexicon, TEXTS, options, transcript, stem)
    again = publish_routine(routine, lexicon, TEXTS, options, transcript, stem)
    assert made == again
    for document in made:
        assert document.data.decode() == (GOLDEN / document.name).read_bytes().decode(), f"{document.name}: {AGAIN}"


def test_no_golden_file_is_left_over(lexicon):
    """Each golden file is of a sample that is there."""
    stems = {sample.name.removesuffix(".routine.json").replace(".", "-") for sample in SAMPLES}
    assert {path.name.partition(".draft.")[0] for path in GOLDEN.iterdir()} == stems


@pytest.mark.slow
def test_the_figures_of_a_sample_are_drawn(lexicon):
    """SVG, PNG and a description in words of each figure; each picture begins as its format does."""
    pytest.importorskip("matplotlib", reason="Matplotlib is not installed")
    routine, _ = read_sample(next(path for path in SAMPLES if path.name.startswith("arms")))
    made = {d.name: d.data for d in publish_routine(routine, lexicon, ["figures"], PublishOptions(draft=True))}
    assert len(made) == 7
    for name, data in made.items():
        if name.endswith(".png"):
            assert data.startswith(b"\x89PNG\r\n\x1a\n")  # W3C, PNG specification, section 5.2
        elif name.endswith(".svg"):
            assert b"<svg" in data
        else:
            assert len(data.split()) > 20


def test_a_draft_is_refused_without_being_asked_for(routine, lexicon):
    """Nobody reviewed it, so nothing goes out."""
    with pytest.raises(SetdownError) as refused:
        publish_routine(routine, lexicon, ["plan"])
    assert "draft" in refused.value.problem
    assert "--draft" in refused.value.hint


@pytest.mark.parametrize("status", ["reviewed", "published"])
def test_a_reviewed_routine_goes_out_unmarked(routine, lexicon, transcript, status):
    """Neither its name nor its text says draft."""
    routine.status = status
    for document in publish_routine(routine, lexicon, TEXTS, transcript=transcript, stem="wren"):
        assert "draft" not in document.name
        assert "draft" not in document.data.decode().lower(), document.name


def test_a_draft_that_was_asked_for_says_so_everywhere(publish, routine, transcript, lexicon):
    """The names of all files, and the text of those whose format has room for it."""
    made = publish_routine(routine, lexicon, TEXTS, PublishOptions(draft=True), transcript, "wren")
    assert all(document.name.startswith("wren.draft.") for document in made)
    no_room = ("sheet.csv", "captions.srt", "captions.changes.csv", "captions.reading.txt")
    for document in made:
        if not document.name.endswith(no_room):
            assert "draft" in document.data.decode().lower(), document.name


def test_captions_need_the_transcript(routine, lexicon):
    """Without it the error says what to do."""
    with pytest.raises(SetdownError) as missing:
        publish_routine(routine, lexicon, ["captions"], PublishOptions(draft=True))
    assert "--transcript" in missing.value.hint


def test_an_unknown_output_is_refused(routine, lexicon):
    """And the error lists the known ones."""
    with pytest.raises(SetdownError) as unknown:
        publish_routine(routine, lexicon, ["poster"], PublishOptions(draft=True))
    assert "chapters" in unknown.value.expected


def test_a_routine_without_sets_can_be_published(routine, lexicon, transcript):
    """Everything is made, if with little in it."""
    routine.sections, routine.queries, routine.equipment = [], [], []
    made = publish_routine(routine, lexicon, TEXTS, PublishOptions(draft=True), transcript)
    assert all(document.data for document in made)
