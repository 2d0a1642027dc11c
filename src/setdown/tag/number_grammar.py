"""The grammar of one spoken number: from a word that can begin one to the last word that belongs to it."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from setdown.tag.number_parts import AFTER_REMAINING, bare_word, below_hundred, next_atom, scaled
from setdown.tag.number_shorthand import compact_hundreds, spoken_year
from setdown.tag.number_words import Atom, Number, Spelling, word_set

HALF = Decimal("0.5")
QUARTER = Decimal("0.25")


def read_number(spellings: Sequence[Spelling], i: int, previous: Number | None) -> list[Number]:
    """The number that begins at word ``i`` (which has an atom), as a list: empty when the word is none after all.

    ``previous`` is the number read before, needed to keep counting apart ('nineteen twenty one' is 19, 20, 1).
    """
    atom = spellings[i].atom
    assert atom is not None
    if atom.kind in _PLAIN and not atom.unit and _ends_here(spellings, i):
        return [Number(i, i + 1, atom.value, form="plural" if atom.plural else "cardinal")]
    if atom.kind == "many":
        return _written_many(atom, i)
    if atom.kind == "clock":
        return [Number(i, i + 1, atom.value, form="clock", unit=atom.unit)]
    if atom.kind == "ordinal":
        return _ordinal(spellings, i, atom, previous)
    if atom.kind in {"dozen", "vague"}:
        return _amount_word(spellings, i, atom, 1, i)
    if atom.kind in {"half", "quarter"}:
        return _fraction(spellings, i, atom)
    if atom.kind == "scale":
        start = i - 1 if bare_word(spellings, i - 1) == "a" else i
        value, end, plural = scaled(spellings, i, Decimal(1))
        return [_finish(spellings, start, end, value, plural)]
    if atom.kind == "oh":
        return _oh(spellings, i)
    years = spoken_year(spellings, i, previous)
    if years:
        return years
    value, end, plural, ordinal = below_hundred(spellings, i, previous)
    if ordinal:
        return [Number(i, end, value, form="ordinal")]
    if not plural:
        parts = _PARTS.get(bare_word(spellings, end)) if not spellings[end - 1].stop else None
        if parts is not None and value < parts:
            share = (value / parts).quantize(Decimal("0.001")).normalize()
            return [Number(i, end + 1, share, form="fraction")]
        follower = next_atom(spellings, end)
        if follower is not None and follower.kind == "scale" and (value >= 1 or atom.kind != "zero"):
            value, end, plural = scaled(spellings, end, value)
        elif follower is not None and follower.kind == "dozen" and value < 10:
            return _amount_word(spellings, end, follower, int(value), i)
        else:
            compact = compact_hundreds(spellings, i, end, value)
            if compact is not None:
                value, end, plural = compact
    return [_finish(spellings, i, end, value, plural)]


_PLAIN = frozenset({"unit", "teen", "tens", "pair"})
_GOES_ON = frozenset({"and", "point", "thirds", "fifths", "eighths"})


def _ends_here(spellings: Sequence[Spelling], i: int) -> bool:
    """Whether nothing behind word ``i`` can belong to its number: the usual case, and the quick way out."""
    if i + 1 >= len(spellings) or spellings[i].stop:
        return True
    after = spellings[i + 1]
    return after.atom is None and after.bare not in _GOES_ON


def _written_many(atom: Atom, i: int) -> list[Number]:
    low, *rest = atom.parts
    if atom.joint == "-" and len(rest) == 1 and low < rest[0]:
        return [Number(i, i + 1, low, rest[0], "range", atom.unit)]
    if atom.joint == "/" and len(rest) == 1 and low == 1 and rest[0] in (2, 4):
        return [Number(i, i + 1, low / rest[0], form="fraction")]
    return [Number(i, i + 1, part, unit=atom.unit, joint=atom.joint) for part in atom.parts]


def _ordinal(spellings: Sequence[Spelling], i: int, atom: Atom, previous: Number | None) -> list[Number]:
    if spellings[i].bare == "second" and _is_time_second(spellings, i, previous):
        return []
    return [Number(i, i + 1, atom.value, form="ordinal")]


_AFTER_SECOND = word_set(
    "one round set time half go side exercise move lap pair leg arm group circuit superset day week last row position "
    "block run trio part lot pass and is are"
)


def _is_time_second(spellings: Sequence[Spelling], i: int, previous: Number | None) -> bool:
    """'ten second hold', 'half a second', 'give it a second', against 'the second round'."""
    before, after = bare_word(spellings, i - 1), bare_word(spellings, i + 1)
    if previous is not None and previous.end == i and previous.form not in {"ordinal", "plural"}:
        return after not in {"one", "set", "round", "time"} and not spellings[i - 1].stop
    return before in {"a", "per", "split", "every", "each", "just"} and after not in _AFTER_SECOND


def _amount_word(spellings: Sequence[Spelling], i: int, atom: Atom, times: int, start: int) -> list[Number]:
    """'a dozen', 'two dozen', 'half a dozen', 'a couple of', 'few'."""
    value, before = atom.value * times, bare_word(spellings, i - 1)
    if start == i and before == "a":
        start = i - 1
        if bare_word(spellings, i - 2) == "half" and atom.kind == "dozen":
            start, value = i - 2, value / 2
    form = "vague" if atom.kind == "vague" else "cardinal"
    return [Number(start, i + 1, value, form=form)]


_PARTS = {"thirds": 3, "quarters": 4, "fifths": 5, "eighths": 8}
_HALF_OF_NAME = word_set("way kneeling moon time past nelson lotus lord tuck pigeon split splits")


def _fraction(spellings: Sequence[Spelling], i: int, atom: Atom) -> list[Number]:
    after = bare_word(spellings, i + 1)
    if after in _HALF_OF_NAME or (atom.plural and atom.kind == "half"):
        return []
    if after == "a" and bare_word(spellings, i + 2) == "dozen":
        return []  # read as one number when 'dozen' comes
    return [Number(i, i + 1, atom.value, form="plural" if atom.plural else "fraction")]


def _oh(spellings: Sequence[Spelling], i: int) -> list[Number]:
    """'oh five' is 5; 'oh, five more' and 'oh one more' are an exclamation before a number."""
    follower = next_atom(spellings, i + 1)
    if follower is None or follower.kind != "unit" or follower.plural:
        return []
    if bare_word(spellings, i + 2) in AFTER_REMAINING:
        return []
    return [Number(i, i + 2, follower.value)]


def _finish(spellings: Sequence[Spelling], start: int, end: int, value: Decimal, plural: bool) -> Number:
    """Add a decimal part ('point five', 'and a half') and name the form."""
    unit = ""
    last = spellings[end - 1].atom
    if last is not None and last.kind == "digits":
        unit = last.unit
    if last is not None and last.plural and last.unit == "'s" and not _wants_weights(bare_word(spellings, start - 1)):
        return Number(start, end, value)  # "seven's the hard one"
    if not plural and not unit and not spellings[end - 1].stop:
        value, end, plural = _decimal_part(spellings, end, value)
    if plural:
        return Number(start, end, value, form="plural", unit=unit)
    if 1900 <= value <= 2099 and value == int(value) and not unit:
        counted = bare_word(spellings, end) in {"metres", "meters", "metre", "meter", "steps", "calories", "m"}
        spelled_thousand = any(s.bare == "thousand" for s in spellings[start:end])
        if not counted and (value != 2000 or not spelled_thousand):
            return Number(start, end, value, form="year")
    return Number(start, end, value, unit=unit)


def _wants_weights(before: str) -> bool:
    return before in {"the", "my", "your", "those", "these", "of", "with", "to", "on", "grab", "some", "our", "for"}


def _decimal_part(spellings: Sequence[Spelling], end: int, value: Decimal) -> tuple[Decimal, int, bool]:
    word = bare_word(spellings, end)
    if word == "point" and end + 1 < len(spellings):
        digits, stop = "", end + 1
        while stop < len(spellings):
            atom = spellings[stop].atom
            if atom is None or atom.plural or atom.kind not in {"unit", "zero", "oh", "teen", "tens", "pair", "digits"}:
                break
            if atom.kind in {"teen", "tens", "pair"} and digits:
                break
            part, after, _, _ = below_hundred(spellings, stop, None)
            if part != int(part):
                break
            digits += str(int(part))
            stop = after
            if spellings[stop - 1].stop or part >= 10:
                break
        if digits:
            return value + Decimal("0." + digits), stop, False
    if word == "and" and not spellings[end].stop:
        first, second = bare_word(spellings, end + 1), bare_word(spellings, end + 2)
        if first == "a" and second in {"half", "halves"} and bare_word(spellings, end + 3) not in {"rep", "way"}:
            return value + HALF, end + 3, second == "halves"
        if first in {"a", "one"} and second in {"quarter", "quarters"}:
            return value + QUARTER, end + 3, second == "quarters"
        if first == "three" and second in {"quarter", "quarters"}:
            return value + 3 * QUARTER, end + 3, False
    return value, end, False
