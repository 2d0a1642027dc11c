"""Numbers as they are said and written in captions, apart from what they mean.

``find_numbers`` reads the words once: spoken numbers ('forty five', 'two twenty five', 'twelve and a half'), digits
('12.5', '12-15'), plurals ('fifteens'), ordinals, vague ones ('a couple'), ranges ('eight to ten'). Then it marks
counting aloud ('ten nine eight', 'five six seven'), where the captioning may have written 'for' or 'to' for a number.
"""

from __future__ import annotations

from collections.abc import Sequence

from setdown.tag.number_grammar import read_number
from setdown.tag.number_runs import mark_runs
from setdown.tag.number_words import Number, Spelling, read_word

__all__ = ["Number", "find_numbers"]


def find_numbers(words: Sequence[str]) -> list[Number]:
    """Every number in ``words``, in order, as spans of word indexes that do not overlap.

    Words may carry capitals and punctuation; punctuation between two words keeps their numbers apart.
    """
    return find_spelled_numbers([read_word(word) for word in words])


def find_spelled_numbers(spellings: Sequence[Spelling]) -> list[Number]:
    """``find_numbers`` for words that were taken apart already."""
    numbers: list[Number] = []
    end = 0
    for i, spelling in enumerate(spellings):
        if spelling.atom is None or i < end:
            continue
        found = read_number(spellings, i, numbers[-1] if numbers else None)
        if found:
            numbers += found
            end = found[-1].end
    return mark_runs(spellings, _join_ranges(spellings, numbers))


_RANGE_WORDS = frozenset({"to", "or", "through", "maybe"})
_RANGED = frozenset({"cardinal", "plural"})


def _join_ranges(spellings: Sequence[Spelling], numbers: list[Number]) -> list[Number]:
    """'eight to ten', 'eight or ten', 'between twelve and fifteen' become one number with ``high``."""
    out: list[Number] = []
    for k, number in enumerate(numbers):
        low = out[-1] if out else None
        if low is not None and _is_range(spellings, low, number, numbers[k + 1] if k + 1 < len(numbers) else None):
            form = "plural" if number.form == "plural" else "range"
            out[-1] = Number(low.start, number.end, low.value, number.value, form, number.unit)
        else:
            out.append(number)
    return out


def _is_range(spellings: Sequence[Spelling], low: Number, high: Number, beyond: Number | None) -> bool:
    if high.start != low.end + 1 or low.form not in _RANGED or high.form not in _RANGED or low.high is not None:
        return False
    if low.value is None or high.value is None or low.value >= high.value or low.joint or high.joint:
        return False
    link = spellings[low.end].bare
    if link == "and":
        return low.start > 0 and spellings[low.start - 1].bare == "between"
    if link not in _RANGE_WORDS:
        return False
    if spellings[low.end - 1].stop in {".", "…"} or spellings[low.end].stop:
        return False
    if low.form == "plural" and high.form == "cardinal":
        return False
    # 'one to three four': the count goes on, so 'to' was the number two
    counts_on = beyond is not None and beyond.start == high.end and beyond.value == high.value + 1
    return not (link == "to" and high.value - low.value == 2 and counts_on)
