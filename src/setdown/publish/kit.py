"""What to fetch before starting, with what the instructor used of it."""

from __future__ import annotations

from fractions import Fraction

from setdown.lexicon import Lexicon
from setdown.measure.units import convert_mass
from setdown.model.routine import Equipment, Load, Routine
from setdown.publish.fixed_text import Strings
from setdown.publish.inert import clean_line
from setdown.publish.options import Units
from setdown.publish.wording import tell_load, tell_weight


def list_kit(routine: Routine, lexicon: Lexicon, strings: Strings, units: Units) -> list[str]:
    """One line for each piece: the ones that were spoken of, then those that a named move cannot do without."""
    instructor = clean_line(routine.source.instructor) or strings.say("kit.instructor")
    lines = [_tell_piece(piece, strings, units, instructor) for piece in routine.equipment]
    known = {piece.id for piece in routine.equipment}
    needing: dict[str, list[str]] = {}
    for _, _, one in routine.iter_sets():
        movement = lexicon.movements.get(one.exercise.id)
        # A movement with one piece of kit and that piece in its name: no alternative to it.
        if movement and len(movement.kit) == 1 and movement.kit[0] not in known:
            kit = lexicon.kit.get(movement.kit[0])
            if kit and kit.name in movement.name and movement.name not in needing.setdefault(kit.name, []):
                needing[kit.name].append(movement.name)
    lines += [
        strings.say("kit.usual", name=_capital(name), moves=strings.join(moves)) for name, moves in needing.items()
    ]
    return lines


def _tell_piece(piece: Equipment, strings: Strings, units: Units, instructor: str) -> str:
    name = clean_line(piece.name)
    loads = [load for load in piece.loads if load.value is not None]
    if piece.count is not None and piece.count != 2:
        name = strings.say("kit.count", n=piece.count, name=name if piece.count == 1 else strings.plural(name))
    elif piece.count == 2 or any(load.basis == "per_hand" for load in loads):
        several = len({(load.value, load.unit) for load in loads if load.basis == "per_hand"}) > 1
        name = strings.plural(name) if several else strings.say("kit.pair", name=strings.plural(name))
    if not loads:
        return _capital(name)
    return strings.say("kit.used", name=_capital(name), instructor=instructor, loads=_tell_loads(loads, strings, units))


def _tell_loads(loads: list[Load], strings: Strings, units: Units) -> str:
    told = []
    for basis in ("per_hand", "total", None):
        mine = sorted((load for load in loads if load.basis == basis), key=_weigh)
        if len({load.unit for load in mine}) == 1 and len(mine) > 1 and units != "both":
            # '8, 10 and 12 lb each hand': the unit stands once, after the last.
            weights = [tell_weight(strings, load.value, load.unit, units) for load in mine if load.value is not None]
            unit = weights[-1].partition("\u00a0")[2]
            bare = [w.removesuffix(f"\u00a0{unit}") for w in weights[:-1]]
            told.append(strings.join([*bare, tell_load(strings, mine[-1], units)]))
        else:
            told += [tell_load(strings, load, units) for load in mine]
    return strings.join(told)


def _weigh(load: Load) -> tuple[str, Fraction]:
    value = Fraction(load.value or 0)
    return ("mass", convert_mass(value, load.unit, "kg")) if load.unit in ("lb", "kg") else (load.unit or "", value)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
