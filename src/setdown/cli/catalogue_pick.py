"""What ``setdown catalogue pick`` asks and shows."""

from __future__ import annotations

import json
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING, Any

from setdown.cli.catalogue_find import FindOptions, build_query, describe_answer, format_answer
from setdown.cli.outcome import DONE, FINDINGS
from setdown.cli.terminal import warn, write_result
from setdown.errors import SetdownError

if TYPE_CHECKING:
    from setdown.catalogue.pick import Pick
    from setdown.catalogue.query import Answer

FORMS = ("table", "json")
OBJECTIVE = (
    "Picked so that the shares of sets for each muscle group, added up over the classes of the last "
    "{window} days and the ones picked, come out as even as they can (least sum of squares)."
)


def pick_and_show(
    options: FindOptions,
    count: int,
    day: str,
    window: str,
    avoid_last: str,
    form: str,
    catalogue: Path,
    lexicon: Sequence[str],
) -> int:
    """Pick and write; the exit code."""
    from setdown.catalogue.find import read_answers
    from setdown.catalogue.pick import PickOptions, pick_classes
    from setdown.catalogue.query import Query
    from setdown.catalogue.ranges import parse_day, parse_span
    from setdown.catalogue.store import open_store
    from setdown.lexicon import load_lexicon

    if form not in FORMS:
        raise SetdownError(f"--as {form} is not known", expected=", ".join(FORMS))
    known = load_lexicon([Path(file) for file in lexicon])
    span = parse_span(window)
    with closing(open_store(catalogue)) as store:
        query = build_query(options, store, lexicon)
        for note in options.notes:
            warn(f"setdown: {note}")
        wanted = PickOptions(query, count, parse_day(day) if day else "", span, parse_span(avoid_last))
        picked = pick_classes(store, wanted, known)
        answers = {one.id: one for one in read_answers(store, picked.ids, Query())}
    chosen = [answers[id] for id in picked.ids]
    if form == "json":
        write_result(json.dumps(describe_pick(picked, chosen), ensure_ascii=False, indent=1) + "\n")
    else:
        write_result(format_pick(picked, chosen, span.days))
    if len(chosen) < count:
        warn(f"setdown: {picked.candidates} classes could be picked, {count} were asked for")
    return DONE if len(chosen) == count else FINDINGS


def describe_pick(picked: Pick, chosen: Sequence[Answer]) -> dict[str, Any]:
    """The pick as plain values."""
    return {
        "day": picked.day or None,
        "classes": [describe_answer(one) for one in chosen],
        "objective": round(picked.objective, 9),
        "proved_best": picked.proved,
        "candidates": picked.candidates,
        "recent": picked.recent,
        "shares_before": picked.before,
        "shares_after": picked.after,
    }


def format_pick(picked: Pick, chosen: Sequence[Answer], window: int) -> str:
    """The pick as text: the classes in order, why, and what it does to the totals."""
    lines = [format_answer(one).rstrip("\n") for one in chosen] or ["no class could be picked"]
    if not chosen:
        return lines[0] + "\n"
    lines += ["", OBJECTIVE.format(window=window)]
    proved = "No other choice is better." if picked.proved else "Found by exchanges; a better choice may exist."
    lines.append(f"{picked.candidates} classes to pick from, {picked.recent} counted as recent. {proved}")
    lines += ["", f"{'share of sets by muscle group':<32}  before   after"]
    for name, after in picked.after.items():
        if after or picked.before[name]:
            lines.append(f"  {name:<30}  {picked.before[name]:6.2f}  {after:6.2f}")
    return "\n".join(lines) + "\n"
