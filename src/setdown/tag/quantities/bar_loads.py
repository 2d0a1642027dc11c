"""What is on the bar: plates on each end, the total, the bar itself."""

from __future__ import annotations

from decimal import Decimal

from setdown.tag.number_words import word_set
from setdown.tag.quantities.build import plain, stands_free, whole
from setdown.tag.quantities.loads import HEAVIEST, KG, LB, unit_beside
from setdown.tag.quantities.pattern import Draft, Match, Rule
from setdown.tag.quantities.values import BarSaid, LoadSaid, Other

LIGHTEST_BAR_LOAD = 15
LEAST_TOLD = 30
_LOADING = word_set("barbell plates collars rack")
_BAR = word_set("bar barbell barbells plates collars")
#: Plates by their slang name, in pounds, and the big plate in kilos. Common practice in gyms, no source.
SLANG_PLATES = {
    "plate": 45,
    "plates": 45,
    "quarter": 25,
    "quarters": 25,
    "dime": 10,
    "dimes": 10,
    "nickel": 5,
    "nickels": 5,
}
BIG_PLATE_KG = Decimal(20)


def _on_each_end(match: Match) -> Draft | None:
    value = match.numbers[0].value
    if value is None or not 0 < value <= 100 or not match.stream.said & _BAR:
        return None
    unit = unit_beside(match.stream, match.tokens[0])
    return Draft("load", LoadSaid(plain(value), unit, "total", per_side_plates=True))


def _several_on_each_end(match: Match) -> Draft | None:
    """'two twenties a side': so many plates of one size."""
    count, value = whole(match.numbers[0]), match.numbers[1].value
    if count is None or value is None or not 2 <= count <= 6 or not 0 < value <= 50 or not match.stream.said & _BAR:
        return None
    return Draft("load", LoadSaid(plain(count * value), None, "total", per_side_plates=True))


def _put_on_bar(match: Match) -> Draft | None:
    """'fives on', where the class loads a bar: one on each end, as nobody loads one end alone."""
    value = match.numbers[0].value
    if value is None or not 1 <= value <= 50 or not match.stream.said & {"barbell", "plates", "collars", "bar"}:
        return None
    return Draft("load", LoadSaid(plain(value), None, "total", per_side_plates=True))


def _slang_plates(match: Match) -> Draft | None:
    """'a plate a side', 'two dimes a side': worth their pounds unless the class speaks in kilos."""
    stream = match.stream
    if not stream.said & (_BAR | {"bench"}):
        return None
    total = Decimal(0)
    for token in range(match.start, match.end):
        worth = SLANG_PLATES.get(match.word(token))
        if worth is not None:
            number = stream.number_at(token - 1) if token > match.start else None
            total += worth * (whole(number) or 1 if number is not None and number.form == "cardinal" else 1)
    if stream.said & KG and not stream.said & LB:
        big = BIG_PLATE_KG if total == SLANG_PLATES["plate"] else None
        return Draft("load", LoadSaid(big, "kg", "total", per_side_plates=True))
    return Draft("load", LoadSaid(total, "lb", "total", per_side_plates=True))


def _bar_alone(match: Match) -> Draft:
    return Draft("load", LoadSaid(Decimal(0), None, "total", per_side_plates=True, implements=1))


def _on_the_bar(match: Match) -> Draft | None:
    value = match.numbers[-1].value
    if value is None or not LIGHTEST_BAR_LOAD <= value <= HEAVIEST or not match.stream.said & _BAR:
        return None
    unit = unit_beside(match.stream, match.tokens[-1])
    return Draft("load", LoadSaid(plain(value), unit, "total", implements=1))


def _told_total(match: Match) -> Draft | None:
    """'so that's ninety five', where plates are put on a bar; other words than these count and ask too."""
    value = match.numbers[-1].value
    if value is None or value < LEAST_TOLD or value % Decimal("2.5") or not match.stream.said & _LOADING:
        return None
    if not stands_free(match.stream, match.tokens[-1]) and match.word(match.end - 1) not in LB | KG:
        return None
    return _on_the_bar(match)


def _bar_weight(match: Match) -> Draft | None:
    value = match.numbers[-1].value
    if value is None or not 5 <= value <= 60:
        return None
    unit = unit_beside(match.stream, match.tokens[-1])
    end = match.end + (match.word(match.end) in LB | KG)
    return Draft("bar", BarSaid(plain(value), "lb" if unit == "lb" else "kg" if unit == "kg" else None), end=end)


def _plate_name(match: Match) -> Draft:
    return Draft("other", Other("plate_name", match.numbers[-1].value))


_SIDE = "(@each|a|on each|on the|on either) @end"

RULES = (
    Rule(
        "ten a side on the bar",
        (
            "[bar plus|plus] [a|an] (#|#s) [@lb|@kg|more] (@each|a) @end",
            "[a|an] (#|#s) [@lb|@kg] [more] on (each|either|every|both) @end",
            "(put|stick|add|throw|slap|slide|load|whack) {[a|an|another] (#|#s) [@lb|@kg] [more] on (each|both) @end}",
            "[a|an] # [@lb|@kg|more] aside",
            "(bar|plus) plus #",
        ),
        _on_each_end,
        0.9,
    ),
    Rule("two twenties a side", ("# #s (@each|a|on each|on either) @end",), _several_on_each_end, 0.92),
    Rule(
        "fives on",
        (
            "(put|stick|throw|slap|slide|add|whack) [the|your|those|another|a|an] {(#s|#) on} (that|so|now|then|and)",
            "{#s on} (that|so) (makes|that's|that|it's)",
            "(on with the|on with your) {#s}",
        ),
        _put_on_bar,
        0.9,
    ),
    Rule(
        "a plate a side",
        (f"[a|one|another|#] @plates [and [a|#] @plates] {_SIDE}", "[a|one] plate and [a|#] @plates"),
        _slang_plates,
        0.86,
    ),
    Rule(
        "a plate's a forty five",
        ("[a|the] (plate's|quarter's|dime's|nickel's) [a] {#}", "[a] @plates is a {#}"),
        _plate_name,
        0.9,
    ),
    Rule(
        "bar's forty five",
        ("(bar's|barbell's) [a] {#}", "(bar|barbell) (is|weighs|weighs in at|comes in at) [a|@about] {#}"),
        _bar_weight,
        0.92,
    ),
    Rule("empty bar", ("[the|an|your] empty (bar|barbell)", "just the bar"), _bar_alone, 0.85),
    Rule(
        "ninety five on the bar",
        ("# [@lb|@kg] on the bar", "[total|so] {#} [@lb|@kg] (total|all up|altogether|all in)"),
        _on_the_bar,
        0.92,
    ),
    Rule(
        "that makes ninety five",
        ("(makes|total|that's|now|it's|so|at) [it|it's|that's|a|your] {#} [@lb|@kg]",),
        _told_total,
        0.74,
    ),
    Rule("that's your hundred", ("that's (your|our|the) {#}",), _told_total, 0.9),
)
