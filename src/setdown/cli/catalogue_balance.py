"""What ``setdown catalogue balance`` asks and shows."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Mapping, Sequence
from contextlib import closing
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

from setdown.cli.outcome import DONE, FINDINGS
from setdown.cli.terminal import clean_text, warn, write_result
from setdown.errors import SetdownError
from setdown.sheet import escape_cell

if TYPE_CHECKING:
    from setdown.catalogue.balance import Balance

FORMS = ("table", "json", "csv")
WEEKS_SHOWN = 8  # columns of the table: the latest
MOVEMENTS_SHOWN = 15
TITLES_SHOWN = 10


def balance_and_show(
    since: str,
    until: str,
    instructor: Sequence[str],
    weeks: int,
    picture: Path | None,
    form: str,
    replace: bool,
    catalogue: Path,
    lexicon: Sequence[str],
) -> int:
    """Measure, write, draw; the exit code."""
    from setdown.catalogue.ask import find_instructors
    from setdown.catalogue.balance import Selection, measure_balance
    from setdown.catalogue.ranges import parse_day
    from setdown.catalogue.store import open_store
    from setdown.lexicon import load_lexicon

    if form not in FORMS:
        raise SetdownError(f"--as {form} is not known", expected=", ".join(FORMS))
    if picture is not None and picture.suffix.lower() not in (".svg", ".png"):
        raise SetdownError("the picture's kind is not known", source=str(picture), expected="NAME.svg or NAME.png")
    known = load_lexicon([Path(file) for file in lexicon])
    with closing(open_store(catalogue)) as store:
        chosen = Selection(
            instructors=find_instructors(store, instructor) if instructor else None,
            since=parse_day(since) if since else "",
            until=parse_day(until) if until else "",
        )
        found = measure_balance(store, chosen, known, weeks)
    if form == "json":
        write_result(json.dumps(describe_balance(found), ensure_ascii=False, indent=1) + "\n")
    elif form == "csv":
        write_result(format_csv(found))
    else:
        write_result(format_balance(found, weeks))
    if picture is not None:
        _draw(found, picture, replace)
    return DONE if found.classes else FINDINGS


def _draw(found: Balance, picture: Path, replace: bool) -> None:
    from setdown.catalogue.heat_map import draw_heat_map
    from setdown.files import write_file

    data = draw_heat_map(found, "png" if picture.suffix.lower() == ".png" else "svg")
    warn(f"setdown: {picture} {write_file(picture, data, replace=replace)}")


def describe_balance(found: Balance) -> dict[str, Any]:
    """The balance as plain values."""
    return {
        "classes": found.classes,
        "undated": found.undated,
        "until": found.until,
        "weeks": [
            {
                "week": week,
                "classes": found.classes_by_week.get(week, 0),
                "muscles": _of_week(found.muscles_by_week, week),
                "patterns": _of_week(found.patterns_by_week, week),
                "push": float(found.push_by_week.get(week, 0)),
                "pull": float(found.pull_by_week.get(week, 0)),
            }
            for week in found.weeks
        ],
        "muscles": {name: float(sets) for name, sets in found.muscles.items()},
        "eased": {name: float(sets) for name, sets in found.eased.items()},
        "patterns": {name: float(sets) for name, sets in found.patterns.items()},
        "push": float(found.push),
        "pull": float(found.pull),
        "push_to_pull": float(found.ratio) if found.ratio is not None else None,
        "left": found.left,
        "right": found.right,
        "each": found.each,
        "untrained": [{"muscle": one.name, "last": one.last or None, "weeks": one.weeks} for one in found.untrained],
        "movements": [
            {"name": one.name, "classes": one.classes, "sets": one.sets, "last": one.last or None}
            for one in found.movements
        ],
        "without_warm_up": list(found.no_warm_up),
        "without_cool_down": list(found.no_cool_down),
        "sets_of_unknown_movements": found.unknown_sets,
    }


def _of_week(sums: Mapping[tuple[str, str], Fraction], week: str) -> dict[str, float]:
    return {name: float(sets) for (name, of), sets in sorted(sums.items()) if of == week}


def format_csv(found: Balance) -> str:
    """One row for each week and muscle group or pattern: week, kind, name, sets."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(("week", "kind", "name", "sets"))
    for kind, sums in (("muscle", found.muscles_by_week), ("pattern", found.patterns_by_week)):
        for (name, week), sets in sorted(sums.items(), key=lambda one: (one[0][1], one[0][0])):
            writer.writerow((week, kind, escape_cell(name), format_amount(sets)))
    return text.getvalue()


