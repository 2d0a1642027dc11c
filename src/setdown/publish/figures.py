"""The figures of a class as documents, each with its description in words beside it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from setdown.measure.figure import (
    FORMS,
    describe_loads,
    describe_muscles,
    describe_time_line,
    draw_loads,
    draw_muscles,
    draw_time_line,
    has_loads,
)

if TYPE_CHECKING:
    from setdown.publish.outputs import Document, Publication


def draw_figures(publication: Publication) -> list[Document]:
    """Time line, sets for each muscle, and loads over the rounds where there are any; as SVG, PNG and words.

    Raises:
        SetdownError: Matplotlib is not installed.
    """
    from setdown.publish.outputs import Document

    routine, measures = publication.routine, publication.measures
    drawn = [(f"figure-time.{form}", draw_time_line(routine, form)) for form in FORMS]
    drawn += [(f"figure-muscles.{form}", draw_muscles(measures, form)) for form in FORMS]
    told = [describe_time_line(routine), describe_muscles(measures)]
    if has_loads(routine):
        drawn += [(f"figure-loads.{form}", draw_loads(routine, form)) for form in FORMS]
        told.append(describe_loads(routine))
    words = publication.name("figures.txt", "\n\n".join(told) + "\n")
    return [*(Document(f"{publication.stem}.{name}", data) for name, data in drawn), words]
