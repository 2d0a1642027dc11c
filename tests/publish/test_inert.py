"""Text from outside does nothing, wherever it is put."""

from __future__ import annotations

import csv
import io
import json
import re
from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publish.shared import HOSTILE, poison
from publish.strict_vtt import read_strictly
from setdown.publish.inert import (
    dump_json_line,
    dump_json_script,
    escape_markdown,
    escape_srt,
    escape_vtt,
    make_file_stem,
)

ALLOWED = frozenset(
    {"html", "head", "meta", "title", "style", "script", "body", "main", "header", "section", "article", "figure"}
    | {"h1", "h2", "h3", "h4", "p", "b", "q", "small", "span", "div", "dl", "dt", "dd", "ul", "li", "svg", "rect"}
    | {"table", "thead", "tbody", "tr", "th", "td"}
)


class Elements(HTMLParser):
    """Which elements and attributes a page has."""

    def __init__(self) -> None:
        super().__init__()
        self.names: set[str] = set()
        self.attributes: set[str] = set()
        self.scripts = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.names.add(tag)
        self.attributes |= {name for name, _ in attrs}
        self.scripts += tag == "script"


@pytest.mark.parametrize("text", HOSTILE)
def test_a_page_of_hostile_text_has_only_its_own_elements(publish, routine, text):
    """No element, no handler and no script comes in, and the linked data is the JSON that was meant."""
    page = publish(poison(routine, text), "page")["plan.html"]
    found = Elements()
    found.feed(page)
    assert found.names <= ALLOWED
    assert found.scripts == 1
    assert not any(name.startswith("on") for name in found.attributes)
    assert found.attributes.isdisjoint({"href", "src"})
    script = re.search(r'<script type="application/ld\+json">\n(.*?)\n</script>', page, re.S)
    assert script is not None
    assert json.loads(script[1])["@graph"]
    assert "{{" not in page.replace("{{ jinja }}", "")


@pytest.mark.parametrize("text", HOSTILE)
def test_every_track_of_hostile_text_is_still_strict(publish, routine, transcript, text):
    """Chapters, sets and captions keep to the standard."""
    made = publish(poison(routine, text), "chapters", "track", "captions", transcript=transcript)
    read_strictly(made["chapters.vtt"].encode(), "chapters")
    for cue in read_strictly(made["sets.vtt"].encode(), "metadata"):
        assert json.loads(cue.text)["exercise"]["name"]
    read_strictly(made["captions.vtt"].encode())


@pytest.mark.parametrize("text", HOSTILE)
def test_no_cell_of_hostile_text_starts_a_formula(publish, routine, text):
    """OWASP, 'CSV Injection': no cell begins with = + - @, a tab or a line end."""
    sheet = publish(poison(routine, text), "sheet")["sheet.csv"]
    for row in csv.reader(io.StringIO(sheet)):
        for cell in row:
            assert not cell.startswith(("=", "+", "@", "\t", "\r", "\n"))
            assert not cell.startswith("-") or re.fullmatch(r"-\d+(\.\d+)?", cell)


@pytest.mark.parametrize("text", HOSTILE)
def test_chapter_lines_of_hostile_text_are_one_line_each(publish, routine, text):
    """Every line is a time and a title."""
    lines = publish(poison(routine, text), "chapters")["chapters.txt"].splitlines()
    assert all(re.match(r"(\d+:)?\d{1,2}:\d\d \S", line) for line in lines)


@given(st.text(max_size=80))
def test_markdown_shows_any_text_letter_by_letter(text):
    """No character that Markdown reads is left without its backslash, and it stays on one line."""
    escaped = escape_markdown(text)
    assert "\n" not in escaped
    assert not re.search(r"(?<!\\)(?:\\\\)*[`*_\[\]<>|~&$#]", escaped)
    assert not re.match(r"\s*(?:[-+=:]|\d+[.)])", escaped)
    assert not re.search(r"(?i)(?:https?|ftp)://|\bwww\.", escaped)


@given(st.text(max_size=80))
def test_cue_text_is_always_a_span(text):
    """CommonMark has escapes, WebVTT has character references: nothing else of either gets through."""
    escaped = escape_vtt(text)
    assert "<" not in escaped
    assert ">" not in escaped
    assert "\n\n" not in escaped
    assert not re.search(r"&(?!amp;|lt;|gt;)", escaped)
    escaped.encode()
    assert "-->" not in escape_srt(text)
    assert "\n\n" not in escape_srt(text)


@given(st.recursive(st.text(max_size=20), lambda inner: st.lists(inner, max_size=3), max_leaves=5))
def test_json_is_the_same_value_and_ends_no_element(value):
    """Escapes are of JSON itself, so that a reader gets the value back."""
    for text in (dump_json_line(value), dump_json_script(value)):
        assert json.loads(text) == value
        assert not set(text) & set("<>&\u2028\u2029")
        text.encode()


@given(st.text(max_size=120))
def test_a_file_name_is_safe_on_every_system(text):
    """Letters, digits and hyphens; not empty; no device (Microsoft, 'Naming Files, Paths, and Namespaces')."""
    stem = make_file_stem(text)
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", stem)
    assert len(stem) <= 90
    assert stem not in {"con", "prn", "aux", "nul", "com1", "lpt1"}


@pytest.mark.parametrize("text", ["con", "NUL", "lpt1", "com0"])
def test_a_device_is_no_file_name(text):
    """A class called Nul is published all the same."""
    assert make_file_stem(text) == f"{text.lower()}-class"
