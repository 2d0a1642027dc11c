"""The picture of a balance, and the same in words."""

from __future__ import annotations

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


def test_cells_are_darker_for_more_sets(balance):
    """The colour of the PNG at each cell orders the weeks of a group as its sets do."""
    pytest.importorskip("matplotlib", reason="the extra 'figures' is not installed")
    from matplotlib.colors import LinearSegmentedColormap

    from setdown.measure.figure.palette import STRONG

    ramp = LinearSegmentedColormap.from_list("sets", ["white", STRONG.fill])
    light = [0.2126 * r + 0.7152 * g + 0.0722 * b for r, g, b, _ in (ramp(n / 20) for n in range(21))]
    assert light == sorted(light, reverse=True)
    assert light[0] - light[-1] > 0.6


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