def format_amount(sets: Fraction) -> str:
    """A number of sets with at most two decimals."""
    from setdown.measure import format_amount as write

    return write(sets, 2)


def format_balance(found: Balance, weeks: int) -> str:
    """The balance as text."""
    dated = f"{found.weeks[0]} to {found.weeks[-1]}" if found.weeks else "no dates"
    lines = [f"{found.classes} classes, {dated}"]
    if found.undated:
        lines.append(f"{found.undated} classes have no date: they are in the totals and in no week")
    shown = found.weeks[-WEEKS_SHOWN:]
    lines += _lay_out_weeks("sets for each muscle group", found.muscles, found.muscles_by_week, shown)
    lines += _lay_out_weeks("sets for each pattern", found.patterns, found.patterns_by_week, shown)
    lines += ["", "push and pull"]
    ratio = f", {format_amount(found.ratio)} to 1" if found.ratio is not None else ""
    lines.append(f"  {format_amount(found.push)} sets of push, {format_amount(found.pull)} of pull{ratio}")
    lines += ["", "left and right"]
    lines.append(f"  {found.left} sets on the left, {found.right} on the right, {found.each} of them on each side")
    lines += ["", f"not worked for {weeks} weeks" + (f", up to {found.until}" if found.until else "")]
    lines += [f"  {one.name}: {_tell_last(one.last, one.weeks)}" for one in found.untrained] or ["  none"]
    lines += ["", "how often each movement appears"]
    for one in found.movements[:MOVEMENTS_SHOWN]:
        last = f", last {one.last}" if one.last else ""
        lines.append(f"  {one.name}: {one.classes} classes, {one.sets} sets{last}")
    if len(found.movements) > MOVEMENTS_SHOWN:
        lines.append(f"  and {len(found.movements) - MOVEMENTS_SHOWN} more; --as json has them all")
    for label, titles in (("warm-up", found.no_warm_up), ("cool-down", found.no_cool_down)):
        lines += ["", f"classes without a {label}: {len(titles)}", *(f"  {title}" for title in titles[:TITLES_SHOWN])]
        if len(titles) > TITLES_SHOWN:
            lines.append(f"  and {len(titles) - TITLES_SHOWN} more")
    if found.unknown_sets:
        lines += [
            "",
            f"{found.unknown_sets} sets are of movements that the lexicon does not know: they count for no muscle",
        ]
    lines += ["", "A set counts 1 for a muscle that it works first and 1/2 for one that helps; one side is half a set;"]
    lines.append("the main part counts, or the whole class where it has none. No norm is applied.")
    return clean_text("\n".join(" ".join(line.split("\n")) for line in lines)) + "\n"


def _tell_last(last: str, weeks: int | None) -> str:
    return f"last {last}, {weeks} weeks ago" if last else "in no class that has a date"


def _lay_out_weeks(
    heading: str, totals: Mapping[str, Fraction], sums: Mapping[tuple[str, str], Fraction], weeks: Sequence[str]
) -> list[str]:
    if not totals:
        return []
    table = [["", "all", *(week[2:] for week in weeks)]]
    for name, total in totals.items():
        cells = [format_amount(sums[(name, week)]) if (name, week) in sums else "·" for week in weeks]
        table.append([name, format_amount(total), *cells])
    widths = [max(len(row[at]) for row in table) for at in range(len(table[0]))]
    rows = [
        f"  {row[0].ljust(widths[0])}  " + "  ".join(c.rjust(w) for c, w in zip(row[1:], widths[1:], strict=True))
        for row in table
    ]
    return ["", heading, *rows]
