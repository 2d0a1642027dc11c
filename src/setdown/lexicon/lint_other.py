"""Checks of the tables beside the movements."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

from setdown.lexicon.compounds import Compounds
from setdown.lexicon.lint_base import Finding, Row, Sheet, check_choice, check_ids, check_known, list_rows
from setdown.lexicon.lint_movements import list_names
from setdown.lexicon.normal import normalise_name, normalise_word
from setdown.lexicon.vocabulary import FACTORS, LOADED, TABLE_ID, UBERON_ID, UNIT_KINDS

LEAST_SLOTS = 3  # with two keywords, chance meetings in talk outnumber descriptions


def check_described(sheets: dict[str, list[Sheet]]) -> Iterator[Finding]:
    """Descriptions of movements that are not known, or of so few words that anything matches."""
    movements = {row.cells["id"] for row in list_rows(sheets, "movements")}
    seen: dict[tuple[str, frozenset[frozenset[str]]], Row] = {}
    for row in list_rows(sheets, "described"):
        if row.cells["id"] not in movements:
            yield row.find("id", f"no movement has the id {row.cells['id']!r}", "Use an id of movements/*.csv")
        slots = row.cells["keywords"].split()
        if len(slots) < LEAST_SLOTS:
            yield row.find(
                "keywords", f"{len(slots)} keywords", f"At least {LEAST_SLOTS}, or talk will match by chance"
            )
        for slot in slots:
            if any(len(normalise_word(choice)) != 1 for choice in slot.split("|")):
                hint = "Single words joined by |, without hyphens"
                yield row.find("keywords", f"{slot!r} is not a list of words", hint)
        key = row.cells["id"], frozenset(frozenset(slot.split("|")) for slot in slots)
        other = seen.setdefault(key, row)
        if other is not row:
            yield row.find("keywords", f"the same as {other.file}:{other.line}", "Take one out")


def check_misheard(sheets: dict[str, list[Sheet]], phrase_words: frozenset[str]) -> Iterator[Finding]:
    """Mis-hearings that are names themselves, change nothing, lead nowhere or stand twice.

    ``phrase_words`` are the words that phrases of structure and coaching are made of, in normal form.
    """
    movements = list_rows(sheets, "movements")
    compounds = Compounds(normalise_name(name) for row in movements for _, name in list_names(row))
    strong = {compounds.cut_name(n) for row in movements for _, n in list_names(row) if not n.endswith("?")}
    known = set(phrase_words)
    for table in ("movements", "kit", "muscles", "units"):
        for row in list_rows(sheets, table):
            known.update(form for _, name in list_names(row) for form in compounds.cut_name(name))
    seen: dict[tuple[tuple[str, ...], tuple[str, ...]], Row] = {}
    for row in list_rows(sheets, "misheard"):
        heard, said = compounds.cut_name(row.cells["heard"]), compounds.cut_name(row.cells["said"])
        for column, forms in (("heard", heard), ("said", said)):
            if not forms:
                yield row.find(column, "empty", "Write the words")
        if not heard or not said:
            continue
        if heard == said:
            hint = "Spellings, plurals and hyphens are understood without it: take it out"
            yield row.find("heard", "means the same as what was said", hint)
        if heard in strong:
            yield row.find("heard", f"{row.cells['heard']!r} is the name of a movement", "Take it out")
        if not any(form in known or form.isdigit() for form in said):
            hint = "It must hold a word of a movement, muscle, kit, unit or phrase, or a number"
            yield row.find("said", f"{row.cells['said']!r} leads to nothing known", hint)
        other = seen.setdefault((heard, said), row)
        if other is not row:
            yield row.find("heard", f"the same as line {other.line}", "Take one out")


def check_muscles(sheets: dict[str, list[Sheet]]) -> Iterator[Finding]:
    """Ids, UBERON ids, groups and names of muscles."""
    rows = list_rows(sheets, "muscles")
    by_id = {row.cells["id"]: row for row in rows}
    yield from check_ids(rows, TABLE_ID, "muscle")
    yield from _check_same_names(rows, "muscle")
    for row in rows:
        if row.cells["uberon"] and not re.fullmatch(UBERON_ID, row.cells["uberon"]):
            yield row.find("uberon", f"{row.cells['uberon']!r} is no UBERON id", "UBERON: and seven digits, or empty")
        yield from check_known(row, "group", by_id, "muscle")
        walked, at = {row.cells["id"]}, row.cells["group"]
        while at in by_id:
            if at in walked:
                yield row.find("group", "the groups run in a circle", "A group is wider than what is in it")
                break
            walked.add(at)
            at = by_id[at].cells["group"]


def check_kit(sheets: dict[str, list[Sheet]]) -> Iterator[Finding]:
    """Ids, names and the loaded column of kit."""
    rows = list_rows(sheets, "kit")
    yield from check_ids(rows, TABLE_ID, "kit")
    yield from _check_same_names(rows, "kit")
    for row in rows:
        yield from check_choice(row, "loaded", LOADED)


def check_units(sheets: dict[str, list[Sheet]]) -> Iterator[Finding]:
    """Ids, names, kinds and factors of units."""
    rows = list_rows(sheets, "units")
    yield from check_ids(rows, TABLE_ID, "unit")
    yield from _check_same_names(rows, "unit")
    for row in rows:
        yield from check_choice(row, "kind", UNIT_KINDS)
        try:
            factor = float(row.cells["si"])
        except ValueError:
            factor = math.nan
        right = FACTORS.get(row.cells["id"])
        if not (math.isfinite(factor) and factor > 0):
            yield row.find("si", f"{row.cells['si']!r} is no factor", "How many of the base unit one of it is: above 0")
        elif right is not None and not math.isclose(factor, right, rel_tol=1e-12):
            yield row.find("si", f"one {row.cells['id']} is not {row.cells['si']}", f"It is {right}")


def _check_same_names(rows: list[Row], what: str) -> Iterator[Finding]:
    first: dict[tuple[str, ...], Row] = {}
    for row in rows:
        if not row.cells["name"]:
            yield row.find("name", "empty", "The usual name")
        for column, name in list_names(row):
            forms = normalise_name(name)
            other = first.setdefault(forms, row) if forms else row
            if other is not row:
                there = f"{other.cells['id']!r} (line {other.line})"
                yield row.find(column, f"{name!r} is a name of the {what} {there} too", "Leave it with one of the two")
