"""Counting aloud: runs of neighbouring numbers that go up or down by one.

A run is never one number ('ten nine eight' is not 98). Inside a run the captioning may have written another word for
a number ('one to three four', 'three to one'); that word is read as the number that is missing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from setdown.tag.number_parts import AFTER_REMAINING, BEFORE_PRONOUN, COUNT_UNITS, LABELS
from setdown.tag.number_words import HOMOPHONES, Number, Spelling

_COUNTED_BY = COUNT_UNITS | {"rep", "pounds", "kilos", "percent", "weeks", "days", "hours", "exercises", "moves"}
_LINKS = frozenset({"and", "then", "now"})


def mark_runs(spellings: Sequence[Spelling], numbers: list[Number]) -> list[Number]:
    """Give the members of counting runs the form count_up or count_down; fill in homophones."""
    numbers = _fill_homophones(spellings, numbers)
    out = list(numbers)
    i, n = 0, len(numbers)
    while i < n - 1:
        step = _step(spellings, numbers[i], numbers[i + 1])
        if not step:
            i += 1
            continue
        j = i + 1
        while j < n - 1 and _step(spellings, numbers[j], numbers[j + 1]) == step:
            j += 1
        first, last = _trim(spellings, numbers, i, j)
        if last > first:
            form = "count_up" if step > 0 else "count_down"
            for k in range(first, last + 1):
                out[k] = replace(numbers[k], form=form)
        i = j
    return out


def _counted(number: Number) -> bool:
    return (
        number.form == "cardinal"
        and number.value is not None
        and not number.unit
        and not number.joint
        and number.value <= 200
        and number.value == int(number.value)
    )


def _step(spellings: Sequence[Spelling], a: Number, b: Number) -> int:
    """+1 or -1 when ``b`` follows ``a`` at once ('and' may be between) and is its neighbour, else 0."""
    gap = b.start - a.end
    if gap > 1 or (gap == 1 and spellings[a.end].bare not in _LINKS):
        return 0
    if not (_counted(a) and _counted(b)):
        return 0
    assert a.value is not None and b.value is not None
    difference = b.value - a.value
    return int(difference) if abs(difference) == 1 else 0


def _trim(spellings: Sequence[Spelling], numbers: list[Number], i: int, j: int) -> tuple[int, int]:
    """Leave out an end that means something else: 'round one, two', 'nine ten reps', 'two, one more'."""
    before = spellings[numbers[i].start - 1] if numbers[i].start else None
    if before is not None and not before.stop:
        pronoun = numbers[i].value == 1 and before.bare in BEFORE_PRONOUN
        if pronoun or before.bare in LABELS:
            i += 1
    end = numbers[j].end
    if end < len(spellings) and not spellings[end - 1].stop:
        after = spellings[end].bare
        if after in AFTER_REMAINING or (j - i == 1 and after in _COUNTED_BY):
            j -= 1
    return i, j


def _fill_homophones(spellings: Sequence[Spelling], numbers: list[Number]) -> list[Number]:
    """'one to three four', 'five six seven ate': a homophone that is exactly the number missing from a run."""
    out: list[Number] = []
    for k, number in enumerate(numbers):
        out.append(number)
        position = number.end
        if position >= len(spellings) or spellings[position].atom is not None:
            continue
        heard = HOMOPHONES.get(spellings[position].bare)
        if heard is None or not _counted(number):
            continue
        assert number.value is not None
        step = heard - number.value
        if abs(step) != 1:
            continue
        following = numbers[k + 1] if k + 1 < len(numbers) and numbers[k + 1].start == position + 1 else None
        if following is not None:
            if _counted(following) and following.value == heard + step and _long_enough(numbers, k, step):
                out.append(Number(position, position + 1, Decimal(heard)))
        elif spellings[position].bare in {"ate", "won"} and _runs_before(numbers, k, step) >= 2:
            out.append(Number(position, position + 1, Decimal(heard)))
    return out


def _runs_before(numbers: list[Number], k: int, step: Decimal) -> int:
    """How many numbers ending with ``k`` make a run in this direction."""
    length = 1
    while k > 0 and numbers[k - 1].end == numbers[k].start and _counted(numbers[k - 1]):
        here, there = numbers[k].value, numbers[k - 1].value
        if here is None or there is None or here - there != step:
            break
        length, k = length + 1, k - 1
    return length


def _long_enough(numbers: list[Number], k: int, step: Decimal) -> bool:
    """Three numbers heard right in the run, or the end of a countdown ('three to one')."""
    after, m = 1, k + 1
    while m + 1 < len(numbers) and numbers[m + 1].start == numbers[m].end and _counted(numbers[m + 1]):
        here, there = numbers[m].value, numbers[m + 1].value
        if here is None or there is None or there - here != step:
            break
        after, m = after + 1, m + 1
    if step < 0 and numbers[k + 1].value == 1:
        return True
    return _runs_before(numbers, k, step) + after >= 3
