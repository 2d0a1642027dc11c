"""Small helpers that the rules' value builders share."""

from __future__ import annotations

from decimal import Decimal

from setdown.tag.number_words import Number
from setdown.tag.quantities.pattern import Match
from setdown.tag.quantities.stream import Stream
from setdown.tag.quantities.values import RepTarget

MOST_REPS = 500  # more than this in one set is no rep target; common practice, no source


def whole(number: Number) -> int | None:
    """The number as an integer, ``None`` when it has a fraction or no value."""
    if number.value is None or number.value != int(number.value):
        return None
    return int(number.value)


def bounds(number: Number) -> tuple[int, int] | None:
    """Low and high as integers (the same twice for a single number)."""
    low = whole(number)
    if low is None:
        return None
    high = low if number.high is None else int(number.high)
    return low, high


def rep_target(number: Number, *, each_side: bool = False) -> RepTarget | None:
    """A rep target, or ``None`` for what cannot be one (none, a fraction, hundreds)."""
    both = bounds(number)
    if both is None or not 1 <= both[0] <= both[1] <= MOST_REPS:
        return None
    return RepTarget(*both, each_side=each_side)


def seconds(number: Number, unit_seconds: int = 1) -> tuple[int, int | None] | None:
    """Seconds of '45', '30 to 45', 'one and a half' minutes: low, and high for a range."""
    if number.value is None or number.value <= 0:
        return None
    low = int(number.value * unit_seconds)
    return low, (int(number.high * unit_seconds) if number.high is not None else None)


_SIDES = frozenset(
    "side sides arm arms leg legs foot knee hip shoulder ankle way direction one wrist elbow glute thigh calf".split()
)
_EACH = frozenset("each every per either".split())
_OPENERS = frozenset("on for to with a".split())


def each_side_end(stream: Stream, token: int) -> int:
    """The token after an 'each side' that begins at ``token`` or just behind it; ``token`` itself when there is none."""
    i = token
    if stream.word(i) in {"on", "for", "to", "with", "of"} and i - token < 1:
        i += 1
    word, after = stream.word(i), stream.word(i + 1)
    if word in _EACH:
        if after in _SIDES:
            return i + 2
        if after in {"hand", "end"} or stream.number_at(i + 1):
            return token
        return i + 1 if word != "per" and i + 1 <= len(stream) and after not in _NOT_SIDES else token
    if word == "both" and after in {"sides", "legs", "arms", "ways"}:
        return i + 2
    if word == "a" and after in {"side", "leg", "arm"} and i == token:
        return i + 2
    return token


_NOT_SIDES = frozenset("round rounds set sets time minute exercise move movement of".split())


def said_words(stream: Stream, low: int, high: int) -> frozenset[str]:
    """The words of tokens ``[low, high)``, cut to the class."""
    return frozenset(stream.text[max(low, 0) : min(high, len(stream))])


def match_words(match: Match, before: int, after: int) -> frozenset[str]:
    """Words beside a match, ``before`` tokens to its left and ``after`` to its right (the match included)."""
    return said_words(match.stream, match.start - before, match.end + after)


def plain(value: Decimal) -> Decimal:
    """``20.0`` as ``20``."""
    return value.to_integral_value() if value == value.to_integral_value() else value
