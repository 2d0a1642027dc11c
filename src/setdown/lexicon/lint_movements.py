"""Checks of ``movements/*.csv``."""

from __future__ import annotations

from collections.abc import Iterator

from setdown.lexicon.compounds import Compounds
from setdown.lexicon.everyday import FUNCTION_WORDS, load_everyday
from setdown.lexicon.lint_base import Finding, Row, Sheet, check_choice, check_ids, check_known, list_rows
from setdown.lexicon.normal import normalise_name
from setdown.lexicon.vocabulary import BASES, COUNTED, MOVEMENT_ID, PATTERNS, SIDED

# Directions and sides say nothing by themselves either: 'up and down' is no name unless marked weak.
_LEADS_NOWHERE = FUNCTION_WORDS | frozenset(
    ["left", "right", "side", "back", "front", "forward", "way", "time", "more", "middle", "center"]
)


def check_movements(sheets: dict[str, list[Sheet]]) -> Iterator[Finding]:
    """Ids, closed lists, references, and names."""
    rows = list_rows(sheets, "movements")
    by_id = {row.cells["id"]: row for row in rows}
    muscles = {row.cells["id"] for row in list_rows(sheets, "muscles")}
    kit = {row.cells["id"] for row in list_rows(sheets, "kit")}
    yield from check_ids(rows, MOVEMENT_ID, "movement")
    for row in rows:
        yield from _check_family(row, by_id)
        yield from check_choice(row, "pattern", PATTERNS)
        yield from check_choice(row, "sided", SIDED)
        yield from check_choice(row, "basis", BASES)
        yield from check_known(row, "primary", muscles, "muscle")
        yield from check_known(row, "secondary", muscles, "muscle")
        yield from check_known(row, "kit", kit, "kit")
        if not row.cells["primary"]:
            yield row.find("primary", "empty", "Every movement works some muscle")
        for ident in sorted(set(row.values("primary")) & set(row.values("secondary"))):
            yield row.find("secondary", f"{ident!r} is primary already", "Take it out of one of the two")
        counted = row.values("counted")
        if not counted:
            yield row.find("counted", "empty", f"One or more of: {', '.join(COUNTED)}")
        for way in counted:
            if way not in COUNTED:
                yield row.find("counted", f"{way!r} is not known", f"One or more of: {', '.join(COUNTED)}")
    yield from _check_names(rows)
    yield from _check_same_names(rows)
    yield from _check_kit_names(rows, list_rows(sheets, "kit"))


def _check_family(row: Row, by_id: dict[str, Row]) -> Iterator[Finding]:
    family = row.cells["family"]
    if family not in by_id:
        problem = f"no movement has the id {family!r}" if family else "empty"
        yield row.find("family", problem, "The id of the basic movement; its own id when it is the basic one")
    elif by_id[family].cells["family"] != family:
        basic = by_id[family].cells["family"]
        yield row.find("family", f"{family!r} is itself a variant, of {basic!r}", f"Write {basic!r}")


def list_names(row: Row) -> list[tuple[str, str]]:
    """The names of a movement as ``(column, name as it stands)``."""
    return [("name", row.cells["name"]), *(("names", name) for name in row.values("names"))]


def _check_names(rows: list[Row]) -> Iterator[Finding]:
    everyday = load_everyday()
    for row in rows:
        if not row.cells["name"]:
            yield row.find("name", "empty", "The usual trade name, singular")
        for column, name in list_names(row):
            plain = name.removesuffix("?").strip()
            forms = normalise_name(plain)
            if "?" in plain or (name and not forms):
                yield row.find(column, f"{name!r} is no name", "One question mark, and only at the end")
            elif not name.endswith("?") and forms and _is_everyday_name(plain, forms, everyday):
                hint = f"Write {name + '?'!r}, so that it counts only where a movement is wanted"
                yield row.find(column, f"{name!r} is everyday talk too", hint)


def _is_everyday_name(name: str, forms: tuple[str, ...], everyday: frozenset[str]) -> bool:
    if all(form in _LEADS_NOWHERE or form.isdigit() for form in forms):
        return True
    # Two words written as one ('pushup', 'sit-up') are a name; a single word must not be one of everyday talk.
    return len(forms) == 1 and " " not in name and forms[0] in everyday


def _check_same_names(rows: list[Row]) -> Iterator[Finding]:
    compounds = Compounds(normalise_name(name) for row in rows for _, name in list_names(row))
    first: dict[tuple[str, ...], tuple[Row, str]] = {}
    for row in rows:
        for column, name in list_names(row):
            forms = compounds.cut_name(name)
            if not forms:
                continue
            other, as_written = first.setdefault(forms, (row, name))
            if other.cells["id"] != row.cells["id"]:
                there = f"{other.cells['id']!r} ({other.file}:{other.line})"
                same = "" if as_written == name else f" as {as_written!r}"
                yield row.find(column, f"{name!r} is a name of {there} too{same}", "Leave it with one of the two")


def _check_kit_names(rows: list[Row], kit_rows: list[Row]) -> Iterator[Finding]:
    kit = {normalise_name(name): row.cells["id"] for row in kit_rows for _, name in list_names(row)}
    for row in rows:
        for column, name in list_names(row):
            if not name.endswith("?") and normalise_name(name) in kit:
                hint = f"Write {name + '?'!r}, or take it out"
                yield row.find(column, f"{name!r} is also the kit {kit[normalise_name(name)]!r}", hint)
