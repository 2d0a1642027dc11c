"""Figures: the same bytes each time, sound files, readable without colour, and told in words."""

from __future__ import annotations

import io
import re
import subprocess
import sys
from functools import partial
from itertools import combinations
from pathlib import Path

import defusedxml.ElementTree as ElementTree
import pytest
from PIL import Image  # comes with Matplotlib

from make_routine import make_routine
from measure.make_measured import make_class, make_one, make_sets
from setdown.errors import SetdownError
from setdown.measure import measure_routine
from setdown.measure.figure import (
    describe_comparison,
    describe_loads,
    describe_muscles,
    describe_time_line,
    draw_comparison,
    draw_loads,
    draw_muscles,
    draw_time_line,
    has_loads,
)
from setdown.measure.figure.palette import EMPTY, INK, LIGHT, PALE, STRONG
from setdown.model.routine import Load

SVG = "{http://www.w3.org/2000/svg}"
NASTY = "<script>alert(1)</script> $\\frac{1}{0}$ & \x1b[2J 深蹲"


def sample():
    """A class with loads in both units, sides, a load that is unknown, and stretches."""
    sets = make_sets(
        ("biceps-curl", {"reps": 12, "load": (10, "lb", "per_hand")}),
        ("overhead-press", {"reps": 12, "load": (8, "kg", "per_hand"), "round": 1}),
        ("biceps-curl", {"reps": 12, "load": Load(rel="lighter"), "round": 2}),
        ("single-arm-row", {"reps": 12, "load": (20, "lb", "per_hand"), "side": "left"}),
        ("single-arm-row", {"reps": 12, "load": (20, "lb", "per_hand"), "side": "right"}),
        ("hamstring-stretch", {"side": "left"}),
    )
    return make_class(sets, arrangement="circuit")


def draw_all(form, routine):
    """Every figure by name."""
    measures = measure_routine(routine)
    return {
        "time line": draw_time_line(routine, form),
        "muscles": draw_muscles(measures, form),
        "loads": draw_loads(routine, form),
        "comparison": draw_comparison([measures, measure_routine(make_routine())], form),
    }


@pytest.fixture(scope="module")
def svgs():
    """The figures of the sample as SVG."""
    return {name: data.decode() for name, data in draw_all("svg", sample()).items()}


@pytest.fixture(scope="module")
def pngs():
    """The figures of the sample as PNG."""
    return draw_all("png", sample())


def test_the_same_bytes_each_time(svgs, pngs):
    """Drawn again after others: the same bytes."""
    draw_time_line(make_routine())
    assert {name: data.decode() for name, data in draw_all("svg", sample()).items()} == svgs
    assert draw_all("png", sample()) == pngs


@pytest.mark.slow
def test_the_same_bytes_in_another_process(svgs, tmp_path):
    """Another process with another hash seed draws the same."""
    code = (
        "import sys; sys.path[:0] = sys.argv[1:2]\n"
        "from measure.test_figures import draw_all, sample\n"
        "sys.stdout.buffer.write(draw_all('svg', sample())['time line'])"
    )
    tests = str(Path(__file__).parents[1])
    for seed in "12":
        environment = {
            "PYTHONHASHSEED": seed,
            "PATH": "",
            "PYTHONPATH": ":".join(sys.path),
            "MPLCONFIGDIR": str(tmp_path),
        }
        ran = subprocess.run([sys.executable, "-c", code, tests], capture_output=True, env=environment, check=True)
        assert ran.stdout.decode() == svgs["time line"]


def test_an_svg_is_sound_and_says_what_it_is(svgs):
    """Well-formed, named and described for a screen reader, without dates, programs or anything from elsewhere."""
    for name, svg in svgs.items():
        root = ElementTree.fromstring(svg)
        assert root.tag == f"{SVG}svg"
        title, description = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
        assert root.get("role") == "img"
        assert root.get("aria-labelledby").split() == [title.get("id"), description.get("id")]
        assert title.text and len(description.text) > 40, name
        assert not re.search(r"matplotlib|metadata|<script|<image|(href|src)=\"(?!#)", svg, re.IGNORECASE)
        assert not re.search(r"\b(19|20)\d\d-\d\d-\d\d", svg)


def test_ids_are_whole_and_the_figures_own(svgs):
    """Every reference inside a figure is met, no id comes twice, not even with all figures in one page."""
    seen: list[str] = []
    for svg in svgs.values():
        ids = re.findall(r'\bid="([^"]+)"', svg)
        wanted = re.findall(r'href="#([^"]+)"', svg) + re.findall(r"url\(#([^)]+)\)", svg)
        assert set(wanted) <= set(ids)
        seen += ids
    assert len(seen) == len(set(seen))


