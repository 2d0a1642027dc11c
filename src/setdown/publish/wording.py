"""Doses, loads, sides and finishers of sets in words."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from setdown.measure.units import MassUnit, convert_mass, format_amount
from setdown.model.routine import Load, Set
from setdown.publish.fixed_text import Strings
from setdown.publish.inert import clean_line
from setdown.publish.options import Units

ROUND_TO_S = 5
NO_BREAK = "\u00a0"
BOTH: tuple[MassUnit, MassUnit] = ("lb", "kg")


def tell_seconds(strings: Strings, seconds: float) -> str:
    """``45`` -> ``45 s``, ``120`` -> ``2 min``, ``150`` -> ``2 min 30 s``; ``90`` stays ``90 s``, as the trade says."""
    whole = max(1, round(seconds))
    if whole < 120:
        return strings.say("move.seconds", n=whole)
    minutes, rest = divmod(whole, 60)
    if not rest:
        return strings.say("move.minutes", n=minutes)
    return strings.say("move.minutes_seconds", m=minutes, s=rest)


def tell_amount(strings: Strings, one: Set) -> str:
    """Reps or time of one set; a set without either lasts about as long as it did in the recording."""
    if one.reps is not None:
        if one.reps.to_failure:
            return strings.say("move.max")
        return strings.count("move.reps", one.reps.hi or 0, shown=str(one.reps).replace("-", "–"))
    if one.work_s is not None:
        return tell_seconds(strings, one.work_s)
    lasted = max(ROUND_TO_S, ROUND_TO_S * round((one.end - one.start) / ROUND_TO_S))
    return strings.say("move.about", time=tell_seconds(strings, lasted))


def tell_dose(strings: Strings, sets: Sequence[Set]) -> str:
    """Reps or time of one pass with its sides: ``10 reps each side, left first``."""
    amounts = list(dict.fromkeys(tell_amount(strings, one) for one in sets))
    if len(sets) == 2:
        first = strings.say("move.left_first" if sets[0].side == "left" else "move.right_first")
        if len(amounts) == 1:
            return strings.join_list([strings.say("move.each", dose=amounts[0]), first])
        return strings.say("move.then").join(
            f"{tell_amount(strings, one)} {strings.say(f'move.{one.side}_only')}" for one in sets
        )
    one = sets[0]
    if one.side == "each":
        return strings.say("move.each", dose=amounts[0])
    if one.side is not None:
        return strings.join_list([amounts[0], strings.say(f"move.{one.side}_only")])
    return amounts[0]


def sum_up_doses(strings: Strings, passes: Sequence[Sequence[Set]]) -> str:
    """``3 × 10 reps``; ``12 reps, 10 reps, 8 reps`` where they differ."""
    doses = [tell_dose(strings, sets) for sets in passes]
    if len(set(doses)) == 1:
        return doses[0] if len(doses) == 1 else strings.say("move.times", n=len(doses), dose=doses[0])
    return strings.say("move.then").join(doses) if len(doses) <= 4 else strings.join_list(list(dict.fromkeys(doses)))


def tell_load(strings: Strings, load: Load | None, units: Units) -> str:
    """``12 lb each hand``; empty where there is none, ``lighter`` where no number was said."""
    if load is None or (load.value is None and load.rel is None):
        return ""
    if load.value is None:
        return strings.say(f"load.{load.rel}")
    text = tell_weight(strings, load.value, load.unit, units)
    return f"{text} {strings.say(f'load.{load.basis}')}" if load.basis else text


def tell_weight(strings: Strings, value: Decimal, unit: str | None, units: Units) -> str:
    """A weight in the unit that it was said in, or in the one asked for (a tenth is as near as anybody can load)."""
    if unit is None:
        return format_amount(Fraction(value), 1)
    if unit == "pct1rm":
        return strings.say("load.share", value=format_amount(Fraction(value), 1))
    mass: MassUnit = "lb" if unit == "lb" else "kg"
    told: dict[str, str] = {to: format_amount(convert_mass(value, mass, to), 1) for to in BOTH}
    if units == "both":
        return strings.say("load.both", lb=told["lb"], kg=told["kg"]).replace(" ", NO_BREAK)
    shown = unit if units == "said" else units
    return strings.say("load.single", value=told[shown], unit=strings.say(f"load.{shown}")).replace(" ", NO_BREAK)


def sum_up_loads(strings: Strings, passes: Sequence[Sequence[Set]], units: Units) -> str:
    """The loads of a move over its passes: once where they agree, else in order with an arrow between."""
    told = [text for sets in passes if (text := _tell_loads(strings, sets, units))]
    runs = [text for at, text in enumerate(told) if at == 0 or text != told[at - 1]]
    for basis in ("per_hand", "total"):
        ending = " " + strings.say(f"load.{basis}")
        if all(text.endswith(ending) for text in runs):  # said once, after the last
            return " → ".join(text.removesuffix(ending) for text in runs) + ending if runs else ""
    return " → ".join(runs)


def tell_finisher(strings: Strings, passes: Sequence[Sequence[Set]], by_round: bool = True) -> str:
    """What ends the passes, and which of them; empty when nothing does."""
    found: dict[str, list[int]] = {}
    for number, sets in enumerate(passes, 1):
        for finisher in filter(None, (one.finisher for one in sets)):
            rounds = found.setdefault(finisher.kind, [])
            rounds += [number] if number not in rounds else []
    told = []
    for kind, rounds in found.items():
        text = strings.say(f"move.{kind}")
        if len(passes) > 1 and by_round:
            if len(rounds) == len(passes):
                text = strings.say("move.finisher_every", finisher=text)
            elif rounds == [len(passes)]:
                text = strings.say("move.finisher_last", finisher=text)
            else:
                text = strings.say("move.finisher_round", finisher=text, n=strings.join([str(n) for n in rounds]))
        told.append(text)
    return strings.join_list(told)


def tell_name(one: Set) -> str:
    """The name of a set's movement as a heading writes it."""
    name = clean_line(one.exercise.name)
    return name[:1].upper() + name[1:]


def _tell_loads(strings: Strings, sets: Sequence[Set], units: Units) -> str:
    told = [text for one in sets if (text := tell_load(strings, one.load, units))]
    return strings.say("move.then").join(dict.fromkeys(told))
