"""The index of names, and the file that spares making it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from setdown.lexicon import Lexicon, find_lexicon_folder, load_lexicon
from setdown.lexicon.compile_names import compile_names
from setdown.lexicon.data import read_folder
from setdown.lexicon.name_table import COMPILED, learn_name_table, load_name_table
from setdown.lexicon.names import NameRows

SMALL = Path(__file__).parent / "small"
TALK = sorted((Path(__file__).parent / "talk").glob("*.txt"))

# Names of every length, also side by side, overlapping, at both ends and cut off.
SAID = """
    squat and press now goblet squats then a push up dead lift single arm row squat and press ups turkish get up and a
    bent over row bent over rear delt fly into downward facing dog then warrior two and glute bridge goblet
"""


@pytest.mark.parametrize("which", ["small", "real"])
def test_names_are_found_as_spacy_finds_them(which: str, request: pytest.FixtureRequest) -> None:
    """The same places as spaCy's PhraseMatcher (outside reference) finds with the names as patterns."""
    from spacy.matcher import PhraseMatcher
    from spacy.tokens import Doc
    from spacy.vocab import Vocab

    names = request.getfixturevalue(which).finder.names
    forms = names.compounds.cut_words(SAID.split()).forms
    vocab = Vocab()
    matcher = PhraseMatcher(vocab, attr="ORTH")
    starts = [name for name in names if name.forms[0] in forms]
    matcher.add("name", [Doc(vocab, words=list(name.forms)) for name in starts])
    expected = sorted((start, end) for _, start, end in matcher(Doc(vocab, words=forms)))
    found = names.find(forms)
    assert sorted((start, end) for start, end, _ in found) == expected
    assert all(tuple(forms[start:end]) == name.forms for start, end, name in found)
    assert len(expected) >= 5


def test_the_compiled_names_are_current() -> None:
    """``names.json`` is what ``python -m setdown.lexicon.compile_names`` writes; run that when this fails."""
    folder = find_lexicon_folder()
    assert (folder / COMPILED).read_text(encoding="utf-8") == compile_names(folder)


def test_compiled_names_give_what_fresh_ones_give(real: Lexicon) -> None:
    """A table that was read is the table that is worked out from the names."""
    rows = NameRows(real.movements.values())
    fresh = learn_name_table(rows)
    read = load_name_table(rows, real.folder, real.data.names_from)
    assert read.cut.sizes == fresh.cut.sizes
    assert (read.cut.forms, read.keys, read.movements_of) == (fresh.cut.forms, fresh.keys, fresh.movements_of)
    words = [word for path in TALK for word in path.read_text(encoding="utf-8").split()]
    words += [word for name in rows for word in name.name.split()]
    one, two = read.cut.compounds, fresh.cut.compounds
    assert one.cut_words(words) == two.cut_words(words)
    forms = one.cut_words(words).forms
    assert one.find_joins(forms) == two.find_joins(forms)


def test_stale_names_are_not_used(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """After a change of the movements the names are worked out again, whatever the compiled file says."""
    folder = tmp_path / "lexicon"
    shutil.copytree(SMALL, folder)
    monkeypatch.setenv("SETDOWN_LEXICON", str(folder))
    (folder / COMPILED).write_text(compile_names(folder), encoding="utf-8")
    table = folder / "movements" / "all.csv"
    table.write_text(table.read_text(encoding="utf-8").replace("goblet squat", "chalice squat"), encoding="utf-8")
    found = Lexicon(read_folder(folder)).find_movements(["now", "chalice", "squats"])
    assert [hit.name for hit in found] == ["chalice squat"]


def test_own_words_are_not_looked_up_in_the_compiled_names(tmp_path: Path) -> None:
    """A coach's own names are found beside the shipped ones, mis-heard ones too."""
    own = tmp_path / "own.toml"
    own.write_text('[[movement]]\nname = "lighthouse lunge"\nlike = "lunge"\n', encoding="utf-8")
    lexicon = load_lexicon([own])
    assert lexicon.data.names_from == ""
    text = "now lighthouse lunges next lighthouse launch then goblet squat"
    found = lexicon.find_movements(text.split())
    assert [hit.name for hit in found] == ["lighthouse lunge", "lighthouse lunge", "goblet squat"]
