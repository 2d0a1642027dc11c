"""Said and taken back: 'twelve, sorry, fifteen', 'grab your fifteens, no, what am I saying, twelves'."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

from setdown.tag.number_words import Number
from setdown.tag.quantities.build import bounds, plain, whole
from setdown.tag.quantities.pattern import Draft
from setdown.tag.quantities.stream import Stream
from setdown.tag.quantities.values import LoadSaid, RepTarget, Seconds, Withdrawn

Choice = tuple[Draft, str]

#: Words that take back what was said: the second member is how many words may lie between the two numbers.
_STRONG = (
    "sorry", "what am i saying", "scratch that", "strike that", "i mean", "no hang on", "no wait", "wait no", "my mistake",
    "my bad", "correction", "i lied", "let me start again", "hang on", "no sorry", "or rather", "take that back",
)  # fmt: skip
_WEAK = ("no", "nah", "nope", "naw", "make that", "make it", "actually", "wait", "rather")
STRONG_REACH, WEAK_REACH = 13, 5
_CORRECTED = frozenset({"reps", "load", "work_s", "rest_s", "count", "sets", "other"})


def withdraw_corrected(stream: Stream, items: list[Choice]) -> list[Choice]:
    """Turn each number that was taken back into a ``withdrawn`` mention; the new number takes over its role."""
    out = list(items)
    for k, (draft, _) in enumerate(items):
        if draft.kind not in _CORRECTED or not _first_number(stream, draft):
            continue
        for j in range(k + 1, min(k + 4, len(out))):
            later = out[j][0]
            between = stream.text[draft.end : later.start]
            if len(between) > STRONG_REACH:
                break
            new = _first_number(stream, later)
            old = _first_number(stream, draft)
            if not between or new is None or old is None or not _takes_back(between):
                continue
            if new.value == old.value or _offered(later):
                continue
            role = _recast(draft, later, old, new)
            if role is not None:
                withdrawn = Draft("withdrawn", Withdrawn(draft.kind, draft.value), draft.start, draft.end, 0.85)
                out[k] = (withdrawn, "twelve, sorry, fifteen")
                out[j] = (role, out[j][1])
            break
    return out


def _takes_back(between: list[str]) -> bool:
    text = " " + " ".join(between) + " "
    if any(f" {phrase} " in text for phrase in _STRONG):
        return True
    if len(between) > WEAK_REACH:
        return False
    return any(text.startswith(f" {phrase} ") for phrase in _WEAK)


def _first_number(stream: Stream, draft: Draft) -> Number | None:
    for token in range(draft.start, draft.end):
        number = stream.number_at(token)
        if number is not None:
            return number
    return None


def _offered(draft: Draft) -> bool:
    return draft.kind == "load" and draft.value.offered


_LIKE = {
    "cardinal": "cardinal", "range": "cardinal", "count_up": "cardinal", "count_down": "cardinal", "plural": "plural",
    "vague": "cardinal",
}  # fmt: skip


def _recast(draft: Draft, later: Draft, old: Number, new: Number) -> Draft | None:
    """The later number in the role of the earlier one; ``None`` when it cannot be a correction of it."""
    alike = _LIKE.get(old.form) is not None and _LIKE.get(old.form) == _LIKE.get(new.form)
    if later.kind == draft.kind:
        return later if draft.kind != "other" else None
    if not alike or draft.kind == "other":
        return None
    loose = later.kind in {"count", "reps", "other", "load"} and later.end - later.start <= 2
    if not loose:
        return None
    value = _with_number(draft, new)
    return None if value is None else Draft(draft.kind, value, later.start, later.end, min(draft.score, 0.8))


def _with_number(draft: Draft, new: Number) -> Any:
    both, n = bounds(new), whole(new)
    value = draft.value
    if isinstance(value, RepTarget) and both is not None:
        return replace(value, lo=both[0], hi=both[1], alternatives=())
    if isinstance(value, LoadSaid) and new.value is not None and Decimal(0) < new.value:
        return replace(value, value=plain(new.value), alternatives=())
    if isinstance(value, Seconds) and n is not None:
        return replace(value, work=n, alternatives=())
    return None
