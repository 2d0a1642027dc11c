"""What the page asks for, done to a routine by the operations of the review, and what to call it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from setdown.lexicon import Lexicon
from setdown.model.routine import Mark, Routine, Set
from setdown.model.timecode import format_clock
from setdown.page import bodies
from setdown.page.view import describe_cells
from setdown.review.cells import parse_seconds
from setdown.review.edit_section import change_section
from setdown.review.operations import (
    add_set,
    answer_query,
    change_group,
    delete_set,
    dismiss_query,
    find_query,
    join_sets,
    move_set,
    reopen_query,
    set_field,
    shift_set,
    split_set,
)
from setdown.review.place import find_placed
from setdown.review.settle import settle_edit

WORDS = {
    "exercise": "movement",
    "work_s": "work",
    "rest_after_s": "rest after",
    "rest_s": "rest between",
    "kind": "section",
}
Hand = Callable[[], Lexicon]


@dataclass(frozen=True, slots=True)
class Done:
    """The routine after an edit, what was done in a few words, and the set that it was done to."""

    routine: Routine
    what: str
    set: str = ""


def perform_edit(routine: Routine, edit: bodies.Edit, mark: Mark, lexicon: Hand) -> Done:
    """One edit. ``lexicon`` is called only when a movement is named.

    Raises:
        EditRefusedError: it cannot be; says what was expected.
    """
    return _HANDS[type(edit)](routine, edit, mark, lexicon)


def name_set(one: Set) -> str:
    """``goblet squat at 12:34`` (and which side)."""
    side = f" {one.side}" if one.side else ""
    return f"{one.exercise.name}{side} at {format_clock(round(one.start * 1000))}"


def _set_value(routine: Routine, edit: bodies.SetValue, mark: Mark, lexicon: Hand) -> Done:
    before = _find(routine, edit.set)
    changed = set_field(routine, edit.set, edit.field, edit.text, mark, lexicon(), confirm=_is_same(before, edit))
    return Done(changed, _say_change(before, _find(changed, edit.set), edit.field), edit.set)


def _is_same(before: Set, edit: bodies.SetValue) -> bool:
    """Typing the value that is there already vouches for it."""
    return describe_cells(before)[edit.field] == edit.text and before.origin.get(edit.field) != "edited"


def _say_change(before: Set, after: Set, field: str) -> str:
    old, new = describe_cells(before)[field], describe_cells(after)[field]
    word = WORDS.get(field, field)
    if field in ("start", "end"):
        old, new = (format_clock(round(float(text) * 1000)) for text in (old, new))
    if old == new:
        return f"{name_set(before)}: {word} {new or 'nothing'} confirmed"
    return f"{name_set(before)}: {word} {old or 'nothing'} → {new or 'nothing'}"


def _group_value(routine: Routine, edit: bodies.GroupValue, mark: Mark, lexicon: Hand) -> Done:
    changed = change_group(routine, edit.group, {edit.field: edit.text}, mark)
    if changed is not routine:
        changed = settle_edit(routine, changed, field=edit.field, value=edit.text)
    number = next(n for n, g in enumerate(_list_groups(routine), 1) if g.id == edit.group)
    word = WORDS.get(edit.field, edit.field)
    return Done(changed, f"group {number}: {word} → {edit.text.strip() or 'nothing'}")


def _section_value(routine: Routine, edit: bodies.SectionValue, mark: Mark, lexicon: Hand) -> Done:
    changed = change_section(routine, edit.section, {edit.field: edit.text})
    kind = next(s.kind for s in routine.sections if s.id == edit.section).replace("_", "-")
    word = WORDS.get(edit.field, edit.field)
    return Done(changed, f"{kind}: {word} → {edit.text.strip()}")


def _add(routine: Routine, edit: bodies.AddSet, mark: Mark, lexicon: Hand) -> Done:
    cells = {"exercise": edit.exercise, "start": edit.start, "end": edit.end}
    changed = add_set(routine, cells | ({"group": edit.group} if edit.group else {}), mark, lexicon())
    known = {one.id for _, _, one in routine.iter_sets()}
    new = next(one for _, _, one in changed.iter_sets() if one.id not in known)
    return Done(changed, f"{name_set(new)} added", new.id)


def _delete(routine: Routine, edit: bodies.DeleteSet, mark: Mark, lexicon: Hand) -> Done:
    one = _find(routine, edit.set)
    return Done(delete_set(routine, edit.set, mark), f"{name_set(one)} deleted")


def _split(routine: Routine, edit: bodies.SplitSet, mark: Mark, lexicon: Hand) -> Done:
    one, at = _find(routine, edit.set), parse_seconds(edit.at, "at")
    what = f"{name_set(one)} split at {format_clock(round(at * 1000))}"
    return Done(split_set(routine, edit.set, at, mark), what, edit.set)


def _join(routine: Routine, edit: bodies.JoinSets, mark: Mark, lexicon: Hand) -> Done:
    first, second = _find(routine, edit.first), _find(routine, edit.second)
    what = f"{name_set(first)} joined with {name_set(second)}"
    return Done(join_sets(routine, edit.first, edit.second, mark), what, edit.first)


def _move(routine: Routine, edit: bodies.MoveSet, mark: Mark, lexicon: Hand) -> Done:
    one = _find(routine, edit.set)
    if edit.to == "section":
        changed = set_field(routine, edit.set, "section", edit.where, mark, lexicon())
    elif edit.to == "group":
        changed = move_set(routine, edit.set, edit.where, mark)
    else:
        changed = shift_set(routine, edit.set, edit.to, mark)
    goal = f"moved {edit.to}" if edit.to in ("earlier", "later") else f"moved to another {edit.to}"
    return Done(changed, f"{name_set(one)} {goal}", edit.set)


def _answer(routine: Routine, edit: bodies.AnswerQuery, mark: Mark, lexicon: Hand) -> Done:
    query = find_query(routine, edit.query)
    changed = answer_query(routine, edit.query, edit.answer, mark, lexicon())
    about = f"{name_set(_find(routine, query.set))}: " if query.set else ""
    word = WORDS.get(query.field, query.field) or "query"
    return Done(changed, f"{about}{word} answered with {edit.answer.strip() or 'nothing'}", query.set)


def _dismiss(routine: Routine, edit: bodies.DismissQuery, mark: Mark, lexicon: Hand) -> Done:
    query = find_query(routine, edit.query)
    about = f"{name_set(_find(routine, query.set))}: " if query.set else ""
    word = WORDS.get(query.field, query.field) or "it"
    return Done(dismiss_query(routine, edit.query, mark), f"{about}{word} left as it is", query.set)


def _reopen(routine: Routine, edit: bodies.ReopenQuery, mark: Mark, lexicon: Hand) -> Done:
    query = find_query(routine, edit.query)
    about = f" about {name_set(_find(routine, query.set))}" if query.set else ""
    return Done(reopen_query(routine, edit.query, mark), f"query{about} asked again", query.set)


def _find(routine: Routine, set_id: str) -> Set:
    return find_placed(routine, set_id)[1].one


def _list_groups(routine: Routine) -> list[Any]:
    return [group for section in routine.sections for group in section.groups]


_HANDS: dict[type[bodies.Body], Callable[[Routine, Any, Mark, Hand], Done]] = {
    bodies.SetValue: _set_value,
    bodies.GroupValue: _group_value,
    bodies.SectionValue: _section_value,
    bodies.AddSet: _add,
    bodies.DeleteSet: _delete,
    bodies.SplitSet: _split,
    bodies.JoinSets: _join,
    bodies.MoveSet: _move,
    bodies.AnswerQuery: _answer,
    bodies.DismissQuery: _dismiss,
    bodies.ReopenQuery: _reopen,
}
