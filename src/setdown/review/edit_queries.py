"""Answer, dismiss and reopen queries."""

from __future__ import annotations

from setdown.lexicon import Lexicon
from setdown.model.routine import Mark, Query, Routine
from setdown.review.edit_values import EDITABLE, change_group, set_fields
from setdown.review.place import find_placed
from setdown.review.refused import EditRefusedError
from setdown.review.settle import make_draft, settle_edit


def find_query(routine: Routine, query_id: str) -> Query:
    """The query with this id.

    Raises:
        EditRefusedError: there is none.
    """
    found = next((q for q in routine.queries if q.id == query_id), None)
    if found is None:
        raise EditRefusedError(f"there is no query {query_id!r}", field="query", value=query_id)
    return found


def answer_query(routine: Routine, query_id: str, answer: str, mark: Mark, lexicon: Lexicon) -> Routine:
    """Settle a query with one of its suggestions, or with a value as it is typed into the cell it is about.

    The value becomes the set's, with the origin ``edited`` even where it was that already: a person vouches for it.

    Raises:
        EditRefusedError: no such query, or the answer is not a value of the field.
    """
    query = find_query(routine, query_id)
    field = query.field.split(".")[0]
    changed = routine
    if query.set and query.code == "rounds-differ":
        _, placed = find_placed(routine, query.set)
        changed = settle_edit(routine, change_group(routine, placed.group.id, {"rounds": answer}, mark), set=query.set)
    elif query.set and field in EDITABLE:
        changed = set_fields(routine, query.set, {field: answer}, mark, lexicon, confirm=True)
    elif not answer.strip():
        raise EditRefusedError("there is no answer", field="query", value=answer, expected="an answer, or dismiss it")
    return _change_query(changed, query_id, {"state": "accepted", "answer": answer.strip(), "settled": mark})


def dismiss_query(routine: Routine, query_id: str, mark: Mark) -> Routine:
    """Settle a query by leaving the value as it is. Raises like ``find_query``."""
    find_query(routine, query_id)
    return _change_query(routine, query_id, {"state": "dismissed", "answer": "", "settled": mark})


def reopen_query(routine: Routine, query_id: str, mark: Mark) -> Routine:
    """Ask a query again. The value that an answer gave stays. Raises like ``find_query``."""
    find_query(routine, query_id)
    return _change_query(routine, query_id, {"state": "open", "answer": "", "settled": None})


def _change_query(routine: Routine, query_id: str, changes: dict[str, object]) -> Routine:
    queries = [q.model_copy(update=changes) if q.id == query_id else q for q in routine.queries]
    return make_draft(routine.model_copy(update={"queries": queries}))
