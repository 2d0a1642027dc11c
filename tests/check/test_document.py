"""A routine file: what is wrong with it, and on which line."""

from __future__ import annotations

import json

import pytest

from make_routine import VTT, make_routine, make_transcript
from setdown.check import check_document, find_transcript, parse_routine
from setdown.check.schema import check_schema
from setdown.document import format_routine
from setdown.errors import SetdownError

TEXT = format_routine(make_routine())


def line_of(text: str, words: str, nth: int = 1) -> int:
    lines = [n for n, line in enumerate(text.splitlines(), 1) if words in line]
    return lines[nth - 1]


def test_a_written_routine_reads_back_the_same():
    """Text to routine and back gives the same bytes."""
    assert parse_routine(TEXT) == make_routine()
    assert format_routine(parse_routine(TEXT)) == TEXT
    assert TEXT.endswith("}\n")
    assert [f.severity for f in check_document(TEXT, "a.json", lambda routine: make_transcript()).findings] == ["note"]


def test_findings_have_the_line_of_the_value():
    """The line is that of the value, also for content that the schema cannot see."""
    text = TEXT.replace('"id": "s3"', '"id": "s2"')
    finding = check_document(text).findings[0]
    assert (finding.code, finding.line) == ("id-twice", line_of(text, '"id": "s2"', 2))
    text = TEXT.replace('"arrangement": "superset"', '"arrangement": "ladder"')
    checked = check_document(text)
    assert checked.routine is None
    assert [(f.code, f.line) for f in checked.findings] == [("schema", line_of(text, "ladder"))]


def test_a_missing_key_is_blamed_on_the_part_it_is_missing_from():
    """There is no line for what is not there; the part around it has one."""
    text = TEXT.replace(' "title": "Wren\'s ten",\n', "")
    finding = check_document(text).findings[0]
    assert (finding.path, finding.line) == ("$.title", 1)


def test_a_key_that_stands_twice_is_found():
    """JSON readers silently keep the last of two equal keys; a person who edits should know."""
    text = TEXT.replace('"round": 1,', '"round": 1, "round": 1,', 1)
    checked = check_document(text)
    assert checked.routine is not None
    twice = checked.findings[0]
    assert (twice.code, twice.line) == ("key-twice", line_of(text, '"round": 1, "round"'))


@pytest.mark.parametrize(
    ("text", "line", "problem"),
    [
        ("", 1, "broken JSON"),
        ('{\n "a": 1,\n}', 3, "broken JSON"),
        (TEXT[: len(TEXT) // 2], TEXT[: len(TEXT) // 2].count("\n") + 1, "broken JSON"),
        ('{"a":\n NaN}', 2, "NaN is not JSON"),
        ('{"a":\n\n -Infinity}', 3, "-Infinity is not JSON"),
        ("[" * 100_000, None, "nested too deeply"),
        ("1" * 5000, None, "broken JSON"),
    ],
)
def test_what_is_not_json_is_refused_with_its_line(text, line, problem):
    """Broken text cannot be checked: an error with the file and the line."""
    for use in (check_document, parse_routine):
        with pytest.raises(SetdownError, match=problem) as caught:
            use(text, "a.json")
        assert caught.value.source == "a.json"
        if line is not None:
            assert caught.value.line == line


def test_what_is_no_routine_is_refused_with_the_first_reason():
    """Other commands stop at the first reason and point to the one that lists all."""
    document = json.loads(TEXT)
    document["sections"][1]["kind"] = "finale"
    document["queries"][0]["severity"] = "urgent"
    text = json.dumps(document, indent=1)
    with pytest.raises(SetdownError, match=r"sections\[1\]\.kind.*and 1 more") as caught:
        parse_routine(text, "a.json")
    assert caught.value.line == line_of(text, "finale")
    assert "setdown check" in caught.value.hint


def test_the_transcript_beside_a_routine_is_found_by_name_and_bytes(tmp_path):
    """Same name and bytes: found. Other bytes, another name, or a path out of the folder: not."""
    routine = make_routine()
    file = tmp_path / "class" / "wren.routine.json"
    file.parent.mkdir()
    assert find_transcript(file, routine) is None
    (file.parent / "wren.vtt").write_bytes(VTT.encode())
    assert find_transcript(file, routine) == file.parent / "wren.vtt"
    (file.parent / "wren.vtt").write_bytes(VTT.encode() + b"\n")
    assert find_transcript(file, routine) is None
    (tmp_path / "wren.vtt").write_bytes(VTT.encode())
    routine.source.name = "../wren.vtt"
    assert find_transcript(file, routine) is None


@pytest.mark.parametrize(
    ("where", "value"),
    [
        (("sections", 1, "groups", 0, "sets", 0, "load", "value"), "10"),
        (("equipment", 0, "loads", 0, "value"), "10"),
        (("sections", 1, "groups", 0, "sets", 0, "start"), "62"),
        (("sections", 1, "groups", 0, "sets", 0, "round"), True),
        (("sections", 1, "groups", 0, "sets", 0, "reps", "lo"), "10"),
        (("queries", 0, "suggestions"), "10 lb"),
        (("source", "cue_count"), 6.5),
        (("title",), 5),
        (("sections", 1, "groups", 0, "sets", 0, "tempos"), "3-1-1"),
    ],
)
def test_reading_refuses_what_the_schema_refuses(where, value):
    """A number as text, a boolean for a number, an unknown key: the quick way to read is no wider than the schema."""
    document = json.loads(format_routine(make_routine()))
    part = document
    for key in where[:-1]:
        part = part[key]
    part[where[-1]] = value
    assert check_schema(document)
    with pytest.raises(SetdownError, match="not a routine"):
        parse_routine(json.dumps(document), "wren.routine.json")


def test_reading_takes_a_whole_number_with_a_point():
    """JSON Schema 2020-12, 6.1.1: 10.0 is an integer."""
    text = format_routine(make_routine()).replace('"cue_count": 6', '"cue_count": 6.0')
    assert parse_routine(text).source.cue_count == 6
