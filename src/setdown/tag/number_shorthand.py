"""Numbers read out in pairs: 'one thirty five' for 135, 'nineteen ninety six' for a year."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from setdown.tag.number_parts import (
    AFTER_REMAINING,
    BEFORE_PRONOUN,
    COUNT_UNITS,
    LABELS,
    SIZE_UNITS,
    bare_word,
    below_hundred,
    next_atom,
    previous_is_number,
)
from setdown.tag.number_words import Number, Spelling, word_set

YEAR_CONTEXT = word_set(
    "in since of from back was around year by until till before after summer winter spring autumn circa class"
)
_BARBELL = frozenset({"bar", "barbell", "barbells", "plates", "plate"})


def compact_hundreds(
    spellings: Sequence[Spelling], i: int, end: int, value: Decimal
) -> tuple[Decimal, int, bool] | None:
    """'one thirty five' (135), 'two twenty five', 'three fifteen', 'one oh five': how loaded bars are read out.

    Only with a first digit of 1 to 4 (5 to 9 when 'oh' is between, as in 'six oh one'): a higher one is a clock time
    or two numbers. Not after a word that makes 'one' a pronoun or a label, and not before a size
    ('two twenty pound dumbbells') or a counted thing ('the last one twenty seconds').
    """
    first = spellings[i].atom
    if first is None or first.kind != "unit" or end != i + 1:
        return None
    before = bare_word(spellings, i - 1)
    if before in LABELS or (before in BEFORE_PRONOUN and not spellings[i - 1].stop):
        return None
    follower = next_atom(spellings, end)
    if follower is None:
        return None
    if follower.kind == "oh":
        last = next_atom(spellings, end + 1)
        if last is None or last.kind != "unit" or last.plural or bare_word(spellings, end + 2) in AFTER_REMAINING:
            return None
        return value * 100 + last.value, end + 2, False
    if value > 4:
        return None
    if follower.kind in {"tens", "pair"} or (follower.kind == "teen" and follower.value in (10, 15)):
        rest, stop, plural, ordinal = below_hundred(spellings, end, None)
        if plural or ordinal:
            return None
        if value <= 2 and rest % 10 == 0 and not any(spelling.bare in _BARBELL for spelling in spellings):
            return None  # without a barbell in the class 'one twenty' is one implement of twenty
        after, beyond = bare_word(spellings, stop), next_atom(spellings, stop)
        if not spellings[stop - 1].stop:
            if after in SIZE_UNITS or after in COUNT_UNITS:
                return None
            if beyond is not None and beyond.kind in {"unit", "teen", "tens", "pair"}:
                return None  # 'one thirty one forty': a row of numbers, not one
        if previous_is_number(spellings, i):
            return None
        return value * 100 + rest, stop, False
    return None


def spoken_year(spellings: Sequence[Spelling], i: int, previous: Number | None) -> list[Number]:
    """'nineteen ninety six', 'twenty sixteen' after a word that wants a year ('in twenty sixteen')."""
    century = spellings[i].bare
    if century not in {"eighteen", "nineteen", "twenty"}:
        return []
    follower = next_atom(spellings, i + 1)
    if follower is None or follower.plural or follower.kind not in {"teen", "tens", "pair"}:
        return []
    rest, end, plural, ordinal = below_hundred(spellings, i + 1, None)
    if plural or ordinal:
        return []
    hundreds = {"eighteen": 1800, "nineteen": 1900, "twenty": 2000}[century]
    wanted = bare_word(spellings, i - 1) in YEAR_CONTEXT
    # 'twenty sixteen' is no pair of targets, as 'twenty fifteen' and 'twenty twelve' may be
    odd = century == "twenty" and 10 < rest < 30 and rest % 5 and rest != 12 and next_atom(spellings, end) is None
    certain = century == "nineteen" and rest >= 40 and bare_word(spellings, end) not in COUNT_UNITS
    if not (certain or wanted or odd) or previous_is_number(spellings, i):
        return []
    if century == "twenty" and (rest > 39 or bare_word(spellings, end) in COUNT_UNITS | SIZE_UNITS):
        return []
    return [Number(i, end, hundreds + rest, form="year")]
