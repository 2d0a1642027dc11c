"""Every value of a JSON text is found on its line."""

from __future__ import annotations

import json
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from setdown.check.finding import format_path
from setdown.check.lines import locate_values

TEXT = """
{"a": 1,
 "b": [ 10, {
   "c, \\"]": "two \\\\",
   "d": {}}, [], "x"
 ],

 "e": null, "a": 2}
"""


def list_paths(value: Any, path: tuple = ()) -> list[tuple]:
    parts = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [path, *(p for key, part in parts for p in list_paths(part, (*path, key)))]


def test_lines_of_a_text():
    """Members stand where their key stands, items where they start; a repeated key is told with both."""
    found = locate_values(TEXT)
    assert found.lines == {
        (): 2,
        ("a",): 2,
        ("b",): 3,
        ("b", 0): 3,
        ("b", 1): 3,
        ("b", 1, 'c, "]'): 4,
        ("b", 1, "d"): 5,
        ("b", 2): 5,
        ("b", 3): 5,
        ("e",): 8,
    }
    assert found.twice == [(("a",), 8)]


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(),
    lambda part: st.lists(part, max_size=4) | st.dictionaries(st.text(), part, max_size=4),
    max_leaves=20,
)


@given(JSON, st.sampled_from([None, 0, 1, "\t"]), st.booleans())
def test_every_path_of_any_json_is_found(value, indent, ascii_only):
    """Whatever the value and its layout, just its paths are found, on lines that exist and never go back."""
    text = json.dumps(value, indent=indent, ensure_ascii=ascii_only)
    lines = locate_values(text).lines
    assert list(lines) == list_paths(json.loads(text))
    numbers = list(lines.values())
    assert numbers == sorted(numbers)
    assert numbers[-1] <= text.count("\n") + 1


@given(st.lists(st.text(min_size=1) | st.integers(0, 99), max_size=4))
def test_different_paths_are_written_differently(parts):
    """A JSONPath leads to one place: its parts can be told from each other."""
    path = tuple(parts)
    assert format_path((*path, "a")) != format_path(path)
    assert format_path((*path, "a.b")) != format_path((*path, "a", "b"))
    assert format_path((*path, "0")) != format_path((*path, 0))
