"""Said and taken back: 'twelve, sorry, fifteen', 'grab your fifteens, no, what am I saying, twelves'."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import replace
from decimal import Decimal
from typing import Any

from setdown.tag.number_words import Number, word_set
from setdown.tag.quantities.build import bounds, plain, whole
from setdown.tag.quantities.pattern import Draft
from setdown.tag.quantities.stream import Stream
from setdown.tag.quantities.values import LoadSaid, RepTarget, Seconds, Withdrawn

Choice = tuple[Draft, str]

#: Phrases that take back a number close before them or beside the next one; within so many words of the next number.
_STRONG = (
    "sorry", "what am i saying", "scratch that", "strike that", "i mean", "no wait", "wait no", "my mistake", "my bad",
    "correction", "i lied", "let me start again", "hang on", "or rather", "take that back",
)  # fmt: skip
STRONG_REACH = 13
#: Words that take back a number only right behind it, with the next one at once.
_WEAK = ("no", "nah", "nope", "naw", "make that", "make it", "actually", "wait", "rather")
WEAK_REACH = 4
#: What may stand between such a word and the next number.
_LEAD_IN = word_set("the a an your my that's it's i'm we're to on we do i mean wait just those no that hang sorry")
#: An excuse for something else ('sorry about the noise').
_EXCUSES = (" sorry about ", " sorry for ", " sorry if ", " i'm sorry i ")
#: The words without which nothing is taken back: where to look.
_SIGNS = word_set(
    "sorry saying scratch strike mean hang wait mistake bad correction lied rather no nah nope naw make actually "
    "back again"
)
_CORRECTED = frozenset({"reps", "load", "work_s", "rest_s", "count", "sets", "other"})


def withdraw_corrected(stream: Stream, items: list[Choice]) -> list[Choice]:
    """Turn each number that was taken back into a ``withdrawn`` mention; the new number takes over its role."""
    out = list(items)
    text, size = stream.text, len(stream)
    signs = [t for t in range(size) if text[t] in _SIGNS]
    starts = [draft.start for draft, _ in items]
    for sign in signs:
        k = bisect_right(starts, sign) - 1
        if k < 0 or out[k][0].kind not in _CORRECTED or sign - out[k][0].end > STRONG_REACH:
            continue
        draft = out[k][0]
        old = _first_number(stream, draft)
        for j in range(k + 1, min(k + 4, len(out))):
            later, name = out[j]
            if old is None or later.start - draft.end > STRONG_REACH:
                break
            new = _first_number(stream, later)
            if new is None or _offered(later):
                continue
            if new.value == old.value or not _takes_back(text[draft.end : later.start]):
                break
            pair = _recast(draft, later, name, old, new)
            if pair is not None:
                out[k], out[j] = (pair[0], "twelve, sorry, fifteen"), (pair[1], name)
            break
    return out


def _takes_back(between: list[str]) -> bool:
    """Whether the words between two numbers take the first one back: at its heels, or just before the second."""
    if not between or between[-2:] == ["i", "said"]:
        return False  # 'twenty, I lied, I know I said fifteen'
    whole_text = " " + " ".join(between) + " "
    near = " " + " ".join(between[:6]) + " | " + " ".join(between[-4:]) + " "
    if any(f" {phrase} " in near for phrase in _STRONG) and not any(p in whole_text for p in _EXCUSES):
        return True
    for phrase in _WEAK:
        rest = between[len(phrase.split()) :]
        if whole_text.startswith(f" {phrase} ") and len(rest) <= WEAK_REACH and _LEAD_IN.issuperset(rest):
            return True
    return False


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


def _recast(draft: Draft, later: Draft, name: str, old: Number, new: Number) -> tuple[Draft, Draft] | None:
    """What becomes of a number and of its correction; ``None`` when they are no such pair.

    The later number takes the role of the earlier one, or they share a role that the earlier one may have had.
    """
    if draft.kind == "other":
        return None
    if later.kind == draft.kind:
        return _withdrawn(draft, draft.kind, draft.value), later
    earlier_roles = {a.kind: a.value for a in getattr(draft.value, "alternatives", ())}
    if later.kind in earlier_roles:
        return _withdrawn(draft, later.kind, earlier_roles[later.kind]), later
    alike = _LIKE.get(old.form) is not None and _LIKE.get(old.form) == _LIKE.get(new.form)
    later_roles = {a.kind for a in getattr(later.value, "alternatives", ())}
    if not alike or later.end - later.start > 3 or not (name == "a number by itself" or draft.kind in later_roles):
        return None
    value = _with_number(draft, new)
    if value is None:
        return None
    taken_over = Draft(draft.kind, value, later.start, later.end, min(draft.score, 0.8))
    return _withdrawn(draft, draft.kind, draft.value), taken_over


def _withdrawn(draft: Draft, kind: str, value: Any) -> Draft:
    return Draft("withdrawn", Withdrawn(kind, value), draft.start, draft.end, 0.85)


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
