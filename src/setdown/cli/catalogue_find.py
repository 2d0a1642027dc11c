"""What ``setdown catalogue find`` asks and shows."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Sequence
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from setdown.cli.outcome import DONE, FINDINGS
from setdown.cli.terminal import clean_text, say, warn, write_result
from setdown.errors import SetdownError
from setdown.model.timecode import format_clock
from setdown.sheet import escape_cell, format_number

if TYPE_CHECKING:
    import sqlite3

    from setdown.catalogue.query import Answer, Hit, Query

FORMS = ("table", "json", "csv")
HITS_SHOWN = 8  # of one class, in the table
CSV_COLUMNS = (
    "title", "date", "instructor", "status", "minutes", "source", "start_s", "end_s", "movement", "section", "side",
    "reps", "work_s", "load", "unit", "finisher", "words", "likeness", "repeats", "link",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class FindOptions:
    """The options as the user wrote them."""

    movement: Sequence[str] = ()
    muscle: Sequence[str] = ()
    pattern: Sequence[str] = ()
    section: Sequence[str] = ()
    arrangement: Sequence[str] = ()
    finisher: Sequence[str] = ()
    side: Sequence[str] = ()
    load: str = ""
    reps: str = ""
    kit: Sequence[str] = ()
    only_kit: str = ""
    minutes: str = ""
    instructor: Sequence[str] = ()
    since: str = ""
    until: str = ""
    status: Sequence[str] = ()
    said: str = ""
    exact: bool = False
    family: bool = False
    helping: bool = False
    limit: int = 20
    notes: list[str] = field(default_factory=list)


def find_and_show(
    options: FindOptions,
    form: str,
    catalogue: Path,
    lexicon: Sequence[str],
    like: str = "",
    repeats: bool = False,
) -> int:
    """Answer and write; the exit code."""
    from setdown.catalogue.ask import find_class
    from setdown.catalogue.find import find_classes
    from setdown.catalogue.find_like import find_alike, list_repeats
    from setdown.catalogue.store import open_store

    if like and repeats:
        raise SetdownError("--like and --repeats are two questions", hint="Ask one of them")

    if form not in FORMS:
        raise SetdownError(f"--as {form} is not known", expected=", ".join(FORMS))
    with closing(open_store(catalogue)) as store:
        query = build_query(options, store, lexicon)
        for note in options.notes:
            warn(f"setdown: {note}")
        if repeats:
            answers = list_repeats(store, query)
        elif like:
            answers = find_alike(store, find_class(store, like), query)
        else:
            answers = find_classes(store, query)
    show_answers(answers, form, query.limit)
    return DONE if answers else FINDINGS


def build_query(options: FindOptions, store: sqlite3.Connection, lexicon: Sequence[str]) -> Query:
    """The query that the options mean; guesses are noted in ``options.notes``.

    Raises:
        SetdownError: a value is not understood.
    """
    from typing import get_args

    from setdown.catalogue import ranges, words
    from setdown.catalogue.ask import find_instructors, list_unknown, want_movement
    from setdown.catalogue.query import Query
    from setdown.lexicon import load_lexicon
    from setdown.model import routine as model

    known = load_lexicon([Path(file) for file in lexicon])
    unknown = list_unknown(store) if options.movement else {}

    def note(text: str, meant: Any) -> str:
        if meant.guessed:
            options.notes.append(f"{text!r} was taken for {meant.name!r}")
        return str(meant.id)

    movements = []
    for text in options.movement:
        wanted = want_movement(text, known, unknown, exact=options.exact, family=options.family)
        if wanted.guessed:
            options.notes.append(f"{text!r} was taken for {wanted.name!r}")
        movements.append(wanted)
    finishers = get_args(model.Finisher.model_fields["kind"].annotation)
    only = None
    if options.only_kit:
        pieces = [part for part in options.only_kit.split(",") if part.strip()]
        named = [] if options.only_kit.strip().lower() == "none" else pieces
        only = frozenset(note(part.strip(), words.resolve_kit(part, known)) for part in named)
    return Query(
        movements=tuple(movements),
        muscles=tuple(note(text, words.resolve_muscle(text, known)) for text in options.muscle),
        helping=options.helping,
        patterns=tuple(note(text, words.resolve_pattern(text, known)) for text in options.pattern),
        sections=_choose_all("section", options.section, get_args(model.SectionKind)),
        arrangements=_choose_all("arrangement", options.arrangement, get_args(model.Arrangement)),
        finishers=_choose_all("finisher", options.finisher, finishers),
        sides=_choose_all("side", options.side, get_args(model.Side)),
        load=ranges.parse_load(options.load) if options.load else None,
        reps=ranges.parse_reps(options.reps) if options.reps else None,
        kit=tuple(note(part, words.resolve_kit(part, known)) for text in options.kit for part in text.split(",")),
        only_kit=only,
        minutes=ranges.parse_minutes(options.minutes) if options.minutes else None,
        instructors=find_instructors(store, options.instructor) if options.instructor else None,
        since=ranges.parse_day(options.since) if options.since else "",
        until=ranges.parse_day(options.until) if options.until else "",
        statuses=_choose_all("status", options.status, ("draft", "reviewed", "published")),
        words=options.said,
        limit=options.limit,
    )


def _choose_all(kind: str, texts: Sequence[str], known: Sequence[str]) -> tuple[str, ...]:
    from setdown.catalogue.words import choose_word

    return tuple(choose_word(kind, text, known) for text in texts)


def show_answers(answers: Sequence[Answer], form: str, limit: int = 0) -> None:
    """Write the answers to standard output."""
    if form == "json":
        write_result(json.dumps([describe_answer(one) for one in answers], ensure_ascii=False, indent=1) + "\n")
    elif form == "csv":
        write_result(format_csv(answers))
    else:
        write_result("".join(format_answer(one) for one in answers) or "no class answers\n")
        if limit and len(answers) == limit:
            say(f"the first {limit}; --limit shows more")


def describe_answer(answer: Answer) -> dict[str, Any]:
    """An answer as plain values; times in seconds."""
    from setdown.catalogue.links import link_moment

    shown: dict[str, Any] = {
        "title": answer.title,
        "date": answer.date,
        "instructor": answer.instructor,
        "status": answer.status,
        "minutes": round(answer.minutes, 2),
        "sets": answer.sets,
        "kit": list(answer.kit),
        "source": answer.source,
        "link": link_moment(answer, answer.hits[0].start_ms if answer.hits else 0),
    }
    if answer.likeness is not None:
        shown["likeness"] = round(answer.likeness, 4)
    if answer.repeats:
        shown["repeats"] = answer.repeats
    shown["moments"] = [_describe_hit(answer, hit) for hit in answer.hits]
    return shown


def _describe_hit(answer: Answer, hit: Hit) -> dict[str, Any]:
    from setdown.catalogue.links import link_moment

    values: dict[str, Any] = {
        "start": hit.start_ms / 1000,
        "end": hit.end_ms / 1000,
        "movement": hit.name,
        "section": hit.section,
        "side": hit.side,
        "reps": hit.reps,
        "work_s": hit.work_s,
        "load": hit.load,
        "unit": hit.unit,
        "finisher": hit.finisher,
        "words": hit.words,
    }
    told = {key: value for key, value in values.items() if value not in ("", None)}
    return told | {"link": link_moment(answer, hit.start_ms)}


def format_csv(answers: Sequence[Answer]) -> str:
    """One row a moment; a class without one has a row of its own. Safe to open in a spreadsheet."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(CSV_COLUMNS)
    for answer in answers:
        whole = describe_answer(answer)
        for moment in whole["moments"] or [{"link": whole["link"]}]:
            row = {**whole, **moment, "start_s": moment.get("start"), "end_s": moment.get("end")}
            writer.writerow([_write_cell(row.get(column)) for column in CSV_COLUMNS])
    return text.getvalue()


