"""The parts of a spoken number: below a hundred, hundreds and thousands.

Every function takes the spellings of all words and an index, and returns what it read with the index after it.
Punctuation between two words separates numbers ("twenty, five" is two), except after 'thousand'.
"""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from setdown.tag.number_words import Atom, Number, Spelling, word_set

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


def next_atom(spellings: Sequence[Spelling], i: int) -> Atom | None:
    """The atom of word ``i`` when the word before it ends without punctuation."""
    if i >= len(spellings) or spellings[i - 1].stop:
        return None
    return spellings[i].atom


def bare_word(spellings: Sequence[Spelling], i: int) -> str:
    """The bare form of word ``i``, empty beyond either end."""
    return spellings[i].bare if 0 <= i < len(spellings) else ""


def previous_is_number(spellings: Sequence[Spelling], i: int) -> bool:
    """Whether the word before ``i`` belongs to a number said in the same breath."""
    if i == 0 or spellings[i - 1].stop:
        return False
    atom = spellings[i - 1].atom
    return atom is not None and atom.kind in {"unit", "teen", "tens", "pair", "digits"}


def below_hundred(spellings: Sequence[Spelling], i: int, previous: Number | None) -> tuple[Decimal, int, bool, bool]:
    """Value, end, plural, ordinal of 'twenty five', 'twelve', 'forty-five', '12'."""
    atom = spellings[i].atom
    assert atom is not None
    if atom.kind != "tens" or atom.plural:
        return atom.value, i + 1, atom.plural, False
    follower = next_atom(spellings, i + 1)
    if follower is None or _counts_on(atom.value, previous, i):
        return atom.value, i + 1, False, False
    if follower.kind == "unit":
        beyond = next_atom(spellings, i + 2) if follower.value == 1 else None
        if beyond is not None and beyond.kind == "unit" and beyond.value == 2:
            return atom.value, i + 1, False, False  # 'twenty, one, two ...': a target, then the count
        return atom.value + follower.value, i + 2, follower.plural, False
    if follower.kind == "ordinal" and follower.ordinal == "unit" and follower.value != 2:
        return atom.value + follower.value, i + 2, False, True
    return atom.value, i + 1, False, False


def _counts_on(tens: Decimal, previous: Number | None, i: int) -> bool:
    """'nineteen twenty one two': the twenty continues the count, so that 'one' is not glued to it."""
    return previous is not None and previous.end == i and previous.value == tens - 1


def scaled(spellings: Sequence[Spelling], i: int, value: Decimal) -> tuple[Decimal, int, bool]:
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
        follower = next_atom(spellings, end)
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
    value, end, plural, ordinal = below_hundred(spellings, i, None)
    if ordinal:
        return None
    if below == 1000 and not plural:
        follower = next_atom(spellings, end)
        if follower is not None and follower.kind == "scale" and follower.value == 100:
            value, end = value * 100, end + 1
            rest = _tail(spellings, end, below=100)
            if rest is not None:
                value, end, plural = value + rest[0], rest[1], rest[2]
        elif spellings[i - 1].stop == ",":
            return None  # 'two thousand, ten of those' is two numbers
    return value, end, plural
