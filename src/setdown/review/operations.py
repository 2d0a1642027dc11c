"""Every edit that a reviewer can make: pure functions from a routine to a routine.

A routine that is passed in is not changed; parts that an edit does not touch are shared, so no part of a routine may be
changed in place. ``Mark`` says who and when. An edit that cannot be raises ``EditRefusedError`` with field, value and
what was expected, and whatever comes back is as valid as what went in (``setdown.check``), and a draft.
"""

from setdown.review.edit_queries import answer_query, dismiss_query, find_query, reopen_query
from setdown.review.edit_sets import add_set, delete_set, join_sets, move_set, shift_set, split_set
from setdown.review.edit_values import EDITABLE, NEW_GROUP, change_group, set_field, set_fields
from setdown.review.refused import EditRefusedError

__all__ = [
    "EDITABLE",
    "NEW_GROUP",
    "EditRefusedError",
    "add_set",
    "answer_query",
    "change_group",
    "delete_set",
    "dismiss_query",
    "find_query",
    "join_sets",
    "move_set",
    "reopen_query",
    "set_field",
    "set_fields",
    "shift_set",
    "split_set",
]
