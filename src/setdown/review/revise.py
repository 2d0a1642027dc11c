"""A set sheet that was changed in a spreadsheet goes back into its routine."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from setdown.errors import SetdownError
from setdown.lexicon import Lexicon
from setdown.model.routine import Mark, Routine, Set
from setdown.review.assign import assign_pairs
from setdown.review.cells import is_nothing, parse_seconds
from setdown.review.edit_queries import dismiss_query
from setdown.review.edit_sets import insert_set, remove_set
from setdown.review.edit_values import change_cells
from setdown.review.place_rows import RowPlace, place_rows
from setdown.review.refused import EditRefusedError
from setdown.review.settle import settle_edit
from setdown.review.sheet_cells import EditedSheet, SheetRow
from setdown.sheet import routine_to_rows

PLACES = ("section", "group", "arrangement")
READ_ONLY = ("confidence",)
NOT_FOR_NEW = (*PLACES, *READ_ONLY, "queries")
DECIMAL = re.compile(r"\d+[.,]\d+|\d+")


class SheetRefusedError(SetdownError):
    """A row that cannot go back into the routine; ``row`` and ``column`` say which cell, ``also`` what else cannot."""

    also: tuple[SheetRefusedError, ...] = ()

    def __init__(self, error: SetdownError, sheet: EditedSheet, row: SheetRow, column: str) -> None:
        where = sheet.locate(row, column) if column in sheet.columns else f"row {row.number}"
        problem = f"{where}: {error.problem}"
        super().__init__(problem, source=sheet.source, line=row.line, expected=error.expected, hint=error.hint)
        self.row = row
        self.column = column


@dataclass(frozen=True, slots=True)
class Revised:
    """The routine after the sheet: how many sets changed, came and went."""

    routine: Routine
    changed: int
    added: int
    removed: int


def revise_routine(routine: Routine, sheet: EditedSheet, mark: Mark, lexicon: Lexicon) -> Revised:
    """Put what was changed in the sheet into the routine.

    Rows are told apart by what they hold, since a sheet has no ids: a row whose cells are (nearly) those of a set is
    that set; a set without a row was deleted; a row without a set is new. A cell that only looks different (``7,5``,
    ``0:01:05``, ``12.0``) is not changed. A query that was taken out of its cell is dismissed.

    Raises:
        SheetRefusedError: a cell or row that cannot be, with row and column, and with all others of the sheet that
            cannot be either. Nothing of the sheet is taken then.
    """
    before = routine_to_rows(routine)
    sets = [one for _, _, one in routine.iter_sets()]
    _check_times(sheet)
    pairs = match_rows(before, sets, sheet.rows)
    partner = {k: n for n, k in pairs}
    gone = set(range(len(sets))) - set(partner.values())
    revised, changed, added = routine, 0, 0
    for n in sorted(gone):
        revised = remove_set(revised, sets[n].id)
    ids: dict[int, str] = {}
    touched: set[str] = set()
    refused: list[SheetRefusedError] = []
    for k, row in enumerate(sheet.rows):
        try:
            if k in partner:
                n = partner[k]
                ids[k] = sets[n].id
                cells = _find_changed(before[n], sets[n], row)
                changed += bool(cells)
                touched |= {ids[k]} if cells else set()
                values = {c: text for c, text in cells.items() if c not in (*PLACES, "queries")}
                revised, problems = _take_cells(revised, ids[k], values, mark, lexicon)
                refused += [SheetRefusedError(problem, sheet, row, problem.field) for problem in problems]
                if "queries" in cells:
                    revised = _dismiss(revised, ids[k], before[n]["queries"], cells["queries"], mark)
            else:
                cells = {c: text for c, text in row.cells.items() if c not in NOT_FOR_NEW and text}
                revised, ids[k] = insert_set(revised, cells, mark, lexicon)
                touched.add(ids[k])
                added += 1
        except EditRefusedError as error:
            refused.append(SheetRefusedError(error, sheet, row, error.field))
    _raise_all(refused)
    if any(column in sheet.columns for column in PLACES):
        revised = _place(routine, revised, sheet, ids, partner, before, mark)
    try:
        final = settle_edit(routine, revised) if revised is not routine else routine
    except EditRefusedError as error:
        set_id, column = _find_culprit(error, revised, touched)
        row = next((sheet.rows[k] for k, known in ids.items() if known == set_id), sheet.rows[0])
        raise SheetRefusedError(error, sheet, row, column) from error
    return Revised(final, changed, added, len(gone))


def match_rows(
    before: Sequence[dict[str, str]], sets: Sequence[Set], rows: Sequence[SheetRow]
) -> list[tuple[int, int]]:
    """Pairs (set, row of the sheet). Rows may have been sorted; equal cells count, and nearness in time."""
    scores = np.array([[_score_row(b, one, row) for row in rows] for b, one in zip(before, sets, strict=True)])
    return assign_pairs(scores.reshape(len(sets), len(rows)))


def _score_row(before: dict[str, str], one: Set, row: SheetRow) -> float:
    cells = row.cells
    start, end = parse_seconds(cells["start"], "start"), parse_seconds(cells["end"], "end")
    same_name = cells["exercise"] == before["exercise"]
    apart = abs(start - one.start)
    overlap = min(end, one.end) - max(start, one.start)
    if not (apart <= 1 or overlap > 0 or (same_name and apart <= 120)):
        return 0.0
    score = 4.0 * (apart <= 1) + 3.0 * (abs(end - one.end) <= 1) + 3.0 * same_name + 1 / (1 + apart / 10)
    score += 2.0 * max(overlap, 0.0) / max(1.0, min(end - start, one.end - one.start))
    others = [c for c in cells if c in before and c not in ("start", "end", "exercise", *NOT_FOR_NEW)]
    return score + sum(0.2 for c in others if cells[c] == before[c])


def _check_times(sheet: EditedSheet) -> None:
    refused = []
    for row in sheet.rows:
        for column in ("start", "end"):
            try:
                parse_seconds(row.cells[column], column)
            except EditRefusedError as error:
                refused.append(SheetRefusedError(error, sheet, row, column))
    _raise_all(refused)


def _raise_all(refused: list[SheetRefusedError]) -> None:
    if refused:
        refused[0].also = tuple(refused[1:])
        raise refused[0]


def _take_cells(
    routine: Routine, set_id: str, values: dict[str, str], mark: Mark, lexicon: Lexicon
) -> tuple[Routine, list[EditRefusedError]]:
    """The routine with the cells that can be, and why the others cannot."""
    left = dict(values)
    refused: list[EditRefusedError] = []
    while left:
        try:
            return change_cells(routine, set_id, left, mark, lexicon), refused
        except EditRefusedError as error:
            refused.append(error)
            if left.pop(error.field, None) is None:
                break  # the cells do not fit each other: there is no single one to leave out
    return routine, refused


def _find_changed(before: dict[str, str], one: Set, row: SheetRow) -> dict[str, str]:
    """Cells that say something else than the sheet did when it was written."""
    changed = {c: text for c, text in row.cells.items() if not _is_same(c, before[c], text, one)}
    for column in READ_ONLY:
        if is_nothing(changed.get(column, "")):
            changed.pop(column, None)
        else:
            problem = f"{column} is {changed[column]!r}, it was {before[column]!r}"
            hint = "It is not edited: leave it as it was. Was the sheet made before the last edit? Make a new one"
            raise EditRefusedError(problem, field=column, value=changed[column], set=one.id, hint=hint)
    return changed


def _is_same(column: str, before: str, now: str, one: Set | None = None) -> bool:
    if before == now or (is_nothing(before) and is_nothing(now)):
        return True
    if one is not None and column in ("start", "end", "work_s") and not is_nothing(now):
        value = getattr(one, column)
        seconds = parse_seconds(now, column)
        # A spreadsheet shows a time without its tenths, cut off or rounded.
        whole = ":" in now and seconds == int(seconds)
        return value is not None and (abs(seconds - float(before)) < 0.05 or (whole and abs(seconds - value) < 1))
    if DECIMAL.fullmatch(before) and DECIMAL.fullmatch(now):
        return float(before.replace(",", ".")) == float(now.replace(",", "."))
    return False


def _dismiss(routine: Routine, set_id: str, before: str, now: str, mark: Mark) -> Routine:
    asked = [code.strip() for code in re.split(r"[;,]", now) if code.strip()]
    added = [code for code in asked if code not in before.split(";")]
    if added:
        problem = f"there is no open query {added[0]!r} on this set"
        raise EditRefusedError(problem, field="queries", value=now, set=set_id, expected=before or "nothing")
    for query in routine.queries:
        if query.set == set_id and query.state == "open" and query.code not in asked:
            routine = dismiss_query(routine, query.id, mark)
    return routine


def _place(
    routine: Routine,
    revised: Routine,
    sheet: EditedSheet,
    ids: dict[int, str],
    partner: dict[int, int],
    before: Sequence[dict[str, str]],
    mark: Mark,
) -> Routine:
    """Sections, groups and arrangements as the sheet has them, when it says anything new about them."""
    told = {k: {c: row.cells.get(c, "") for c in PLACES if c in sheet.columns} for k, row in enumerate(sheet.rows)}
    new = [k for k in ids if k not in partner and any(told[k].values())]
    changed = [k for k, n in partner.items() if any(not _is_same(c, before[n][c], text) for c, text in told[k].items())]
    if not new and not changed:
        return revised
    places = []
    for k, set_id in ids.items():
        old = before[partner[k]] if k in partner else {}
        cells = {c: told[k].get(c) or old.get(c, "") for c in PLACES}
        places.append(RowPlace(set_id, cells, sheet.rows[k], known=k in partner))
    try:
        return place_rows(routine, revised, places, mark)
    except EditRefusedError as error:
        row = next((p.row for p in places if p.set_id == error.set), sheet.rows[0])
        raise SheetRefusedError(error, sheet, row, error.field) from error


def _find_culprit(error: EditRefusedError, routine: Routine, touched: set[str]) -> tuple[str, str]:
    """The set and the column to blame: not one that nobody edited, but of the edited ones the nearest in time."""
    sets = {one.id: one for _, _, one in routine.iter_sets()}
    found = sets.get(error.set)
    edited = [sets[id] for id in touched if id in sets]
    if found is None or found.id in touched or error.field not in ("start", "end") or not edited:
        return error.set, error.field
    culprit = min(edited, key=lambda one: (max(one.start - found.end, found.start - one.end), one.start))
    return culprit.id, "end" if culprit.start < found.start else "start"
