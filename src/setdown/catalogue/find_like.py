"""Classes by likeness, among those that meet a query."""

from __future__ import annotations

import sqlite3
from dataclasses import replace

from setdown.catalogue.find import find_ids, read_answers
from setdown.catalogue.like import ALIKE, find_repeats, rank_alike
from setdown.catalogue.query import Answer, Query
from setdown.catalogue.store import read


def find_alike(connection: sqlite3.Connection, class_id: int, query: Query) -> list[Answer]:
    """The classes that train most nearly the same as one class, the likest first, among those that meet the query."""
    with read(connection):
        among = None if query == Query(limit=query.limit) else find_ids(connection, query)
        likeness = dict(rank_alike(connection, class_id, query.limit, among))
        answers = {one.id: one for one in read_answers(connection, list(likeness), query)}
        return [replace(answers[id], likeness=value) for id, value in likeness.items()]


def list_repeats(connection: sqlite3.Connection, query: Query, least: float = ALIKE) -> list[Answer]:
    """The classes that repeat an earlier one, the likest first, among those that meet the query."""
    with read(connection):
        found = find_repeats(connection, least)
        if query != Query(limit=query.limit):
            allowed = find_ids(connection, query)
            found = [one for one in found if one.id in allowed]
        found = found[: query.limit] if query.limit else found
        wanted = sorted({id for one in found for id in (one.id, one.first)})
        answers = {one.id: one for one in read_answers(connection, wanted, Query())}
        return [replace(answers[one.id], likeness=one.likeness, repeats=answers[one.first].source) for one in found]