def _write_cell(value: object) -> str:
    if isinstance(value, int | float):
        return format_number(value)
    return escape_cell("" if value is None else str(value))


def format_answer(answer: Answer) -> str:
    """An answer for a terminal: a line about the class, then a line for each moment."""
    from setdown.catalogue.links import link_moment

    about = [
        answer.date or "no date",
        answer.title,
        answer.instructor,
        f"{answer.minutes:.0f} min",
        f"{answer.sets} sets",
    ]
    if answer.likeness is not None:
        about.insert(0, f"{answer.likeness:.2f}")
    if answer.status != "draft":
        about.append(answer.status)
    lines = ["  ".join(part for part in about if part), f"    {answer.source}"]
    if answer.repeats:
        lines.append(f"    repeats {answer.repeats}")
    for hit in answer.hits[:HITS_SHOWN]:
        lines.append(
            f"    {format_clock(hit.start_ms):>7}  {_tell_hit(hit)}".rstrip()
            + _tell_link(link_moment(answer, hit.start_ms))
        )
    if len(answer.hits) > HITS_SHOWN:
        lines.append(f"             and {len(answer.hits) - HITS_SHOWN} more")
    return clean_text("\n".join(" ".join(line.split("\n")) for line in lines)) + "\n"


def _tell_link(link: str) -> str:
    return f"  {link}" if link else ""


def _tell_hit(hit: Hit) -> str:
    if hit.words:
        return f"“{hit.words}”"
    dose = f"{hit.reps} reps" if hit.reps else f"{format_number(hit.work_s)} s" if hit.work_s else ""
    load = f"{format_number(hit.load)} {hit.unit}" if hit.load is not None else ""
    return ", ".join(
        part for part in (hit.name, hit.side, dose, load, hit.finisher, hit.section.replace("_", "-")) if part
    )
