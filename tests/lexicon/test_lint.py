"""The linter finds what is wrong in the data, and says where."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from setdown.lexicon import lint_lexicon

SMALL = Path(__file__).parent / "small"
ROW = "new,new move,,new,squat,glutes,,,both,reps,\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copytree(SMALL, tmp_path / "lexicon")
    return tmp_path / "lexicon"


def test_good_data_has_no_findings() -> None:
    """The small lexicon of these tests is right."""
    assert [str(f) for f in lint_lexicon(SMALL)] == []


def test_the_shipped_data_has_no_findings() -> None:
    """So is the one that is shipped."""
    assert [str(f) for f in lint_lexicon()] == []


@pytest.mark.parametrize(
    ("file", "text", "column", "problem"),
    [
        ("movements/all.csv", ROW.replace("new,new", "Neu Id,new", 1), "id", "'Neu Id' is no id"),
        ("movements/all.csv", ROW.replace("new,new", "squat,new", 1), "id", "movement 'squat' stands twice"),
        ("movements/all.csv", ROW.replace("new move", ""), "name", "empty"),
        ("movements/all.csv", ROW.replace(",new,squat", ",old,squat"), "family", "no movement has the id 'old'"),
        (
            "movements/all.csv",
            ROW.replace(",new,squat", ",goblet-squat,squat"),
            "family",
            "is itself a variant, of 'squat'",
        ),
        ("movements/all.csv", ROW.replace(",new,squat", ",,squat"), "family", "empty"),
        ("movements/all.csv", ROW.replace(",squat,", ",sqat,"), "pattern", "'sqat' is not known"),
        ("movements/all.csv", ROW.replace("glutes", "gluts"), "primary", "no muscle has the id 'gluts'"),
        ("movements/all.csv", ROW.replace("glutes", ""), "primary", "empty"),
        ("movements/all.csv", ROW.replace("glutes,", "glutes,glutes"), "secondary", "'glutes' is primary already"),
        ("movements/all.csv", ROW.replace(",both", "trapeze,both"), "kit", "no kit has the id 'trapeze'"),
        ("movements/all.csv", ROW.replace("both", "left"), "sided", "'left' is not known"),
        ("movements/all.csv", ROW.replace("reps,", "laps,"), "counted", "'laps' is not known"),
        ("movements/all.csv", ROW.replace("reps,", ","), "counted", "empty"),
        ("movements/all.csv", ROW.replace("reps,", "reps,each"), "basis", "'each' is not known"),
        ("movements/all.csv", ROW.replace("move,", "move,press up"), "names", "'press up' is a name of 'push-up'"),
        (
            "movements/all.csv",
            ROW.replace("move,", "move,goblet squats"),
            "names",
            "'goblet squats' is a name of 'goblet-squat'",
        ),
        ("movements/all.csv", ROW.replace("move,", "move,chair"), "names", "'chair' is everyday talk too"),
        ("movements/all.csv", ROW.replace("move,", "move,up and down"), "names", "'up and down' is everyday talk too"),
        ("movements/all.csv", ROW.replace("move,", "move,yoga mat"), "names", "'yoga mat' is also the kit 'mat'"),
        ("movements/all.csv", ROW.replace("move,", "move,what? now"), "names", "is no name"),
        ("movements/all.csv", ROW.replace("move,", "move,one move;;two move"), "names", "an empty value"),
        ("movements/all.csv", ROW.replace("move,", "move,one move; two move"), "names", "blanks beside a semicolon"),
        ("movements/all.csv", ROW.replace("new move", "New move"), "name", "capital letters"),
        ("movements/all.csv", ROW.replace("new move", "new  move"), "name", "stray blanks"),
        ("movements/all.csv", ROW.replace("new move", "coach’s move"), "name", "odd character '’' (U+2019"),
        ("movements/all.csv", "new,new move\n", "", "2 cells where the heading has 11"),
        ("described/all.csv", "flying,wing|wings flap air\n", "id", "no movement has the id 'flying'"),
        ("described/all.csv", "squat,sit back\n", "keywords", "2 keywords"),
        ("described/all.csv", "squat,sit back| heels\n", "keywords", "'back|' is not a list of words"),
        (
            "described/all.csv",
            "lateral-raise,out lift|raise|float side|sides arms|arm\n",
            "keywords",
            "the same as described/all.csv:2",
        ),
        ("misheard.csv", "goblet squats,push-up\n", "heard", "is the name of a movement"),
        ("misheard.csv", "press hup,merry christmas\n", "said", "leads to nothing known"),
        ("misheard.csv", "push up,push-ups\n", "heard", "means the same"),
        ("misheard.csv", "squads,squats\n", "heard", "the same as line 3"),
        ("misheard.csv", ",squat\n", "heard", "empty"),
        ("muscles.csv", "wings,wings,,UBERON:123,\n", "uberon", "'UBERON:123' is no UBERON id"),
        ("muscles.csv", "wings,wings,,,feathers\n", "group", "no muscle has the id 'feathers'"),
        ("muscles.csv", "wings,wings,,,arms\narms,arms,,,wings\n", "group", "the groups run in a circle"),
        ("muscles.csv", "wings,pecs,,,\n", "name", "'pecs' is a name of the muscle 'chest'"),
        ("kit.csv", "trapeze,trapeze,,maybe\n", "loaded", "'maybe' is not known"),
        ("units.csv", "stone,stone,,weight,6.35029318\n", "kind", "'weight' is not known"),
        ("units.csv", "stone,stone,,mass,6.35\n", "si", "one stone is not 6.35"),
        ("units.csv", "hand,hand,,length,-1\n", "si", "'-1' is no factor"),
        ("units.csv", "hand,hand,,length,nan\n", "si", "'nan' is no factor"),
    ],
)
def test_each_fault_is_found_in_its_cell(folder: Path, file: str, text: str, column: str, problem: str) -> None:
    """One bad row put in gives a finding with file, line, column and what to do."""
    path = folder / file
    line = len(path.read_text(encoding="utf-8").splitlines()) + 1
    with path.open("a", encoding="utf-8") as stream:
        stream.write(text)
    found = [f for f in lint_lexicon(folder) if problem in f.problem]
    assert found, [str(f) for f in lint_lexicon(folder)]
    assert (found[0].file, found[0].line, found[0].column) == (file, line, column)
    assert found[0].hint
    assert str(found[0]).startswith(f"{file}:{line}:")


def test_whole_files_can_be_wrong(folder: Path) -> None:
    """A missing table, a wrong heading, bytes that are no text and phrases that are no TOML are findings."""
    (folder / "kit.csv").unlink()
    (folder / "units.csv").write_text("id,name\n", encoding="utf-8")
    (folder / "muscles.csv").write_bytes(b"id,name,names,uberon,group\n\xff\n")
    (folder / "phrases").mkdir()
    (folder / "phrases" / "talk.toml").write_text("[go\n", encoding="utf-8")
    told = {(f.file, f.problem.split(":")[0]) for f in lint_lexicon(folder)}
    assert ("kit.csv", "the table is missing") in told
    assert ("units.csv", "wrong heading") in told
    assert ("muscles.csv", "not a readable table") in told
    assert ("phrases/talk.toml", "not TOML") in told
