"""A coach's own lexicon on top of the shipped one."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from setdown.errors import SetdownError
from setdown.lexicon import Lexicon, load_lexicon
from setdown.lexicon.own import load_own_schema, read_own_lexicon
from setdown.lexicon.vocabulary import BASES, COUNTED, MOVEMENT_ID, PATTERNS, SIDED

Write = Callable[..., Path]

OWN = """
# moves of the house
[[movement]]
name = "lighthouse lunge"
names = ["lighthouse?", "harbour lunge"]
like = "squat"
sided = "one"

[[movement]]
id = "goblet-squat"
name = "goblet squat"
names = ["teapot squat"]

[[movement]]
name = "row"
pattern = "locomotion"
primary = ["upper_back"]

[[alias]]
said = "the grinder"
means = "burpee"

[[misheard]]
heard = "light horse"
said = "lighthouse lunge"
"""


@pytest.fixture
def write(tmp_path: Path) -> Write:
    def write_own(text: str, name: str = "own.toml") -> Path:
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return path

    return write_own


def put_on(small: Lexicon, *paths: Path) -> Lexicon:
    data = small.data
    for path in paths:
        data = read_own_lexicon(path).put_on(data)
    return Lexicon(data)


def test_own_entries_are_found_and_inherit(small: Lexicon, write: Write) -> None:
    """Names, aliases and mis-hearings work; what is not given comes from the movement it is like."""
    own = put_on(small, write(OWN))
    movement = own.movements["lighthouse-lunge"]
    assert (movement.family, movement.pattern, movement.primary, movement.sided) == (
        "squat",
        "squat",
        ("quadriceps",),
        "one",
    )
    assert movement.weak_names == {"lighthouse"} and "air squat" not in movement.names
    for text, ident in [
        ("now harbour lunges", "lighthouse-lunge"),
        ("teapot squat", "goblet-squat"),
        ("cup squat", "goblet-squat"),
        ("the grinder", "burpee"),
        ("next light horse", "lighthouse-lunge"),
    ]:
        assert [h.movement for h in own.find_movements(text.split())] == [ident], text


def test_own_entries_go_before_shipped_ones(small: Lexicon, write: Write) -> None:
    """A name that both have is the coach's; a later own file goes before an earlier one."""
    own = put_on(small, write(OWN))
    assert own.movements["row"].pattern == "locomotion"
    assert [h.weak for h in own.find_movements(["row"])] == [False]
    later = put_on(small, write(OWN), write('[[alias]]\nsaid = "The Grinder"\nmeans = "push up"\n', "later.toml"))
    assert [h.movement for h in later.find_movements(["the", "grinders"])] == ["push-up"]
    taken = put_on(small, write(OWN), write('[[movement]]\nname = "the grinder"\nlike = "tree"\n', "taken.toml"))
    assert [h.movement for h in taken.find_movements(["the", "grinder"])] == ["the-grinder"]


def test_the_fingerprint_tells_own_files_apart(small: Lexicon, write: Write) -> None:
    """With another own file the results may differ, so the fingerprint does."""
    one = put_on(small, write(OWN)).fingerprint
    assert len({small.fingerprint, one, put_on(small, write(OWN + "\n# more\n")).fingerprint}) == 3


def test_loading_takes_own_files_and_sees_changes(write: Write) -> None:
    """load_lexicon puts own files on the shipped data; a file that was changed is read again."""
    path = write('[[alias]]\nsaid = "wibbly wobbler"\nmeans = "squat"\n')
    assert [h.movement for h in load_lexicon([path]).find_movements(["wibbly", "wobblers"])] == ["squat"]
    assert load_lexicon([path]) is load_lexicon([path])
    write('[[alias]]\nsaid = "wibbly wobbler"\nmeans = "push-up"\n')
    assert [h.movement for h in load_lexicon([path]).find_movements(["wibbly", "wobblers"])] == ["push-up"]
    assert load_lexicon().look_up("wibbly wobbler") is None


@pytest.mark.parametrize(
    ("text", "line", "problem"),
    [
        ("[[movement]]\nname = \n", 2, "not TOML"),
        ('\n[[movement]]\nnames = ["a"]\n', 2, "without 'name'"),
        ('[[movement]]\nname = "x y"\npatern = "squat"\n', 3, "unknown key 'patern'"),
        ('[[movment]]\nname = "x y"\n', 1, "unknown table 'movment'"),
        (
            '[[movement]]\nname = "x y"\n\n[[movement]]\nname = "z"\npattern = "sqat"\n',
            6,
            "pattern 'sqat' is not known",
        ),
        ('[[movement]]\nname = "x y"\nlike = "nothing of the kind"\n', 3, "no movement is called"),
        ('[[movement]]\nname = "x y"\nprimary = [\n  "wings",\n]\n', 3, "no muscle has the id 'wings'"),
        ('[[movement]]\nname = "x y"\nkit = ["trapeze"]\n', 3, "no piece of kit has the id 'trapeze'"),
        ('[[movement]]\nname = "x y"\nfamily = "y-z"\n', 3, "no movement has the id 'y-z'"),
        ('[[movement]]\nname = "x y"\nid = "X Y"\n', 3, "id 'X Y' will not do"),
        ('[[movement]]\nname = "x y"\n[[movement]]\nname = "X-Y"\n', 4, "stands twice"),
        ('[[movement]]\nname = "!?"\n', 2, "no id can be made"),
        ('[[movement]]\nname = " "\n', 2, "will not do"),
        ('[[alias]]\nsaid = "it"\nmeans = "no such thing"\n', 3, "no movement is called"),
        ('[[alias]]\nsaid = "it"\n', 1, "without 'means'"),
        ('[[misheard]]\nheard = "it"\nsaid = 7\n', 3, "not of type 'string'"),
        ('[movement]\nname = "x y"\n', None, "not a list of tables"),
    ],
)
def test_mistakes_are_told_with_file_and_line(
    small: Lexicon, write: Write, text: str, line: int | None, problem: str
) -> None:
    """Whatever is wrong is a SetdownError that says where and what."""
    path = write(text)
    with pytest.raises(SetdownError, match=problem) as raised:
        put_on(small, path)
    assert (raised.value.source, raised.value.line) == (str(path), line)


def test_a_missing_or_garbled_file_is_told(tmp_path: Path) -> None:
    """A wrong path and bytes that are no UTF-8."""
    with pytest.raises(SetdownError, match="cannot read"):
        load_lexicon([tmp_path / "none.toml"])
    (tmp_path / "bytes.toml").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(SetdownError, match="cannot read"):
        load_lexicon([tmp_path / "bytes.toml"])


def test_the_schema_is_one_and_has_the_closed_lists() -> None:
    """JSON Schema 2020-12, with the same words as the linter has."""
    schema = load_own_schema()
    Draft202012Validator.check_schema(schema)
    movement = schema["properties"]["movement"]["items"]["properties"]
    assert movement["pattern"]["enum"] == list(PATTERNS)
    assert movement["sided"]["enum"] == list(SIDED)
    assert movement["counted"]["items"]["enum"] == list(COUNTED)
    assert movement["basis"]["enum"] == list(BASES)
    assert movement["id"]["pattern"] == movement["family"]["pattern"] == f"^{MOVEMENT_ID}$"
    json.dumps(schema)


def test_the_example_in_the_readme_loads(write: Write) -> None:
    """The own file that the README of the data shows is a good one."""
    readme = load_lexicon().folder / "README.md"
    text = readme.read_text(encoding="utf-8").split("```toml\n")[1].split("```")[0]
    assert load_lexicon([write(text)]).fingerprint != load_lexicon().fingerprint
