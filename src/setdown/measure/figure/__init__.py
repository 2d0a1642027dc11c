"""Figures of a class for print and screen: time line, sets for each muscle group, loads over the rounds.

Each ``draw_...`` gives the bytes of an SVG or a PNG, the same for the same routine; each ``describe_...`` says the same
in words, for readers who do not see it.
"""

from __future__ import annotations

from setdown.measure.figure.canvas import FORMS, Form
from setdown.measure.figure.compare import describe_comparison, draw_comparison
from setdown.measure.figure.loads import describe_loads, draw_loads, has_loads
from setdown.measure.figure.muscles import describe_muscles, draw_muscles
from setdown.measure.figure.time_line import describe_time_line, draw_time_line

__all__ = [
    "FORMS",
    "Form",
    "describe_comparison",
    "describe_loads",
    "describe_muscles",
    "describe_time_line",
    "draw_comparison",
    "draw_loads",
    "draw_muscles",
    "draw_time_line",
    "has_loads",
]
