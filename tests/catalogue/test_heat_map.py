"""The picture of a balance, and the same in words."""

from __future__ import annotations

import base64
import io
import itertools
import re
import sys
from fractions import Fraction

import pytest

from setdown.catalogue.balance import Selection, measure_balance
from setdown.catalogue.heat_map import describe_heat_map, draw_heat_map
from setdown.errors import SetdownError
from setdown.lexicon import load_lexicon


@pytest.fixture
def balance(store):
    return measure_balance(store, Selection(since="2024-01-01", until="2024-02-25"), load_lexicon())


def test_in_words(balance):
    """Every group with its sets, its strongest week and how many weeks it was worked in."""
    text = describe_heat_map(balance)
    for name in balance.muscles:
        weekly = {week: sets for (of, week), sets in balance.muscles_by_week.items() if of == name}
        match = re.search(
            rf"{name}: ([\d.]+) sets in (\d+) of {len(balance.weeks)} weeks, most in (\S+) \(([\d.]+)\)", text
        )
        assert match
        assert Fraction(match[1]) == sum(weekly.values())
        assert int(match[2]) == len(weekly)
        assert weekly[match[3]] == max(weekly.values()) == Fraction(match[4])


def test_the_same_balance_gives_the_same_picture(balance):
    """SVG and PNG, byte for byte; the SVG says in words what it shows, and loads nothing."""
    pytest.importorskip("matplotlib", reason="the extra 'figures' is not installed")
    svg = draw_heat_map(balance)
    assert svg == draw_heat_map(balance)
    text = svg.decode()
    assert "<title" in text
    assert describe_heat_map(balance)[:60] in text
    assert not re.search(r"<script|(href|src)=\"(?!#|data:image/png;base64)", text)
    png = draw_heat_map(balance, "png")
    assert png.startswith(b"\x89PNG\r\n\x1a\n")
    assert png == draw_heat_map(balance, "png")


def read_cells(svg: bytes, rows: int, columns: int) -> list[list[float]]:
    """The lightness of the middle of each cell, 0..1 (weights of ITU-R BT.709)."""
    from matplotlib.image import imread

    [(tag, data), *_] = re.findall(r'<image ([^>]*href="data:image/png;base64,([^"]+)"[^>]*)', svg.decode())
    pixels = imread(io.BytesIO(base64.b64decode(data)))
    if "scale(1 -1)" in tag:  # kept upside down and turned round by the viewer
        pixels = pixels[::-1]
    height, width = pixels.shape[:2]
    middles = [
        [pixels[int((r + 0.5) * height / rows), int((c + 0.5) * width / columns)] for c in range(columns)]
        for r in range(rows)
    ]
    return [[float(0.2126 * red + 0.7152 * green + 0.0722 * blue) for red, green, blue, *_ in row] for row in middles]


def test_cells_are_darker_for_more_sets(balance):
    """Over the whole picture: none is white, the least is not, more is never lighter, and much is much darker."""
    pytest.importorskip("matplotlib", reason="the extra 'figures' is not installed")
    groups = [
        name for name in balance.muscles if any((name, week) in balance.muscles_by_week for week in balance.weeks)
    ]
    cells = read_cells(draw_heat_map(balance), len(groups), len(balance.weeks))
    pairs = [
        (balance.muscles_by_week.get((name, week), Fraction(0)), light)
        for name, row in zip(groups, cells, strict=True)
        for week, light in zip(balance.weeks, row, strict=True)
    ]
    none = [light for sets, light in pairs if not sets]
    some = sorted((sets, -light) for sets, light in pairs if sets)
    assert none
    assert min(none) > 0.99
    assert max(-light for _, light in some) < 0.95
    for (fewer, lighter), (more, darker) in itertools.pairwise(some):
        assert fewer == more or darker >= lighter - 0.005  # 255 steps of grey
    assert -some[0][1] - -some[-1][1] > 0.5


def test_no_dates_no_picture(store):
    """It is said what is missing and where it goes."""
    empty = measure_balance(store, Selection(since="2030-01-01"), load_lexicon())
    with pytest.raises(SetdownError, match="no class has a date") as refused:
        draw_heat_map(empty)
    assert "meta.toml" in refused.value.hint


def test_without_matplotlib(balance, monkeypatch):
    """What to install is said; the balance itself needs nothing."""
    monkeypatch.setitem(sys.modules, "matplotlib", None)
    with pytest.raises(SetdownError, match="Matplotlib"):
        draw_heat_map(balance)
