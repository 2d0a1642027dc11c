"""What ``measure`` and ``compare`` share: their options as values, reading the classes, tables as text."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from setdown.cli.load import load_routine
from setdown.cli.outcome import describe_failure, format_failure
from setdown.cli.progress import iterate_files
from setdown.cli.terminal import clean_text, warn
from setdown.errors import SetdownError

if TYPE_CHECKING:
    from setdown.measure import Conventions, Measures, Own, Units


def parse_units(units: str) -> Units:
    """``lb``, ``kg`` or ``both``. Raises SetdownError for anything else."""
    from setdown.measure import UNITS

    for known in UNITS:
        if units.strip().lower() == known:
            return known
    raise SetdownError(f"--units cannot be {units!r}", expected=", ".join(UNITS))


def parse_conventions(secondary: str, sections: str) -> Conventions:
    """The conventions that the options choose. Raises SetdownError for shares and sections that there are not."""
    from setdown.measure import DEFAULT_CONVENTIONS, SECTION_KINDS, Conventions

    kinds = tuple(part.strip().lower().replace("-", "_") for part in sections.split(",") if part.strip())
    kinds = SECTION_KINDS if kinds == ("all",) else kinds or DEFAULT_CONVENTIONS.sections
    for kind in kinds:
        if kind not in SECTION_KINDS:
            raise SetdownError(f"--sections cannot be {kind!r}", expected=f"all, or of {', '.join(SECTION_KINDS)}")
    try:
        share = Fraction(secondary)
    except (ValueError, ZeroDivisionError) as error:
        raise SetdownError(f"--secondary cannot be {secondary!r}", expected="a number from 0 to 1") from error
    if not 0 <= share <= 1:
        raise SetdownError(f"--secondary cannot be {secondary!r}", expected="a number from 0 to 1")
    return Conventions(secondary=share, sections=kinds)


def parse_body_mass(text: str | None) -> Fraction | None:
    """Kilograms of ``70``, ``70kg`` or ``154lb``. Raises SetdownError for what is no body mass of a person."""
    from setdown.measure import parse_mass

    if text is None:
        return None
    expected = "a body mass such as 70, 70kg or 154lb"
    try:
        mass = parse_mass(text)
    except ValueError as error:
        raise SetdownError(f"--body-mass cannot be {text!r}", expected=expected) from error
    if not 20 <= mass <= 400:
        raise SetdownError(f"--body-mass cannot be {text!r}", expected=f"{expected}, from 20 to 400 kg")
    return mass


def measure_files(
    files: Sequence[str],
    own_lexicons: Sequence[str],
    conventions: Conventions,
    body_mass_kg: Fraction | None = None,
    own_sets: Sequence[str] = (),
) -> tuple[list[Measures], int]:
    """The measures of each file that can be used, and how many could not.

    Each failure is told at once; that of an only file is raised.
    """
    from setdown.lexicon import load_lexicon
    from setdown.measure import measure_routine, parse_own

    paths = tuple(Path(path) for path in own_lexicons)
    lexicon = load_lexicon(paths)
    own: list[Own] = [parse_own(text, lexicon) for text in own_sets]
    found, failed = [], 0
    for file in iterate_files(files):
        try:
            routine = load_routine(file, paths)
            found.append(
                measure_routine(routine, lexicon=lexicon, conventions=conventions, body_mass_kg=body_mass_kg, own=own)
            )
        except (SetdownError, OSError) as error:
            if len(files) == 1:
                raise
            warn(format_failure(describe_failure(error, file)))
            failed += 1
    return found, failed


def lay_out(rows: Sequence[tuple[str, Sequence[str]]], headings: Sequence[str], titles: Sequence[str] = ()) -> str:
    """Lines of a label and its values in columns, under a heading wherever ``headings`` changes."""
    shown = [[clean_text(" ".join(cell.split())) for cell in (label, *values)] for label, values in rows]
    top = [["", *(clean_text(" ".join(title.split())) for title in titles)]] if titles else []
    widths = [max((len(line[at]) for line in shown + top), default=0) for at in range(len((shown or top or [[]])[0]))]
    lines = [_pad(line, widths) for line in top]
    last = ""
    for line, heading in zip(shown, headings, strict=True):
        if heading != last:
            lines += ["", clean_text(heading)] if lines else [clean_text(heading)]
            last = heading
        lines.append("  " + _pad(line, widths))
    return "\n".join(lines) + "\n"


def _pad(cells: Sequence[str], widths: Sequence[int]) -> str:
    return "  ".join(cell.ljust(width) for cell, width in zip(cells, widths, strict=True)).rstrip()
