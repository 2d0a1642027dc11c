"""Drawing so that the same routine gives the same bytes, on paper as on a screen.

Matplotlib is an extra (``pip install "setdown[figures]"``): it is imported when something is drawn, and only there.
Text of a routine is drawn as it stands, never as a formula. Times of day, names of programs and random ids are kept out
of the files; ids of an SVG start with the figure's name, so that several can stand in one page.
"""

from __future__ import annotations

import io
import re
import threading
import unicodedata
import warnings
from collections.abc import Callable
from html import escape
from typing import TYPE_CHECKING, Any, Literal

from setdown.errors import SetdownError
from setdown.measure.figure.palette import INK, Paint

if TYPE_CHECKING:
    from matplotlib.axis import Axis
    from matplotlib.figure import Figure
    from matplotlib.patches import Patch

Form = Literal["svg", "png"]
FORMS: tuple[Form, ...] = ("svg", "png")

WIDTH = 7.0  # inches: fits between the margins of A4 and Letter
DOTS_PER_INCH = 200  # of a PNG; print wants about that
SETTINGS: dict[Any, Any] = {
    "font.family": ["DejaVu Sans"],  # comes with Matplotlib, so that every machine draws the same
    "font.size": 8.5,
    "axes.titlesize": 9.5,
    "axes.titleweight": "bold",
    "axes.titlelocation": "left",
    "axes.linewidth": 0.6,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.axisbelow": True,
    "hatch.linewidth": 0.7,
    "text.parse_math": False,
    "svg.fonttype": "path",
    "figure.facecolor": "white",
    "savefig.facecolor": "white",
}
_DRAWING = threading.Lock()  # Matplotlib's settings are the process's


def draw(name: str, build: Callable[[], Figure], form: Form, title: str, alt: str) -> bytes:
    """The figure that ``build`` makes as the bytes of an SVG or a PNG.

    Args:
        name: a short word that is used in the SVG's ids.
        title: its title, for readers who are told about a picture.
        alt: what it shows, in words.

    Raises:
        SetdownError: Matplotlib is not installed.
    """
    try:
        import matplotlib
    except ImportError as error:
        hint = 'pip install "setdown[figures]" brings it; all other output works without'
        raise SetdownError("figures need Matplotlib, which is not installed", hint=hint) from error
    stream = io.BytesIO()
    with _DRAWING, matplotlib.rc_context({**SETTINGS, "svg.hashsalt": f"setdown-{name}"}), warnings.catch_warnings():
        warnings.simplefilter("ignore", UserWarning)  # a letter that the font lacks becomes a box; that is seen
        figure = build()
        if form == "png":
            figure.savefig(stream, format="png", dpi=DOTS_PER_INCH, metadata={"Software": None, "Description": alt})
            return stream.getvalue()
        figure.savefig(stream, format="svg", metadata={"Date": None, "Creator": None, "Format": None, "Type": None})
    return _finish_svg(stream.getvalue().decode("utf-8"), name, title, alt).encode("utf-8")


def new_figure(height: float) -> Figure:
    """An empty figure of the usual width; ``height`` in inches."""
    from matplotlib.figure import Figure

    return Figure(figsize=(WIDTH, height), layout="constrained")


def make_patch(paint: Paint, label: str) -> Patch:
    """A sample of a paint for the legend."""
    from matplotlib.patches import Patch

    return Patch(facecolor=paint.fill, hatch=paint.hatch, edgecolor=INK, linewidth=0.5, label=label)


def count_in_integers(axis: Axis) -> None:
    """Ticks at whole numbers only."""
    from matplotlib.ticker import MaxNLocator

    axis.set_major_locator(MaxNLocator(nbins="auto", integer=True, steps=[1, 2, 5, 10]))


def shorten(text: str, longest: int = 30) -> str:
    """The text on one line without control characters, cut with an ellipsis when it is longer than a label may be."""
    clean = " ".join("".join(c if unicodedata.category(c)[0] != "C" else " " for c in text).split())
    return clean if len(clean) <= longest else clean[: longest - 1].rstrip() + "…"


def _finish_svg(svg: str, name: str, title: str, alt: str) -> str:
    """Without prologue and metadata, with title and description, and with ids that no other figure has."""
    svg = svg[svg.index("<svg") :]
    svg = re.sub(r"\s*<metadata>.*?</metadata>", "", svg, flags=re.DOTALL)
    svg = svg.replace("matplotlib.axis", "axis")
    svg = re.sub(r'\b(id="|href="#|url\(#)', rf"\g<1>{name}-", svg)
    clean = [escape(shorten(text, 2000), quote=False) for text in (title, alt)]
    labels = f'<title id="{name}-title">{clean[0]}</title>\n <desc id="{name}-desc">{clean[1]}</desc>'
    opening = svg.index(">") + 1
    head = svg[: opening - 1] + f' role="img" aria-labelledby="{name}-title {name}-desc">'
    return f"{head}\n {labels}{svg[opening:]}"