def test_a_png_is_fit_for_print(pngs):
    """7 inches at 200 dots, on white, with the description in it."""
    for name, data in pngs.items():
        image = Image.open(io.BytesIO(data))
        assert image.width == 1400, name
        assert round(image.info["dpi"][0]) == 200
        assert image.convert("RGB").getpixel((1, 1)) == (255, 255, 255)
        assert "Software" not in image.info
        assert image.info["Description"]


def test_text_of_a_class_is_inert():
    """Markup, formulas, control characters and letters that the font lacks are drawn or shown as they are."""
    routine = sample()
    routine.title = NASTY
    for group in routine.sections[0].groups:
        for one in group.sets:
            one.exercise.name = NASTY
    for data in draw_all("svg", routine).values():
        text = data.decode()
        ElementTree.fromstring(text)
        assert "<script" not in text
        assert "\x1b" not in text
    assert "&lt;script&gt;alert(1)" in draw_time_line(routine).decode()


def test_without_matplotlib_the_message_says_what_to_install(monkeypatch):
    """The extra is named; everything else works without it."""
    monkeypatch.setitem(sys.modules, "matplotlib", None)
    routine = sample()
    measures = measure_routine(routine)
    for draw in (partial(draw_time_line, routine), partial(draw_muscles, measures), partial(draw_loads, routine)):
        with pytest.raises(SetdownError, match="Matplotlib") as caught:
            draw()
        assert 'pip install "setdown[figures]"' in caught.value.hint


def test_nothing_to_draw_is_still_a_figure():
    """A class without sets or loads gives figures that say so."""
    empty = make_class([])
    assert not has_loads(empty)
    for data in draw_all("svg", empty).values():
        ElementTree.fromstring(data.decode())
    assert describe_loads(empty) == "No loads were said."


def test_a_long_class_is_drawn():
    """Two hundred sets of forty exercises, times beyond the recording: higher, not wider."""
    sets = [make_one(f"no-such-move-{at % 40}", at * 30.0, at * 30.0 + 20) for at in range(200)]
    image = Image.open(io.BytesIO(draw_time_line(make_class(sets), "png")))
    assert image.width == 1400
    assert image.height > 1400


def relative_luminance(colour: str) -> float:
    """WCAG 2.1, definition of relative luminance."""
    import matplotlib.colors

    parts = matplotlib.colors.to_rgb(colour)
    red, green, blue = (p / 12.92 if p <= 0.03928 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """WCAG 2.1, definition of contrast ratio."""
    low, high = sorted((relative_luminance(one), relative_luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_paints_are_told_apart_without_colour():
    """WCAG 2.1, 1.4.1: nothing rests on hue alone. Any two differ in hatching or by 3 to 1 (1.4.11) in lightness."""
    for one, other in combinations((STRONG, LIGHT, PALE, EMPTY), 2):
        assert one.hatch != other.hatch or contrast(one.fill, other.fill) >= 3
    assert contrast(STRONG.fill, LIGHT.fill) >= 3
    assert contrast(STRONG.fill, PALE.fill) >= 3


def test_text_and_edges_have_contrast():
    """WCAG 2.1, 1.4.3 (4.5 to 1 for text) and 1.4.11 (3 to 1 for edges)."""
    assert contrast(STRONG.fill, STRONG.text) >= 4.5
    assert contrast(INK, "white") >= 4.5
    assert all(contrast(INK, paint.fill) >= 3 for paint in (LIGHT, PALE, EMPTY))


def test_figures_in_words():
    """The alternative texts say what the figures show."""
    routine = sample()
    measures = measure_routine(routine)
    assert describe_time_line(routine) == (
        "Time line. main 0:00 to 5:40, 6 sets: biceps curl, overhead press, single arm row, hamstring stretch."
    )
    assert "biceps 2.5" in describe_muscles(measures)  # two curls, and half of a row of two sides
    assert "hamstrings 0.5" in describe_muscles(measures).split("stretch")[1]
    assert describe_loads(routine) == (
        "Loads in lb as the instructor used them, set by set. biceps curl in each hand: 10, unknown; "
        "overhead press in each hand: 17.6; single arm row in each hand: 20, 20."  # 8 kg = 17.637 lb (NIST SP 811)
    )
    assert describe_loads(routine, "kg").startswith("Loads in kg")
    assert "Pier Basics: 4.0" not in describe_comparison([measures, measures])
    assert "Pier Basics: 4 minutes in sets, 1.7 at rest" in describe_comparison([measures, measures])


def test_too_many_classes_for_one_picture():
    """Two to six classes fit a page."""
    measures = measure_routine(sample())
    for count in (1, 7):
        with pytest.raises(SetdownError, match=f"cannot compare {count} classes"):
            draw_comparison([measures] * count)
