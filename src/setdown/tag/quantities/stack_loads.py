"""What a machine or a cable lifts: where the pin of its stack is put."""

from __future__ import annotations

from setdown.tag.quantities.build import plain
from setdown.tag.quantities.loads import HEAVIEST, unit_beside
from setdown.tag.quantities.pattern import Draft, Match, Rule
from setdown.tag.quantities.values import LoadSaid


def _pin(match: Match) -> Draft | None:
    number = match.numbers[0]
    if number.value is None or not 2 <= number.value <= HEAVIEST or number.form.startswith("count"):
        return None
    return Draft("load", LoadSaid(plain(number.value), unit_beside(match.stream, match.tokens[0])))


_U = "[@lb|@kg]"

RULES = (
    Rule(
        "pin on forty",
        (
            f"(pin|pins) [is|goes|stays|back|down|up|it] (on|in|at|to|into|under) [the|a] {{#}} {_U}",
            f"(pin|pins) (down|up|is|back) {{#}} {_U}",
        ),
        _pin,
        0.95,
    ),
    Rule(
        "stack at forty",
        (
            f"(stack|machine|cable|cables|pulley|deck|tower) (on|at|to|is on|set to|is at|is set to) {{#}} {_U}",
            f"{{# {_U}}} on the (stack|machine|cable|pulley|pin)",
        ),
        _pin,
        0.95,
    ),
)
