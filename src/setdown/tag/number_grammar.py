"""The grammar of one spoken number: from a word that can begin one to the last word that belongs to it.

Every function takes the spellings of all words and an index, and returns what it read with the index after it.
Punctuation between two words separates numbers ("twenty, five" is two), except after 'thousand'.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from setdown.tag.number_words import Atom, Number, Spelling, word_set

ZERO = Decimal(0)
HALF = Decimal("0.5")
QUARTER = Decimal("0.25")

#: Words that make a following 'one' a pronoun, or a following digit a label: 'this one twenty seconds', 'round one'.
BEFORE_PRONOUN = word_set(
    "this that the last next first second third fourth fifth other another each every any which final same good big "
    "little wee small heavy light easy hard old new right left top bottom no single front back nice only favourite "
    "favorite lighter heavier bigger smaller long short easier harder"
)
LABELS = word_set(
    "round rounds set sets number minute level step stage part option exercise move lap phase block circuit day week "
    "song track position page version variation superset group trio pair lift station wave interval"
)
#: After one of these, two numbers beside each other are an amount and a size ('two twenty pound dumbbells').
SIZE_UNITS = word_set("second minute pound kilo kg lb inch metre meter rep count degree")
COUNT_UNITS = word_set("reps seconds minutes times rounds sets each per more left of breaths")
AFTER_REMAINING = word_set("more left last to")
YEAR_CONTEXT = word_set(
    "in since of from back was around year by until till before after summer winter spring autumn circa class"
)


def _next_atom(spellings: Sequence[Spelling], i: int) -> Atom | None:
    """The atom of word ``i`` when the word before it ends without punctuation."""
    if i >= len(spellings) or spellings[i - 1].stop:
        return None
    return spellings[i].atom


def _bare(spellings: Sequence[Spelling], i: int) -> str:
    return spellings[i].bare if 0 <= i < len(spellings) else ""


def read_number(spellings: Sequence[Spelling], i: int, previous: Number | None) -> list[Number]:
    """The number that begins at word ``i`` (which has an atom), as a list: empty when the word is none after all.

    ``previous`` is the number read before, needed to keep counting apart ('nineteen twenty one' is 19, 20, 1).
    """
    atom = spellings[i].atom
    assert atom is not None
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
        start = i - 1 if _bare(spellings, i - 1) == "a" else i
        value, end, plural = _scaled(spellings, i, Decimal(1))
        return [_finish(spellings, start, end, value, plural)]
    if atom.kind == "oh":
        return _oh(spellings, i)
    years = _spoken_year(spellings, i, previous)
    if years:
        return years
    value, end, plural, ordinal = _below_hundred(spellings, i, previous)
    if ordinal:
        return [Number(i, end, value, form="ordinal")]
    if not plural:
        parts = _PARTS.get(_bare(spellings, end)) if not spellings[end - 1].stop else None
        if parts is not None and value < parts:
            share = (value / parts).quantize(Decimal("0.001")).normalize()
            return [Number(i, end + 1, share, form="fraction")]
        follower = _next_atom(spellings, end)
        if follower is not None and follower.kind == "scale" and (value >= 1 or atom.kind != "zero"):
            value, end, plural = _scaled(spellings, end, value)
        elif follower is not None and follower.kind == "dozen" and value < 10:
            return _amount_word(spellings, end, follower, int(value), i)
        else:
            compact = _compact_hundreds(spellings, i, end, value)
            if compact is not None:
                value, end, plural = compact
    return [_finish(spellings, i, end, value, plural)]


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
    before, after = _bare(spellings, i - 1), _bare(spellings, i + 1)
    if previous is not None and previous.end == i and previous.form not in {"ordinal", "plural"}:
        return after not in {"one", "set", "round", "time"} and not spellings[i - 1].stop
    return before in {"a", "per", "split", "every", "each", "just"} and after not in _AFTER_SECOND


def _amount_word(spellings: Sequence[Spelling], i: int, atom: Atom, times: int, start: int) -> list[Number]:
    """'a dozen', 'two dozen', 'half a dozen', 'a couple of', 'few'."""
    value, before = atom.value * times, _bare(spellings, i - 1)
    if start == i and before == "a":
        start = i - 1
        if _bare(spellings, i - 2) == "half" and atom.kind == "dozen":
            start, value = i - 2, value / 2
    form = "vague" if atom.kind == "vague" else "cardinal"
    return [Number(start, i + 1, value, form=form)]


_BARBELL = frozenset({"bar", "barbell", "barbells", "plates", "plate"})
_PARTS = {"thirds": 3, "quarters": 4, "fifths": 5, "eighths": 8}
_HALF_OF_NAME = word_set("way kneeling moon time past nelson lotus lord tuck pigeon split splits")


def _fraction(spellings: Sequence[Spelling], i: int, atom: Atom) -> list[Number]:
    after = _bare(spellings, i + 1)
    if after in _HALF_OF_NAME or (atom.plural and atom.kind == "half"):
        return []
    if after == "a" and _bare(spellings, i + 2) == "dozen":
        return []  # read as one number when 'dozen' comes
    return [Number(i, i + 1, atom.value, form="plural" if atom.plural else "fraction")]


def _oh(spellings: Sequence[Spelling], i: int) -> list[Number]:
    """'oh five' is 5; 'oh, five more' and 'oh one more' are an exclamation before a number."""
    follower = _next_atom(spellings, i + 1)
    if follower is None or follower.kind != "unit" or follower.plural:
        return []
    if _bare(spellings, i + 2) in AFTER_REMAINING:
        return []
    return [Number(i, i + 2, follower.value)]


def _below_hundred(spellings: Sequence[Spelling], i: int, previous: Number | None) -> tuple[Decimal, int, bool, bool]:
    """Value, end, plural, ordinal of 'twenty five', 'twelve', 'forty-five', '12'."""
    atom = spellings[i].atom
    assert atom is not None
    if atom.kind != "tens" or atom.plural:
        return atom.value, i + 1, atom.plural, False
    follower = _next_atom(spellings, i + 1)
    if follower is None or _counts_on(atom.value, previous, i):
        return atom.value, i + 1, False, False
    if follower.kind == "unit":
        beyond = _next_atom(spellings, i + 2) if follower.value == 1 else None
        if beyond is not None and beyond.kind == "unit" and beyond.value == 2:
            return atom.value, i + 1, False, False  # 'twenty, one, two ...': a target, then the count
        return atom.value + follower.value, i + 2, follower.plural, False
    if follower.kind == "ordinal" and follower.ordinal == "unit" and follower.value != 2:
        return atom.value + follower.value, i + 2, False, True
    return atom.value, i + 1, False, False


def _counts_on(tens: Decimal, previous: Number | None, i: int) -> bool:
    """'nineteen twenty one two': the twenty continues the count, so that 'one' is not glued to it."""
    return previous is not None and previous.end == i and previous.value == tens - 1


def _scaled(spellings: Sequence[Spelling], i: int, value: Decimal) -> tuple[Decimal, int, bool]:
    """From 'hundred' or 'thousand' at ``i``, with ``value`` said before it, to the end of the number."""
    atom = spellings[i].atom
    assert atom is not None
    value, end = value * atom.value, i + 1
    if atom.plural:
        return value, end, True
    if atom.value == 100:
        tail = _tail(spellings, end, below=100)
        if tail is not None:
            value, end = value + tail[0], tail[1]
            if tail[2]:
                return value, end, True
        follower = _next_atom(spellings, end)
        if follower is None or follower.kind != "scale" or follower.value != 1000:
            return value, end, False
        value, end = value * 1000, end + 1
        if follower.plural:
            return value, end, True
    tail = _tail(spellings, end, below=1000)
    return (value, end, False) if tail is None else (value + tail[0], tail[1], tail[2])


def _tail(spellings: Sequence[Spelling], i: int, below: int) -> tuple[Decimal, int, bool] | None:
    """'[and] thirty five' after a hundred, '[,] [and] five hundred and sixty' after a thousand."""
    if i >= len(spellings) or spellings[i - 1].stop not in ({""} if below == 100 else {"", ","}):
        return None
    if spellings[i].bare == "and" and not spellings[i].stop:
        i += 1
    if i >= len(spellings):
        return None
    atom = spellings[i].atom
    if atom is None or atom.kind not in {"unit", "teen", "tens", "pair", "digits"} or not 0 < atom.value < below:
        return None
    if atom.kind == "digits" and (atom.unit or atom.value != int(atom.value)):
        return None
    value, end, plural, ordinal = _below_hundred(spellings, i, None)
    if ordinal:
        return None
    if below == 1000 and not plural:
        follower = _next_atom(spellings, end)
        if follower is not None and follower.kind == "scale" and follower.value == 100:
            value, end = value * 100, end + 1
            rest = _tail(spellings, end, below=100)
            if rest is not None:
                value, end, plural = value + rest[0], rest[1], rest[2]
        elif spellings[i - 1].stop == ",":
            return None  # 'two thousand, ten of those' is two numbers
    return value, end, plural


def _compact_hundreds(
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
    before = _bare(spellings, i - 1)
    if before in LABELS or (before in BEFORE_PRONOUN and not spellings[i - 1].stop):
        return None
    follower = _next_atom(spellings, end)
    if follower is None:
        return None
    if follower.kind == "oh":
        last = _next_atom(spellings, end + 1)
        if last is None or last.kind != "unit" or last.plural or _bare(spellings, end + 2) in AFTER_REMAINING:
            return None
        return value * 100 + last.value, end + 2, False
    if value > 4:
        return None
    if follower.kind in {"tens", "pair"} or (follower.kind == "teen" and follower.value in (10, 15)):
        rest, stop, plural, ordinal = _below_hundred(spellings, end, None)
        if plural or ordinal:
            return None
        if value <= 2 and rest % 10 == 0 and not any(spelling.bare in _BARBELL for spelling in spellings):
            return None  # without a barbell in the class 'one twenty' is one implement of twenty
        after, beyond = _bare(spellings, stop), _next_atom(spellings, stop)
        if not spellings[stop - 1].stop:
            if after in SIZE_UNITS or after in COUNT_UNITS:
                return None
            if beyond is not None and beyond.kind in {"unit", "teen", "tens", "pair"}:
                return None  # 'one thirty one forty': a row of numbers, not one
        if previous_is_number(spellings, i):
            return None
        return value * 100 + rest, stop, False
    return None


def previous_is_number(spellings: Sequence[Spelling], i: int) -> bool:
    """Whether the word before ``i`` belongs to a number said in the same breath."""
    if i == 0 or spellings[i - 1].stop:
        return False
    atom = spellings[i - 1].atom
    return atom is not None and atom.kind in {"unit", "teen", "tens", "pair", "digits"}


def _spoken_year(spellings: Sequence[Spelling], i: int, previous: Number | None) -> list[Number]:
    """'nineteen ninety six', 'twenty sixteen' after a word that wants a year ('in twenty sixteen')."""
    century = spellings[i].bare
    if century not in {"eighteen", "nineteen", "twenty"}:
        return []
    follower = _next_atom(spellings, i + 1)
    if follower is None or follower.plural or follower.kind not in {"teen", "tens", "pair"}:
        return []
    rest, end, plural, ordinal = _below_hundred(spellings, i + 1, None)
    if plural or ordinal:
        return []
    hundreds = {"eighteen": 1800, "nineteen": 1900, "twenty": 2000}[century]
    wanted = _bare(spellings, i - 1) in YEAR_CONTEXT
    # 'twenty sixteen' is no pair of targets, as 'twenty fifteen' and 'twenty twelve' may be
    odd = century == "twenty" and 10 < rest < 30 and rest % 5 and rest != 12 and _next_atom(spellings, end) is None
    certain = century == "nineteen" and rest >= 40 and _bare(spellings, end) not in COUNT_UNITS
    if not (certain or wanted or odd) or previous_is_number(spellings, i):
        return []
    if century == "twenty" and (rest > 39 or _bare(spellings, end) in COUNT_UNITS | SIZE_UNITS):
        return []
    return [Number(i, end, hundreds + rest, form="year")]


def _finish(spellings: Sequence[Spelling], start: int, end: int, value: Decimal, plural: bool) -> Number:
    """Add a decimal part ('point five', 'and a half') and name the form."""
    unit = ""
    last = spellings[end - 1].atom
    if last is not None and last.kind == "digits":
        unit = last.unit
    if last is not None and last.plural and last.unit == "'s" and not _wants_weights(_bare(spellings, start - 1)):
        return Number(start, end, value)  # "seven's the hard one"
    if not plural and not unit and not spellings[end - 1].stop:
        value, end, plural = _decimal_part(spellings, end, value)
    if plural:
        return Number(start, end, value, form="plural", unit=unit)
    if value == int(value) and 1900 <= value <= 2099 and not unit:
        counted = _bare(spellings, end) in {"metres", "meters", "metre", "meter", "steps", "calories", "m"}
        spelled_thousand = any(s.bare == "thousand" for s in spellings[start:end])
        if not counted and (value != 2000 or not spelled_thousand):
            return Number(start, end, value, form="year")
    return Number(start, end, value, unit=unit)


def _wants_weights(before: str) -> bool:
    return before in {"the", "my", "your", "those", "these", "of", "with", "to", "on", "grab", "some", "our", "for"}


def _decimal_part(spellings: Sequence[Spelling], end: int, value: Decimal) -> tuple[Decimal, int, bool]:
    word = _bare(spellings, end)
    if word == "point" and end + 1 < len(spellings):
        digits, stop = "", end + 1
        while stop < len(spellings):
            atom = spellings[stop].atom
            if atom is None or atom.plural or atom.kind not in {"unit", "zero", "oh", "teen", "tens", "pair", "digits"}:
                break
            if atom.kind in {"teen", "tens", "pair"} and digits:
                break
            part, after, _, _ = _below_hundred(spellings, stop, None)
            if part != int(part):
                break
            digits += str(int(part))
            stop = after
            if spellings[stop - 1].stop or part >= 10:
                break
        if digits:
            return value + Decimal("0." + digits), stop, False
    if word == "and" and not spellings[end].stop:
        first, second = _bare(spellings, end + 1), _bare(spellings, end + 2)
        if first == "a" and second in {"half", "halves"} and _bare(spellings, end + 3) not in {"rep", "way"}:
            return value + HALF, end + 3, second == "halves"
        if first in {"a", "one"} and second in {"quarter", "quarters"}:
            return value + QUARTER, end + 3, second == "quarters"
        if first == "three" and second in {"quarter", "quarters"}:
            return value + 3 * QUARTER, end + 3, False
    return value, end, False
