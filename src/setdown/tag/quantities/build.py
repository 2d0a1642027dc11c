"""Small helpers that the rules' value builders share."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from setdown.tag.number_words import Number, word_set
from setdown.tag.quantities.pattern import Draft, Match
from setdown.tag.quantities.stream import Stream
from setdown.tag.quantities.values import LoadSaid, RepTarget

MOST_REPS = 500  # more than this in one set is no rep target; common practice, no source
OPEN = "?"  # the kind of a draft whose role the reader settles


@dataclass(slots=True)
class Unsettled:
    """A number whose role its phrase leaves open; ``priors`` are the roles it may have, with a first score each.

    The role reader (``settle``) knows the count so far, the targets and the loads of the class, and decides.
    """

    number: Number
    priors: Mapping[str, float]
    load: Callable[[], LoadSaid | None] | None = None  # asked only when the number turns out to be a load
    each_side: bool = False


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


def rep_target(number: Number, *, each_side: bool = False, least: int = 1) -> RepTarget | None:
    """A rep target, or ``None`` for what cannot be one (a fraction, hundreds, fewer than ``least``)."""
    both = bounds(number)
    if both is None or not least <= both[0] <= both[1] <= MOST_REPS:
        return None
    return RepTarget(*both, each_side=each_side)


#: What makes an asked number something else than repetitions, or has a rule of its own.
_OTHER_UNITS = word_set(
    "second seconds sec secs minute minutes mins rounds round sets set laps times pounds pound kilos kilo kg lb "
    "percent breaths breath degrees metres meters people more hours days weeks years"
)


def ask(match: Match, *, reps: float, work: float = 0.1, count: float = 0.0, which: int = -1) -> Draft | None:
    """A demand whose number is most likely repetitions, else seconds ('do ten', 'for thirty', 'same forty')."""
    number = match.numbers[which]
    if rep_target(number, least=2) is None or match.word(match.end) in _OTHER_UNITS:
        return None
    end = each_side_end(match.stream, match.end)
    priors = {"reps": reps, "work_s": work}
    if count:
        priors["count"] = count
    return Draft(OPEN, Unsettled(number, priors, each_side=end > match.end), end=max(end, match.end))


def seconds(number: Number, unit_seconds: int = 1) -> tuple[int, int | None] | None:
    """Seconds of '45', '30 to 45', 'one and a half' minutes: low, and high for a range."""
    if number.value is None or number.value <= 0:
        return None
    low = int(number.value * unit_seconds)
    return low, (int(number.high * unit_seconds) if number.high is not None else None)


_SIDES = word_set(
    "side sides arm arms leg legs foot knee hip shoulder ankle way direction one wrist elbow glute thigh calf"
)
_EACH = word_set("each every per either")
NOT_SIDES = word_set("round rounds set sets time minute exercise move movement of hand end thing week day")


def each_side_end(stream: Stream, token: int) -> int:
    """The token after an 'each side' that begins at ``token``; ``token`` itself when there is none."""
    i = token + 1 if stream.word(token) in {"on", "for", "to", "with"} else token
    word, after = stream.word(i), stream.word(i + 1)
    if word in _EACH:
        if after in _SIDES:
            return i + 2
        if after in NOT_SIDES or word in {"per", "every"} or stream.number_at(i + 1) is not None:
            return token
        return i + 1
    if word == "both" and after in {"sides", "legs", "arms", "ways"}:
        return i + 2
    if word == "a" and after in {"side", "leg", "arm"} and i == token:
        return i + 2
    return token


def said_words(stream: Stream, low: int, high: int) -> frozenset[str]:
    """The words of tokens ``[low, high)``, cut to the class."""
    return frozenset(stream.text[max(low, 0) : min(high, len(stream))])


def plain(value: Decimal) -> Decimal:
    """``20.0`` as ``20``."""
    return value.to_integral_value() if value == value.to_integral_value() else value


#: What is counted right behind a number, so that the number is no thing by itself.
_COUNTED_NOUNS = word_set(
    "rep second sec minute min hour day week month year time round set move exercise lap way part percent degree inch "
    "metre meter foot mile step breath count point people of more left each kids reps seconds minutes to per other "
    "hundred thousand dollar buck quid pence pound-coin star stars year-old position arm leg hand item side"
)
_NOT_PLURAL = word_set(
    "is was this as us always plus press his its yes does has across this's guys perhaps sometimes bus cross less "
    "unless besides sides hips towards backwards forwards upwards downwards overs folks dumbbells bells kettlebells "
    "weights pounds kilos kgs lbs thanks"
)


def stands_free(stream: Stream, token: int) -> bool:
    """Whether no counted noun follows the number at ``token``: 'the sixteen', not 'the sixteen reps'."""
    if stream.breaks_after(token):
        return True
    after = stream.word(token + 1)
    if stream.number_at(token + 1) is not None:
        return after == "one"
    if after in _COUNTED_NOUNS:
        return False
    return not (after.endswith("s") and "'" not in after and not after.endswith("ss") and after not in _NOT_PLURAL)
